import { describe, expect, it } from "vitest";
import { dropsFigure, thermalBudget } from "../../../src/index.js";
import { elementLooks } from "../../../src/plots/elements.js";
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

  it("names the largest drop, and gives each element its own colour and pattern", () => {
    const { traces, notes } = read(dropsFigure(budget));
    const largest = traces.findIndex(({ x }) => x[0] === Math.max(...traces.flatMap((t) => t.x)));
    expect(notes[largest]).toMatch(/^<b>.*, largest<\/b>$/);
    expect(notes.filter((text) => text.includes("largest"))).toHaveLength(1);
    const { colour, pattern } = elementLooks.coupling;
    expect(traces[largest]).toMatchObject({
      marker: { color: colour, pattern: { shape: pattern } },
    });
  });

  it("says its unit, how many stand side by side, and the limit where there is one", () => {
    const { x, yaxis, notes, shapes } = read(dropsFigure(budget));
    expect(x).toBe("rise above the stage at 110.0 mK (mK)");
    expect(yaxis.categoryarray).toContain(
      `bonds (${budget.mainPath.find((e) => e.name === "bonds")!.count})`,
    );
    expect(notes.at(-1)).toBe("limit");
    expect(shapes[0]!.x0).toBeCloseTo(1e3 * (budget.limit! - budget.stage), 9);
    const open = read(dropsFigure(thermalBudget(openMount())));
    expect([open.shapes, open.notes.includes("limit")]).toEqual([[], false]);
  });
});
