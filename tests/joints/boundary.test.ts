import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { boundary, boundaryCoefficient, diffuseMismatch } from "../../src/joints/boundary.js";
import { catalogue, law } from "./hand-made.js";

const table = catalogue({
  "joints/boundary": [law("film on sapphire", "boundary", "", { boundary_resistance: 0.002 })],
});
const area = "4 mm^2";

describe("boundary", () => {
  test("carries S(T₁⁴ − T₂⁴)/(4r)", () => {
    const given = boundary({ resistance: 18e-4, area }, table);
    expect(given.powers).toEqual([{ coefficient: 4e-6 / (4 * 18e-4), exponent: 4 }]);
  });

  test("between two materials is their diffuse mismatch, with a range and both sources", () => {
    const computed = boundary({ between: ["metal", "crystal"], area, count: 2 }, table);
    const perArea = diffuseMismatch(
      { longitudinal: 3390, transverse: 1290 },
      { longitudinal: 10890, transverse: 6450 },
    );
    expect(computed.powers![0]!.coefficient).toBeCloseTo(2 * 4e-6 * perArea, 12);
    expect(computed.ranges).toEqual([
      { from: 0, to: 30, of: "metal on crystal: diffuse mismatch", outside: "warn" },
    ]);
    expect(computed.provenance!.map((each) => each.quantity)).toEqual([
      "metal: speeds",
      "crystal: speeds",
      "boundary: area",
      "boundary: count",
    ]);
  });

  test("that was measured is taken from the table", () => {
    const measured = boundary({ measured: "film on sapphire", area }, table);
    expect(measured.conductance(1)).toBeCloseTo(4e-6 / 0.002, 14);
    expect(measured.ranges).toHaveLength(1);
  });

  test.each([
    [
      { resistance: 1 },
      'face.area: expected an area such as "4 mm^2" or a number in square metres',
    ],
    [
      { area },
      'face: expected an object with one of between, measured, resistance, got {"area":"4 mm^2"}',
    ],
    [
      { area, resistance: 1, measured: "x" },
      'face: expected only one of between, measured, resistance, got "measured and resistance"',
    ],
    [
      { area, resistance: 0 },
      'face.resistance: expected a boundary resistance times T³ such as "20 cm^2 K^4/W" or a number in m^2 K^4/W, greater than 0, got 0',
    ],
    [
      { area, between: ["metal"] },
      'face.between: expected the names of two materials, got ["metal"]',
    ],
    [
      { area, between: ["metal", "cristal"] },
      'face.between[1]: material "cristal" is not known, did you mean "crystal"?',
    ],
    [
      { area, measured: "film" },
      'face.measured: boundary "film" is not known. Known: film on sapphire',
    ],
  ])("refuses %j", (options, message) => {
    expect(() => boundary(options as never, table, "face")).toThrow(message);
  });
});

describe("diffuseMismatch", () => {
  const speeds = fc.record({
    longitudinal: fc.double({ min: 1000, max: 2e4, noNaN: true }),
    transverse: fc.double({ min: 500, max: 1e4, noNaN: true }),
  });

  test("is the same from either side, and below what either side can send", () => {
    fc.assert(
      fc.property(speeds, speeds, (a, b) => {
        const flow = diffuseMismatch(a, b);
        expect(diffuseMismatch(b, a) / flow).toBeCloseTo(1, 12);
        expect(flow).toBeLessThan(2.000001 * diffuseMismatch(a, a));
        expect(flow).toBeLessThan(2.000001 * diffuseMismatch(b, b));
      }),
      { seed: 3 },
    );
  });
});

test("boundaryCoefficient inverts the resistance", () => {
  expect(boundaryCoefficient(0.25, 2)).toBe(2);
});
