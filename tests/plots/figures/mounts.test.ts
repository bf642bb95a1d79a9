import { describe, expect, it } from "vitest";
import { mountsFigure } from "../../../src/index.js";
import { budgetOf, read } from "../read.js";

const budgets = [budgetOf(), budgetOf({ name: "warmer", stage: "150 mK" })];

describe("mounts side by side", () => {
  it("stack each mount's drops up to its rise", () => {
    const { traces, x, notes } = read(mountsFigure(budgets));
    budgets.forEach(({ chip, mainPath }, b) => {
      // Drops that go the other way are not drawn.
      const drawn = mainPath.reduce((sum, { drop }) => sum + Math.max(0, drop), 0);
      expect(traces.reduce((sum, trace) => sum + trace.x[b]!, 0)).toBeCloseTo(
        1e3 * Math.min(drawn, chip.rise),
        2,
      );
    });
    expect(x).toBe("hottest point above the stage (mK)");
    expect(notes).toHaveLength(2);
  });

  it("cut bars at the longest wanted, break them and say so", () => {
    const longest = 1e-4;
    const { traces, notes, shapes } = read(mountsFigure(budgets, { longest }));
    for (const b of [0, 1]) {
      expect(traces.reduce((sum, { x }) => sum + x[b]!, 0)).toBeCloseTo(0.1, 5);
    }
    expect(notes.every((text) => text.endsWith("mK, bar cut"))).toBe(true);
    // A gap between two lines in each bar, short of its end.
    expect(shapes).toHaveLength(2 * 3);
    expect(shapes.every(({ x0 }) => x0 > 0.05 && x0 < 0.1)).toBe(true);
    expect(new Set(shapes.map(({ y0 }) => Math.round(y0)))).toEqual(new Set([0, 1]));
  });

  it("have the line of a limit only where it is the same for all, and within the figure", () => {
    const same = [budgets[0]!, budgetOf({ name: "again" })];
    expect(read(mountsFigure(same)).notes.at(-1)).toBe("limit");
    expect(read(mountsFigure(budgets)).shapes).toEqual([]);
    expect(read(mountsFigure(same, { longest: 1e-4 })).notes).not.toContain("limit");
  });
});
