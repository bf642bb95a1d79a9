import { expect, test } from "vitest";
import { heatFlow, powerConductor, scaledStore } from "../src/conductor.js";

test("heat flows from hot to cold, and as much back when the ends are swapped", () => {
  // 1e-5 · (0.11² − 0.1²)
  const conductor = powerConductor(1e-5, 2);
  expect(heatFlow(conductor, 0.11, 0.1)).toBeCloseTo(2.1e-8, 20);
  expect(heatFlow(conductor, 0.1, 0.11)).toBe(-heatFlow(conductor, 0.11, 0.1));
});

test("a store three times as large takes three times the heat, by its law and by its powers", () => {
  const store = {
    heatCapacity: (T: number) => 2e-9 * T + 4e-9 * T ** 3,
    enthalpy: (T: number) => 1e-9 * T ** 2 + 1e-9 * T ** 4,
    powers: [
      { coefficient: 1e-9, exponent: 2 },
      { coefficient: 1e-9, exponent: 4 },
    ],
    powersUpTo: 1,
  };
  const large = scaledStore(store, 3);
  expect(large.heatCapacity(0.5)).toBeCloseTo(4.5e-9, 20);
  expect(large.enthalpy(0.5)).toBeCloseTo(3 * (0.25e-9 + 0.0625e-9), 20);
  expect(large.powers).toEqual([
    { coefficient: expect.closeTo(3e-9, 20), exponent: 2 },
    { coefficient: expect.closeTo(3e-9, 20), exponent: 4 },
  ]);
  expect(large.powersUpTo).toBe(1);
  const { heatCapacity, enthalpy } = store;
  expect(scaledStore({ heatCapacity, enthalpy }, 3)).not.toHaveProperty("powers");
});
