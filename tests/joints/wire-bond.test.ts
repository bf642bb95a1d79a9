import { describe, expect, test } from "vitest";
import { wiedemannFranz, wireBond } from "../../src/joints/wire-bond.js";
import { lorenz } from "../../src/units/constants.js";
import { catalogue } from "./hand-made.js";

const bond = { metal: "metal", diameter: "20 um", length: "1 mm" } as const;
const area = (Math.PI * 20e-6 ** 2) / 4;

describe("wireBond", () => {
  test("is cross-section over length times the integral of the conductivity", () => {
    const one = wireBond(bond, catalogue());
    expect(one.powers![0]!.exponent).toBe(2);
    expect(one.powers![0]!.coefficient / (area / 1e-3)).toBeCloseTo(1, 12);
    expect(one.conductance(0.1)).toBeCloseTo(((2 * area) / 1e-3) * 0.1, 15);
  });

  test("of a ribbon takes width times thickness", () => {
    const ribbon = wireBond(
      { metal: "metal", width: "50 um", thickness: "10 um", length: "1 mm" },
      catalogue(),
    );
    expect(ribbon.conductance(1)).toBeCloseTo((2 * 50e-6 * 10e-6) / 1e-3, 15);
  });

  test("adds its two feet as resistances in series, exactly", () => {
    // κ = 2T is a resistivity of L₀/2.
    const wire = ((lorenz / 2) * 1e-3) / area;
    const withFeet = wireBond({ ...bond, footResistance: "10 uohm" }, catalogue());
    expect(withFeet.powers).toHaveLength(1);
    expect(withFeet.powers![0]!.coefficient / (lorenz / (2 * (wire + 20e-6)))).toBeCloseTo(1, 12);
  });

  test("keeps the temperature up to which its power holds, feet or not", () => {
    const limited = { ...bond, metal: "limited" };
    expect(wireBond(limited, catalogue()).powersUpTo).toBe(0.5);
    expect(wireBond({ ...limited, footResistance: 1e-5 }, catalogue()).powersUpTo).toBe(0.5);
  });

  test("multiplies by the count and carries ranges and every number", () => {
    const many = wireBond({ ...bond, count: 12 }, catalogue(), "bonds");
    expect(many.conductance(0.1)).toBeCloseTo(((24 * area) / 1e-3) * 0.1, 14);
    expect(many.ranges).toHaveLength(1);
    expect(many.provenance!.map((each) => [each.quantity, each.source])).toEqual([
      ["made-up: conductivity", "made up for a test"],
      ["bonds: cross-section of a bond", "given"],
      ["bonds: length of a bond", "given"],
      ["bonds: electrical resistance of a foot", "given"],
      ["bonds: count", "given"],
    ]);
  });

  test("gives phonons the smallest dimension as mean free path, or the one that is asked for", () => {
    const crystal = { metal: "crystal", diameter: "20 um", length: "1 mm" } as const;
    const own = wireBond(crystal, catalogue()).conductance(1);
    expect(own).toBeCloseTo((1e3 * 20e-6 * area) / 1e-3, 15);
    const asked = wireBond({ ...crystal, meanFreePath: 4e-5 }, catalogue()).conductance(1);
    expect(asked / own).toBeCloseTo(2, 12);
  });

  const bad = (change: object) => () =>
    wireBond({ ...bond, ...change } as never, catalogue(), "bonds");

  test.each([
    [
      { diameter: "25 mK" },
      'bonds.diameter: expected a length such as "25 um" or a number in metres, got "25 mK"',
    ],
    [
      { diameter: "0 um" },
      'bonds.diameter: expected a length such as "25 um" or a number in metres, greater than 0, got "0 um"',
    ],
    [
      { length: -1 },
      'bonds.length: expected a length such as "25 um" or a number in metres, greater than 0, got -1',
    ],
    [
      { footResistance: "-1 ohm" },
      'bonds.footResistance: expected an electrical resistance such as "2 mohm" or a number in ohms, 0 or more, got "-1 ohm"',
    ],
    [{ count: 1.5 }, "bonds.count: expected a whole number of at least 1, got 1.5"],
    [
      { width: "1 um" },
      'bonds: expected one cross-section: diameter, or width and thickness, or area, got "diameter, width"',
    ],
    [
      { metal: "metall" },
      'bonds.metal: material "metall" is not known, did you mean "metal"? Known: metal, limited, crystal',
    ],
  ])("refuses %j", (change, message) => {
    expect(bad(change)).toThrow(message);
  });

  test("refuses a bond without a cross-section", () => {
    expect(() => wireBond({ metal: "metal", length: "1 mm" }, catalogue(), "bonds")).toThrow(
      'bonds: expected one cross-section: diameter, or width and thickness, or area, got "none of them"',
    );
  });

  test("refuses a ribbon without a thickness", () => {
    expect(() =>
      wireBond({ metal: "metal", width: "50 um", length: "1 mm" }, catalogue(), "bonds"),
    ).toThrow(
      'bonds.thickness: expected a length such as "25 um" or a number in metres, got undefined',
    );
  });
});

test("wiedemannFranz is half the Lorenz number over the resistance", () => {
  expect(wiedemannFranz(1)).toBe(lorenz / 2);
});
