import { describe, expect, it } from "vitest";
import { qualityFigure } from "../../../src/index.js";
import { budgetOf, read } from "../read.js";

type Resonator = Parameters<typeof qualityFigure>[0];
/** A quality that falls by e in 10 mK, from 1e6 at 0.1 K. */
const resonator = {
  superconductor: { criticalTemperature: 1.2 },
  internalQuality: (T: number) => 1e6 * Math.exp((0.1 - T) / 0.01),
} as Resonator;
const budgets = [budgetOf(), budgetOf({ name: "warmer", stage: "150 mK" })];

describe("the figure of the quality", () => {
  it("marks each case on the curve, at the chip's temperature in millikelvin", () => {
    const { traces, x } = read(qualityFigure(resonator, budgets));
    budgets.forEach(({ name, chip }, i) => {
      const mark = traces[i + 1]!;
      expect(mark.name).toBe(name);
      expect(mark.x[0]).toBeCloseTo(1e3 * chip.temperature, 1);
      expect(mark.y[0]! / resonator.internalQuality(chip.temperature)).toBeCloseTo(1, 3);
    });
    expect(x).toBe("hottest point of the chip (mK)");
  });

  it("ends below the critical temperature", () => {
    const cold = { ...resonator, superconductor: { criticalTemperature: 0.14 } } as Resonator;
    const { traces } = read(qualityFigure(cold, budgets));
    expect(Math.max(...traces[0]!.x)).toBeLessThan(140);
  });

  it("draws the lowest quality factor required, within the axis", () => {
    const { shapes, notes, yaxis } = read(qualityFigure(resonator, budgets, { least: 10 }));
    expect([shapes[0]!.y0, notes]).toEqual([10, ["required"]]);
    expect(yaxis.range[0]).toBeLessThan(1);
    expect(read(qualityFigure(resonator, budgets)).notes).toEqual([]);
  });
});
