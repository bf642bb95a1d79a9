import { describe, expect, it } from "vitest";
import {
  curvesFigure,
  dropsFigure,
  type Figure,
  mapFigure,
  sharesFigure,
  sizeBonds,
  sweep,
  thermalBudget,
} from "../../src/index.js";
import { fieldLabel } from "../../src/plots/figures/fields.js";
import { quickMount } from "../mount/example.js";

const mount = quickMount();
const budget = thermalBudget(mount);
const counts = sweep(mount, {
  field: "bonds.count",
  from: 10,
  to: 300,
  count: 12,
  spacing: "logarithmic",
});
const map = sweep(
  mount,
  { field: "bonds.count", values: [20, 80, 300] },
  { field: "bonds.length", values: ["1 mm", "10 mm"] },
);
const figures: Record<string, Figure> = {
  drops: dropsFigure(budget),
  shares: sharesFigure(counts, budget.mainPath, { scale: "logarithmic", limit: 0.01 }),
  curve: curvesFigure(counts, { limit: 0.01, mark: { at: 41, text: "fewest" } }),
  curves: curvesFigure(map),
  map: mapFigure(map, { limit: 0.01, mark: { at: [80, 1.5e-3], text: "as drawn" } }),
};

interface Axis {
  readonly title: { readonly text: string };
  readonly range?: readonly number[];
}
interface Trace {
  readonly type: string;
  readonly name?: string;
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly z?: readonly (readonly number[])[];
  readonly base?: readonly number[];
}

describe.each(Object.entries(figures))("the figure of %s", (_, figure) => {
  const { xaxis, yaxis } = figure.layout as { readonly xaxis: Axis; readonly yaxis: Axis };

  it("is plain data that survives JSON", () => {
    expect(JSON.parse(JSON.stringify(figure))).toEqual(figure);
    expect(JSON.stringify(figure)).not.toMatch(/NaN|null|Infinity/);
  });

  it("names both axes, with a unit where there is one", () => {
    expect(`${xaxis.title.text} ${yaxis.title.text}`).toMatch(/\((mK|mm)\)/);
    expect(xaxis.title.text).not.toBe("");
    expect(yaxis.title.text).not.toBe("");
  });

  it("says in words what it shows", () => {
    expect(figure.alt.length).toBeGreaterThan(40);
    expect(figure.alt).not.toMatch(/undefined|\d\.\d{6}/);
  });
});

describe("what the figures show", () => {
  it("drops: steps from the chip's rise down to the stage, end to start", () => {
    const steps = (figures.drops!.data as Trace[])
      .flatMap(({ x, base }) => x.map((drop, i) => [base![i]!, base![i]! + drop] as const))
      .sort((a, b) => b[1] - a[1]);
    expect(steps[0]![1]).toBeCloseTo(1e3 * budget.chip.rise, 3);
    expect(steps.at(-1)![0]).toBeCloseTo(0, 3);
    steps.slice(1).forEach(([, top], i) => {
      expect(top).toBeCloseTo(steps[i]![0], 3);
    });
  });

  it("shares: the stack adds up to the rise", () => {
    const traces = figures.shares!.data as Trace[];
    counts.axes[0]!.values.forEach((_, i) => {
      const sum = traces.reduce((total, { y }) => total + y[i]!, 0);
      expect(sum).toBeCloseTo(1e3 * counts.rise(i), 2);
    });
  });

  it("curves: one for each value of the second field, named by it", () => {
    const traces = figures.curves!.data as Trace[];
    expect(traces.map(({ name }) => name)).toEqual(["1", "10"]);
    expect(traces[1]!.y[0]).toBeCloseTo(1e3 * map.rise(0, 1), 3);
  });

  it("map: the first field runs across, the second up", () => {
    const [heat] = figures.map!.data as Trace[];
    expect(heat!.x).toEqual([20, 80, 300]);
    expect(10 ** heat!.z![1]![2]!).toBeCloseTo(1e3 * map.rise(2, 1), 2);
  });
});

describe("scales", () => {
  const axes = (figure: Figure) =>
    figure.layout as Record<"xaxis" | "yaxis", { readonly type?: string }>;

  it("are those asked for, linear by default", () => {
    const scales = ["linear", "logarithmic"] as const;
    expect(axes(mapFigure(map, { scales }))).toMatchObject({ yaxis: { type: "log" } });
    expect(axes(mapFigure(map, { scales })).xaxis.type).toBeUndefined();
    expect(axes(curvesFigure(counts)).xaxis.type).toBeUndefined();
    expect(axes(curvesFigure(counts, { scale: "logarithmic" })).xaxis.type).toBe("log");
  });

  it("must be one of the two", () => {
    expect(() => curvesFigure(counts, { scale: "log" as "linear" })).toThrow(
      'scale: expected "linear" or "logarithmic", got "log"',
    );
  });
});

describe("labels", () => {
  it("name known fields in their own unit, and others by their last word", () => {
    expect(fieldLabel("bonds.length")).toEqual({
      title: "bond length (mm)",
      name: "bond length",
      unit: "mm",
      factor: 1e3,
    });
    expect(fieldLabel("loads.2.power")).toMatchObject({ title: "loads 2 power (nW)", factor: 1e9 });
    expect(fieldLabel("bonds.count")).toMatchObject({ title: "number of bonds", unit: "" });
  });
});

describe("the sizing in print", () => {
  it("says the number, what governs and what one change would do", () => {
    const text = sizeBonds(mount).toText();
    expect(text.split("\n")[2]).toMatch(/^\d+ bonds hold the limit/);
    expect(text).toMatch(/pads twice as thick\s+\d+/);
    expect(sizeBonds(mount).toMarkdown()).toContain("| one change | bonds needed |");
  });
});
