import { describe, expect, test } from "vitest";
import { glue } from "../../src/joints/glue.js";
import { catalogue, law } from "./hand-made.js";

const table = catalogue({
  "joints/glue": [
    law("resin", "per_area", "spot", { conductance_per_area: 1000, temperature_exponent: 3 }),
    law("varnish", "layer", "thin", {
      boundary_resistance: 0.002,
      bulk_conductivity: 0.03,
      bulk_exponent: 2,
    }),
  ],
});

describe("glue", () => {
  test("of a law per area is area times that law", () => {
    const spots = glue({ glue: "resin", area: "2 mm^2", count: 9 }, table);
    expect(spots.conductance(0.1)).toBeCloseTo(9 * 2e-6 * 1000 * 1e-3, 14);
    expect(spots.powers).toHaveLength(1);
  });

  test("of a layer puts two boundaries and the bulk end to end", () => {
    const layer = glue({ glue: "varnish", area: "1 mm^2", thickness: "20 um" }, table);
    const T = 0.2;
    const [face, bulk] = [(1e-6 * T ** 3) / 0.002, (0.03 * T ** 2 * 1e-6) / 20e-6];
    expect(layer.conductance(T) / (1 / (2 / face + 1 / bulk))).toBeCloseTo(1, 12);
    expect(layer.ranges).toHaveLength(1);
    expect(layer.provenance!.map((each) => each.quantity)).toContain("glue: thickness");
  });

  test("of a thin layer at low temperature is its boundaries alone", () => {
    const layer = glue({ glue: "varnish", area: "1 mm^2", thickness: "0.1 um" }, table);
    expect(layer.conductance(0.02) / ((1e-6 * 0.02 ** 3) / 0.004)).toBeCloseTo(1, 3);
  });

  test("of a material is its bulk, with boundaries where they are given", () => {
    const bare = { material: "metal", area: "1 mm^2", thickness: "10 um" } as const;
    expect(glue(bare, table).conductance(0.1)).toBeCloseTo((2 * 0.1 * 1e-6) / 1e-5, 12);
    const faces = glue({ ...bare, boundaryResistance: 0.002 }, table).conductance(0.1);
    expect(faces / ((1e-6 * 1e-3) / 0.004)).toBeCloseTo(1, 3);
  });

  test.each([
    [{ glue: "resin" }, 'spot.area: expected an area such as "4 mm^2"'],
    [
      { glue: "varnish", area: 1e-6 },
      'spot.thickness: expected a length such as "25 um" or a number in metres, got undefined',
    ],
    [{ area: 1e-6 }, 'spot: expected an object with one of glue, material, got {"area":0.000001}'],
    [
      { glue: "resin", material: "metal", area: 1e-6 },
      'spot: expected only one of glue, material, got "glue and material"',
    ],
    [
      { glue: "resine", area: 1e-6 },
      'spot.glue: glue "resine" is not known, did you mean "resin"? Known: resin, varnish',
    ],
    [
      { material: "metal", area: 1e-6, thickness: 1e-5, boundaryResistance: -1 },
      'spot.boundaryResistance: expected a boundary resistance times T³ such as "20 cm^2 K^4/W" or a number in m^2 K^4/W, greater than 0, got -1',
    ],
  ])("refuses %j", (options, message) => {
    expect(() => glue(options as never, table, "spot")).toThrow(message);
  });
});

test("its power is the integral of the law of one spot", () => {
  const { powers } = glue({ glue: "resin", area: 1e-6 }, table);
  expect(powers).toEqual([{ coefficient: 0.00025, exponent: 4 }]);
});
