import { describe, expect, it, test } from "vitest";
import type { HeatStore } from "../../src/conductor.js";
import { givenHeatStore, heatStore, storesTogether } from "../../src/joints/heat-store.js";
import { temperatureAfter } from "../../src/joints/temperature-after.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import { integrate } from "../../src/numerics/quadrature.js";

const catalogue = readCatalogue(readDataFolder());
const of = (material: string, part?: "electrons" | "phonons") =>
  heatStore({ material, volume: "1 mm^3", ...(part && { part }) }, catalogue);

const stores: [string, HeatStore][] = [
  ["phonons, in closed form", of("silicon")],
  ["electrons and phonons, in closed form", of("gold")],
  [
    "three powers",
    storesTogether([of("gold"), givenHeatStore({ heatCapacity: 1e-9, at: 1, exponent: 2 })]),
  ],
  ["a superconductor across its transition", of("aluminium")],
  ["the electrons of a superconductor", of("aluminium", "electrons")],
  ["a measured law across its pieces", of("torlon")],
  ["a law without powers", { heatCapacity: (T) => 1 / T, enthalpy: (T) => Math.log(T) }],
];

describe("temperatureAfter(store, start, energy)", () => {
  it.each(stores)("takes up exactly the energy: %s", (_name, store) => {
    for (const start of [0.1, 0.5, 1.1, 1.2]) {
      for (const T of [0.15, 0.4, 1.174, 1.3, 2.5]) {
        const inLog = (u: number) => store.heatCapacity(Math.exp(u)) * Math.exp(u);
        const energy = integrate(inLog, Math.log(start), Math.log(T), 1e-12);
        expect(temperatureAfter(store, start, energy) / T).toBeCloseTo(1, 8);
      }
    }
  });

  it.each<[string, NonNullable<HeatStore["powers"]>, number, number, number]>([
    // 0.1⁴ + 3e-3/2 = 0.2⁴; then 0.1² + 0.02; then γ/2 = 1 and β/4 = 2 from 0.1 K to 0.3 K
    ["one power", [{ coefficient: 2, exponent: 4 }], 0.1, 3e-3, 0.2],
    ["γT²/2 alone", [{ coefficient: 1, exponent: 2 }], 0.1, 0.02, Math.sqrt(0.03)],
    [
      "γT²/2 + βT⁴/4",
      [
        { coefficient: 2, exponent: 4 },
        { coefficient: 1, exponent: 2 },
      ],
      0.1,
      0.09 + 2 * 0.3 ** 4 - (0.01 + 2e-4),
      0.3,
    ],
  ])("asks no law where there is %s", (_name, powers, start, energy, after) => {
    const never = () => {
      throw new Error("asked");
    };
    const store: HeatStore = { heatCapacity: never, enthalpy: never, powers };
    expect(temperatureAfter(store, start, energy)).toBeCloseTo(after, 12);
    // Where the powers hold up to a temperature only, the law goes on above it.
    for (const powersUpTo of [0.99 * start, 0.99 * after, 1.01 * after]) {
      const laws: HeatStore = {
        heatCapacity: (T) =>
          powers.reduce((sum, p) => sum + p.coefficient * p.exponent * T ** (p.exponent - 1), 0),
        enthalpy: (T) => 7 + powers.reduce((sum, p) => sum + p.coefficient * T ** p.exponent, 0),
        powers,
        powersUpTo,
      };
      expect(temperatureAfter(laws, start, energy)).toBeCloseTo(after, 12);
    }
  });

  it("asks the law where two powers are not the second and the fourth", () => {
    for (const exponents of [
      [2, 3],
      [3, 4],
    ]) {
      const store: HeatStore = {
        heatCapacity: (T) => exponents.reduce((sum, p) => sum + p * T ** (p - 1), 0),
        enthalpy: (T) => exponents.reduce((sum, p) => sum + T ** p, 0),
        powers: exponents.map((exponent) => ({ coefficient: 1, exponent })),
      };
      const energy = store.enthalpy(0.3) - store.enthalpy(0.1);
      expect(temperatureAfter(store, 0.1, energy)).toBeCloseTo(0.3, 12);
      expect(temperatureAfter(store, 0.3, -energy)).toBeCloseTo(0.1, 12);
    }
  });

  it("says how much a store holds of which more was taken out", () => {
    // ∫₀ᵀ 2T dT at 2 K is 4 J
    const store: HeatStore = { heatCapacity: (T) => 2 * T, enthalpy: (T) => 5 + T ** 2 };
    expect(() => temperatureAfter(store, 2, -10)).toThrow(
      "10.0 J were taken out of a store that holds 4.00 J at 2.000 K",
    );
  });

  it("is where it was without energy, and by E/C for a little", () => {
    expect(temperatureAfter(of("gold"), 0.1, 0)).toBe(0.1);
    const store = of("gold");
    const energy = 1e-4 * store.heatCapacity(0.1);
    expect((temperatureAfter(store, 0.1, energy) - 0.1) / 1e-4).toBeCloseTo(1, 2);
  });

  it("warms a cold die from a pulse far less than E/C", () => {
    // 0.6007 T³ J/(m³ K) in 200 mm³ by 200 keV: 13.28 mK from 20 mK where E/C is 33.3 mK
    const die = heatStore({ material: "silicon", volume: "200 mm^3" }, catalogue);
    const energy = 200e3 * 1.602176634e-19;
    expect(energy / die.heatCapacity(0.02)).toBeCloseTo(33.3e-3, 4);
    expect(temperatureAfter(die, 0.02, energy) - 0.02).toBeCloseTo(13.28e-3, 5);
  });

  test.each([
    [0, 1, "temperatureAfter: expected a start in kelvin above 0, got 0"],
    [0.1, Number.NaN, "temperatureAfter: expected an energy in joules, got NaN"],
    [0.1, 1e30, "J would heat the store above 100000 K"],
    [0.1, -1, "temperatureAfter: 1.00 J were taken out of a store that holds "],
  ])("refuses a start of %s K and %s J", (start, energy, message) => {
    expect(() => temperatureAfter(of("aluminium"), start, energy)).toThrow(message);
    expect(() => temperatureAfter(of("aluminium", "electrons"), start, energy)).toThrow(message);
  });
});
