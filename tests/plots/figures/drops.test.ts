import { describe, expect, it } from "vitest";
import { dropsFigure, thermalBudget } from "../../../src/index.js";
import { budgetOf, openMount, read } from "../read.js";

const budget = budgetOf();

describe("the figure of the drops", () => {
  it("has steps from the chip's rise down to the stage, end to start", () => {
    const steps = read(dropsFigure(budget))
      .traces.flatMap(({ x, base }) => x.map((drop, i) => [base[i]!, base[i]! + drop] as const))
      .sort((a, b) => b[1] - a[1]);
    expect(steps[0]![1]).toBeCloseTo(1e3 * budget.chip.rise, 3);
    expect(steps.at(-1)![0]).toBeCloseTo(0, 3);
    steps.slice(1).forEach(([, top], i) => {
      expect(top).toBeCloseTo(steps[i]![0], 3);
    });
  });

  it("sets the largest drop apart, by hatching too", () => {
    const { traces } = read(dropsFigure(budget));
    expect(traces[1]!.x).toEqual([Math.max(...traces.flatMap(({ x }) => x))]);
    expect(traces[1]).toMatchObject({ marker: { pattern: { shape: "/" } } });
    expect(traces[0]).not.toHaveProperty("marker.pattern");
  });

  it("says its unit, how many stand side by side, and the limit where there is one", () => {
    const { x, yaxis, notes, shapes } = read(dropsFigure(budget));
    expect(x).toBe("above the stage at 110.0 mK (mK)");
    expect(yaxis.categoryarray).toContain(
      `bonds (${budget.mainPath.find((e) => e.name === "bonds")!.count})`,
    );
    expect(notes.at(-1)).toBe("limit");
    expect(shapes[0]!.x0).toBeCloseTo(1e3 * (budget.limit! - budget.stage), 9);
    const open = read(dropsFigure(thermalBudget(openMount())));
    expect([open.shapes, open.notes.includes("limit")]).toEqual([[], false]);
  });
});
