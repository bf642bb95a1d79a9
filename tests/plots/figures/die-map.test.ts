import { describe, expect, it } from "vitest";
import { dieCutFigure, dieMapFigure, thermalBudget } from "../../../src/index.js";
import { budgetOf, coarseMount, read } from "../read.js";

const budget = thermalBudget(coarseMount());

describe("the map of the die", () => {
  it("shows the rise of each cell, in millikelvin over millimetres", () => {
    const { traces, x, y } = read(dieMapFigure(budget));
    const { grid, temperatures } = budget.field!;
    expect([x, y]).toEqual(["x (mm)", "y (mm)"]);
    expect(traces[0]!.x).toHaveLength(grid.cellsX);
    expect(traces[0]!.z[3]![5]).toBeCloseTo(
      1e3 * (temperatures[3 * grid.cellsX + 5]! - budget.stage),
      2,
    );
  });

  it("outlines what touches the die and marks the hottest point", () => {
    const { traces } = read(dieMapFigure(budget));
    const { hottest } = budget.field!;
    const names = traces.slice(1).map(({ name }) => name);
    expect(names[0]).toMatch(/^pads, \d+ bonds$/);
    expect(names.at(-1)).toMatch(/^hottest, [\d.]+ mK$/);
    expect(traces.at(-1)!.x[0]).toBeCloseTo(1e3 * hottest.x, 3);
    const [length] = [1e3 * budget.field!.grid.length];
    for (const place of traces.slice(1).flatMap((trace) => trace.y)) {
      if (place !== null) expect(place >= 0 && place <= length * 1.0001).toBe(true);
    }
  });

  it("is refused for a die of few nodes, which says what to change", () => {
    expect(() => dieMapFigure(budgetOf())).toThrow(
      "a map needs the die in 2-D; leave out die.model",
    );
  });
});

describe("a cut along x", () => {
  it("passes through the hottest point", () => {
    const { traces, x, y } = read(dieCutFigure([budget]));
    expect(Math.max(...(traces[0]!.y as number[]))).toBeCloseTo(
      1e3 * (budget.field!.hottest.temperature - budget.stage),
      1,
    );
    expect([x, y]).toEqual(["x, through the hottest point (mm)", "rise above the stage (mK)"]);
  });
});
