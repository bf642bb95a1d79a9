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
