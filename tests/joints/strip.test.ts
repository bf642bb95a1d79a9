import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { heatFlow } from "../../src/conductor.js";
import { strip, stripConductor } from "../../src/joints/strip.js";
import { catalogue, powerConductivity } from "./hand-made.js";

describe("strip", () => {
  test("is area over length times the integral of the conductivity", () => {
    const shapes = [
      { width: "2 mm", thickness: "0.5 mm" },
      { area: "1 mm^2" },
      { diameter: Math.sqrt(4e-6 / Math.PI) },
    ] as const;
    for (const shape of shapes) {
      const one = strip({ material: "metal", length: "10 mm", ...shape }, catalogue());
      expect(heatFlow(one, 0.2, 0.1) / ((1e-6 / 0.01) * (0.04 - 0.01))).toBeCloseTo(1, 12);
    }
  });

  test("gives phonons the smallest dimension as mean free path", () => {
    const plate = {
      material: "crystal",
      length: "10 mm",
      width: "2 mm",
      thickness: "0.5 mm",
    } as const;
    expect(strip(plate, catalogue()).conductance(1)).toBeCloseTo(1e3 * 0.5e-3 * (1e-6 / 0.01), 14);
  });

  test("multiplies by the count and carries ranges and every number", () => {
    const many = strip(
      { material: "metal", length: 0.01, area: 1e-6, count: 3 },
      catalogue(),
      "legs",
    );
    expect(many.conductance(1)).toBeCloseTo(3 * 2e-4, 15);
    expect(many.ranges).toHaveLength(1);
    expect(many.provenance!.map((each) => each.quantity)).toEqual([
      "made-up: conductivity",
      "legs: cross-section",
      "legs: length",
      "legs: count",
    ]);
  });

  test.each([
    [{ material: "metal", area: 1e-6 }, "legs.length: expected a length"],
    [
      { material: "metal", length: 1, area: 1, diameter: 1 },
      'legs: expected one cross-section: diameter, or width and thickness, or area, got "diameter, area"',
    ],
    [{ material: "", length: 1, area: 1 }, 'legs.material: expected a name, got ""'],
    [
      { material: "metal", length: 1, area: 1, count: 0 },
      "legs.count: expected a whole number of at least 1, got 0",
    ],
  ])("refuses %j", (options, message) => {
    expect(() => strip(options as never, catalogue(), "legs")).toThrow(message);
  });

  test("is monotone, antisymmetric and at rest when both ends are equal", () => {
    const one = strip({ material: "limited", length: 0.01, area: 1e-6 }, catalogue());
    const temperature = fc.double({ min: 0.01, max: 10, noNaN: true });
    fc.assert(
      fc.property(temperature, temperature, (a, b) => {
        expect(heatFlow(one, a, b) + heatFlow(one, b, a)).toBe(0);
        expect(heatFlow(one, a, a)).toBe(0);
        if (a > b) expect(heatFlow(one, a, b)).toBeGreaterThanOrEqual(0);
      }),
      { seed: 4 },
    );
  });
});

test("stripConductor keeps up to where the powers hold, and only then", () => {
  expect(stripConductor(powerConductivity(1, 1, 2), 1).powersUpTo).toBe(2);
  expect("powersUpTo" in stripConductor(powerConductivity(1, 1), 1)).toBe(false);
});
