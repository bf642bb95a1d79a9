import { describe, expect, test } from "vitest";
import {
  constriction,
  radialSpreading,
  sheetFactor,
  sheetToEdges,
} from "../../src/joints/spreading.js";
import { catalogue } from "./hand-made.js";

/** Hottest and mean value of ∇²u = −1 on 1 × b with cold edges, by finite differences. */
function finiteDifferences(b: number, n: number): { hottest: number; mean: number } {
  const h = 1 / n;
  const rows = Math.round(b * n);
  const u = Array.from({ length: n + 1 }, () => new Float64Array(rows + 1));
  const overrelaxation = 2 / (1 + Math.sin(Math.PI / n));
  for (let sweep = 0; sweep < 20 * rows; sweep++) {
    for (let i = 1; i < n; i++) {
      for (let j = 1; j < rows; j++) {
        const next = (u[i - 1]![j]! + u[i + 1]![j]! + u[i]![j - 1]! + u[i]![j + 1]! + h * h) / 4;
        u[i]![j]! += overrelaxation * (next - u[i]![j]!);
      }
    }
  }
  const sum = u.reduce((total, row) => total + row.reduce((s, each) => s + each, 0), 0);
  return { hottest: u[n / 2]![rows / 2]! / b, mean: (sum * h * h) / b / b };
}

describe("sheetFactor", () => {
  test.each([1, 1.5, 3])("agrees with finite differences at an aspect of %s", (aspect) => {
    const numeric = finiteDifferences(aspect, 40);
    expect(sheetFactor(aspect, "hottest") / numeric.hottest).toBeCloseTo(1, 2);
    expect(sheetFactor(aspect, "mean") / numeric.mean).toBeCloseTo(1, 2);
  });

  test("is the same whichever side is called the length", () => {
    expect(sheetFactor(0.25, "hottest")).toBe(sheetFactor(4, "hottest"));
    expect(sheetFactor(0.25, "mean")).toBe(sheetFactor(4, "mean"));
  });

  test("of a long sheet is that of a strip cooled at two sides: a/8b at most, a/12b on average", () => {
    expect(sheetFactor(1000, "hottest")).toBeCloseTo(1 / 8000, 12);
    expect(sheetFactor(1e5, "mean") * 1e5).toBeCloseTo(1 / 12, 5);
  });
});

describe("sheetToEdges", () => {
  test("is thickness over the factor, times the integral of the conductivity", () => {
    const sheet = {
      material: "metal",
      length: "2 cm",
      width: "2 cm",
      thickness: "0.5 mm",
    } as const;
    const hottest = sheetToEdges(sheet, catalogue()).conductance(1);
    expect(hottest / ((2 * 0.5e-3) / 0.0736713)).toBeCloseTo(1, 5);
    expect(sheetToEdges({ ...sheet, place: "mean" }, catalogue()).conductance(1)).toBeGreaterThan(
      2 * hottest,
    );
  });

  test("refuses another place", () => {
    const sheet = { material: "metal", length: 1, width: 1, thickness: 1, place: "corner" };
    expect(() => sheetToEdges(sheet as never, catalogue(), "die")).toThrow(
      'die.place: expected "hottest" or "mean", got "corner"',
    );
  });
});

describe("radialSpreading", () => {
  const foot = {
    material: "metal",
    thickness: "1 um",
    innerRadius: "20 um",
    outerRadius: "2 mm",
    count: 2,
  } as const;

  test("is 2πt/ln(r₂/r₁) times the integral of the conductivity", () => {
    expect(radialSpreading(foot, catalogue()).conductance(1)).toBeCloseTo(
      (2 * 2 * 2 * Math.PI * 1e-6) / Math.log(100),
      15,
    );
    const unit = { material: "metal", thickness: 1, innerRadius: 1, outerRadius: Math.E };
    expect(radialSpreading(unit, catalogue()).conductance(1)).toBeCloseTo(4 * Math.PI, 12);
  });

  test("refuses an outer radius inside the inner one", () => {
    expect(() => radialSpreading({ ...foot, outerRadius: "10 um" }, catalogue(), "film")).toThrow(
      'film.outerRadius: expected a length above the inner radius (20.0 µm), got "10 um"',
    );
  });
});

describe("constriction", () => {
  test("is four radii times the integral of the conductivity", () => {
    const spot = constriction({ material: "metal", radius: "0.1 mm" }, catalogue());
    expect(spot.conductance(1)).toBeCloseTo(2 * 4e-4, 15);
  });

  test("refuses a radius that is none", () => {
    expect(() => constriction({ material: "metal", radius: 0 }, catalogue(), "spot")).toThrow(
      'spot.radius: expected a length such as "25 um" or a number in metres, greater than 0, got 0',
    );
  });
});
