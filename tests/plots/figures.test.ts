import { describe, expect, it } from "vitest";
import {
  curvesFigure,
  dropsFigure,
  type Figure,
  mapFigure,
  sharesFigure,
  sizeBonds,
} from "../../src/index.js";
import { budget, counts, map, mount } from "./examples.js";

const figures: Record<string, Figure> = {
  drops: dropsFigure(budget),
  shares: sharesFigure(counts, budget.mainPath, { scale: "logarithmic", limit: 0.01 }),
  curve: curvesFigure(counts, { limit: 0.01, mark: { at: 41, text: "fewest" } }),
  curves: curvesFigure(map),
  map: mapFigure(map, { limit: 0.01, mark: { at: [80, 1.5e-3], text: "as drawn" } }),
};

interface Axis {
  readonly title: { readonly text: string };
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

describe("the sizing in print", () => {
  it("says the number, what governs and what one change would do", () => {
    const text = sizeBonds(mount).toText();
    expect(text.split("\n")[2]).toMatch(/^\d+ bonds meet the limit/);
    expect(text).toMatch(/pads twice as thick\s+\d+/);
    expect(sizeBonds(mount).toMarkdown()).toContain("| one change | bonds needed |");
  });
});
