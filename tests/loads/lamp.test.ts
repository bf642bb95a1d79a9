import { expect, test } from "vitest";
import { lamp } from "../../src/loads/lamp.js";
import { planck, speedOfLight } from "../../src/units/constants.js";

test("a lamp heats by its power times the share on the chip times the absorption", () => {
  const load = lamp({ power: "1 uW", shareOnChip: 0.02, absorption: 0.4, pixels: 8 });
  expect(load.power).toBeCloseTo(8e-9, 18);
  expect(load.powerPerPixel).toBeCloseTo(1e-9, 18);
  expect(load.photonRate).toBe(0);
});

test("a laser's photons have hc/λ each", () => {
  const load = lamp({ name: "laser", power: "1 nW", wavelength: "405 nm" });
  expect((load.photonRate * planck * speedOfLight) / 405e-9 / 1e-9).toBeCloseTo(1, 12);
  expect(load.provenance.map(({ quantity }) => quantity)).toContain("lamp: wavelength");
});

test.each([
  [
    { power: "-1 W" },
    'lamp.power: expected a power such as "8 pW" or a number in watts, 0 or more',
  ],
  [{ power: 1, shareOnChip: 1.1 }, "lamp.shareOnChip: expected a number from 0 to 1"],
  [{ power: 1, absorption: -0.1 }, "lamp.absorption: expected a number from 0 to 1, got -0.1"],
  [{ power: 1, wavelength: 0 }, "lamp.wavelength: expected a length"],
  [{ power: 1, pixels: 1.5 }, "lamp.pixels: expected a whole number of at least 1, got 1.5"],
])("a lamp refuses %j", (options, message) => {
  expect(() => lamp(options as never)).toThrow(message);
});
