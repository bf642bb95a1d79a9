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
import { fieldLabel } from "../../src/plots/fields.js";
import { colours } from "../../src/plots/style.js";
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
  shares: sharesFigure(counts, budget.mainPath, { logarithmic: true, limit: 0.01 }),
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

describe("labels and colours", () => {
  it("name known fields in their own unit, and others by their last word", () => {
    expect(fieldLabel("bonds.length")).toEqual({ title: "bond length (mm)", factor: 1e3 });
    expect(fieldLabel("loads.2.power")).toEqual({ title: "loads 2 power (nW)", factor: 1e9 });
  });

  it("stay apart for the common kinds of colour blindness", () => {
    // Brettel, Viénot and Mollon, J. Opt. Soc. Am. A 14, 2647 (1997), in the one-plane form of
    // Viénot, Brettel and Mollon, Color Res. Appl. 24, 243 (1999) for red and green blindness.
    const simulate = {
      red: (r: number, g: number, b: number) => [
        0.11238 * r + 0.88762 * g,
        0.11238 * r + 0.88762 * g,
        0.00401 * r - 0.00401 * g + b,
      ],
      green: (r: number, g: number, b: number) => [
        0.29275 * r + 0.70725 * g,
        0.29275 * r + 0.70725 * g,
        -0.02234 * r + 0.02234 * g + b,
      ],
    };
    const linear = (hex: string) =>
      [1, 3, 5].map((at) => (Number.parseInt(hex.slice(at, at + 2), 16) / 255) ** 2.2);
    for (const see of Object.values(simulate)) {
      const seen = colours.map((hex) => {
        const [r, g, b] = linear(hex);
        return see(r!, g!, b!).map((c) => Math.max(0, c) ** (1 / 2.2));
      });
      seen.forEach((a, i) => {
        seen.slice(i + 1).forEach((b, j) => {
          const distance = Math.hypot(...a.map((c, k) => c - b[k]!));
          expect(distance, `${colours[i]} and ${colours[i + 1 + j]}`).toBeGreaterThan(0.08);
        });
      });
    }
  });
});

describe("the sizing in print", () => {
  it("says the number, what governs and what one change would do", () => {
    const text = sizeBonds(mount).toText();
    expect(text).toMatch(/^\d+ bonds hold the limit/);
    expect(text).toMatch(/pads twice as thick\s+\d+/);
    expect(sizeBonds(mount).toMarkdown()).toContain("| one change | bonds needed |");
  });
});
