import { expect, test } from "vitest";
import { electronPhonon } from "../../src/joints/electron-phonon.js";
import { catalogue } from "./hand-made.js";

test("electronPhonon carries ΣV(T₁⁵ − T₂⁵)", () => {
  const film = { metal: "metal", area: "1 mm^2", thickness: "200 nm" } as const;
  const one = electronPhonon(film, catalogue());
  expect(one.powers![0]!.exponent).toBe(5);
  expect(one.powers![0]!.coefficient).toBeCloseTo(2e9 * 1e-6 * 2e-7, 12);
  expect(electronPhonon({ ...film, count: 4 }, catalogue()).integral(0.1)).toBeCloseTo(
    4 * one.integral(0.1),
    18,
  );
});

test("electronPhonon takes a volume in place of area and thickness", () => {
  const block = electronPhonon({ metal: "metal", volume: 1e-12 }, catalogue(), "pad");
  expect(block.integral(1)).toBeCloseTo(2e-3, 12);
  expect(block.ranges).toHaveLength(1);
  expect(block.provenance!.map((each) => each.quantity)).toEqual([
    "metal: coupling",
    "pad: volume",
  ]);
});

test.each([
  [{ metal: "metal", area: "1 mm^2" }, 'pad.thickness: expected a length such as "25 um"'],
  [
    { metal: "metal", volume: -1 },
    'pad.volume: expected a volume such as "190 mm^3" or a number in cubic metres, greater than 0, got -1',
  ],
  [
    { metal: "mettal", volume: 1 },
    'pad.metal: material "mettal" is not known, did you mean "metal"?',
  ],
])("electronPhonon refuses %j", (options, message) => {
  expect(() => electronPhonon(options as never, catalogue(), "pad")).toThrow(message);
});

test("its coefficient is coupling times volume", () => {
  const block = electronPhonon({ metal: "metal", volume: 1e-15 }, catalogue());
  expect(block.powers![0]!.coefficient).toBeCloseTo(2e-6, 18);
});

test("electronPhonon takes a coupling of your own, of another exponent, and says so", () => {
  const coupling = { coefficient: 3e9, exponent: 6 };
  const film = electronPhonon({ metal: "metal", volume: 1e-15, coupling }, catalogue(), "pad");
  expect(film.integral(0.2)).toBeCloseTo(3e-6 * 0.2 ** 6, 18);
  // It holds wherever its owner uses it.
  expect(film.ranges).toEqual([]);
  expect(film.provenance!.map(({ quantity, value }) => [quantity, value])).toEqual([
    ["pad.coupling: coefficient", 3e9],
    ["pad.coupling: exponent", 6],
    ["pad: volume", 1e-15],
  ]);
});

test.each([3, 8])("a coupling of your own may go as the power %s of temperature", (exponent) => {
  const coupling = { coefficient: 1, exponent };
  const film = electronPhonon({ metal: "metal", volume: 1, coupling }, catalogue());
  expect(film.powers![0]!.exponent).toBe(exponent);
});

test.each([
  [
    { coefficient: 1, exponent: 2.9 },
    "pad.coupling.exponent: expected a number from 3 to 8, got 2.9",
  ],
  [
    { coefficient: 1, exponent: 8.1 },
    "pad.coupling.exponent: expected a number from 3 to 8, got 8.1",
  ],
  [{ coefficient: 1 }, "pad.coupling.exponent: expected a number from 3 to 8, got undefined"],
  [
    { coefficient: 0, exponent: 5 },
    "pad.coupling.coefficient: expected a number in W/(m^3 K^5), greater than 0, got 0",
  ],
])("electronPhonon refuses the coupling %j", (coupling, message) => {
  const options = { metal: "metal", volume: 1, coupling };
  expect(() => electronPhonon(options as never, catalogue(), "pad")).toThrow(message);
});
