import { describe, expect, it, test } from "vitest";
import { givenHeatStore, heatStore, storesTogether } from "../../src/joints/heat-store.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import type { HeatCapacityOptions } from "../../src/materials/options.js";
import type { Catalogue } from "../../src/materials/types.js";
import { catalogue as handMade } from "./hand-made.js";

const catalogue = readCatalogue(readDataFolder());
const store = (options: Parameters<typeof heatStore>[0]) => heatStore(options, catalogue);

describe("heatStore(options)", () => {
  it("is the heat capacity per volume times the volume, given as such or as area and thickness", () => {
    // 0.6007 T³ J/(m³ K): silicon of 645 K, Flubacher, Leadbetter & Morrison (1959)
    const die = store({ material: "silicon", volume: "200 mm^3" });
    expect(die.heatCapacity(0.1)).toBeCloseTo(0.6007e-3 * 200e-9, 13);
    const plate = store({ material: "silicon", area: "400 mm^2", thickness: "0.5 mm" });
    expect(plate.heatCapacity(0.1) / die.heatCapacity(0.1)).toBeCloseTo(1, 12);
    expect(
      store({ material: "silicon", volume: 2e-7 }).enthalpy(0.1) / die.enthalpy(0.1),
    ).toBeCloseTo(1, 12);
    expect(die.enthalpy(0.1) / die.heatCapacity(0.1)).toBeCloseTo(0.1 / 4, 12);
  });

  it("counts what is there several times, and carries powers, ranges and sources", () => {
    const one = store({ material: "gold", volume: "1 mm^3" });
    const four = store({ material: "gold", volume: "1 mm^3", count: 4 });
    expect(four.heatCapacity(0.3) / one.heatCapacity(0.3)).toBeCloseTo(4, 12);
    const sum = four.powers!.reduce((s, p) => s + p.coefficient * 0.3 ** p.exponent, 0);
    expect(sum / four.enthalpy(0.3)).toBeCloseTo(1, 12);
    expect(four.ranges).toHaveLength(1);
    expect(four.provenance!.map((each) => each.quantity)).toContain("heatStore: count");
  });

  it("takes the electrons of a film alone, and holds a superconductor normal", () => {
    const film = { material: "aluminium", volume: "1 mm^3", part: "electrons" } as const;
    expect(store({ ...film, state: "normal" }).heatCapacity(0.1)).toBeGreaterThan(
      1e5 * store(film).heatCapacity(0.1),
    );
  });

  it("asks the material with the options that were given, and those alone", () => {
    const asked: HeatCapacityOptions[] = [];
    const gold = handMade();
    const material: Catalogue["material"] = (name, field) => ({
      ...gold.material(name, field),
      heatCapacity: (options = {}) => {
        asked.push(options);
        return gold.material(name, field).heatCapacity();
      },
    });
    const given = { part: "all", state: "normal", criticalTemperature: 1.1, sample: "B" } as const;
    heatStore({ material: "metal", volume: 1, ...given }, { ...gold, material });
    heatStore({ material: "metal", volume: 1 }, { ...gold, material });
    expect(asked).toStrictEqual([given, {}]);
  });

  it("has powers as far up as its material's, and nothing of the kind without them", () => {
    const film = store({ material: "aluminium", volume: "1 mm^3" });
    const gold = store({ material: "gold", volume: "1 mm^3" });
    expect("powersUpTo" in film).toBe(film.powers !== undefined);
    expect(gold).not.toHaveProperty("powersUpTo", undefined);
  });

  test.each([
    [{ material: "silicon" }, "die: expected an object with one of volume, area"],
    [{ material: "silicon", volume: "1 mm^2" }, "die.volume: expected a volume such as"],
    [
      { material: "silicon", volume: 1, area: 1 },
      'die: expected only one of volume, area, got "volume and area"',
    ],
    [{ material: "silicon", area: 1 }, "die.thickness: expected a length"],
    [{ material: "silicn", volume: 1 }, "die.material"],
    [{ material: "silicon", volume: 1, part: "electrons" }, "die.part: expected"],
    [
      { material: "macor", volume: 1 },
      "die: expected a material with a heat capacity on file; macor lacks",
    ],
    [{ material: "gold", volume: 1, count: 0 }, "die.count: expected a whole number"],
  ])("refuses %j", (options, message) => {
    expect(() => heatStore(options as never, catalogue, "die")).toThrow(message);
  });
});

describe("givenHeatStore(options)", () => {
  it("has the heat capacity that was measured, where it was measured", () => {
    const given = givenHeatStore({ heatCapacity: "3 nJ/K", at: "100 mK", exponent: 3, count: 2 });
    expect(given.heatCapacity(0.1)).toBeCloseTo(6e-9, 20);
    expect(given.heatCapacity(0.2)).toBeCloseTo(48e-9, 19);
    expect(given.enthalpy(0.2)).toBeCloseTo((48e-9 * 0.2) / 4, 20);
    expect(given.provenance!.map((each) => each.source)).toEqual(["given", "given", "given"]);
  });

  it("is linear in temperature unless told otherwise", () => {
    expect(givenHeatStore({ heatCapacity: 1, at: 1 }).powers![0]!.exponent).toBe(2);
  });

  test.each([
    [{ heatCapacity: "3 nW/K", at: 1 }, "pad.heatCapacity: expected a heat capacity such as"],
    [{ heatCapacity: 1, at: 0 }, "pad.at: expected a temperature"],
    [{ heatCapacity: 1, at: 1, exponent: 0 }, "pad.exponent: expected an exponent"],
  ])("refuses %j", (options, message) => {
    expect(() => givenHeatStore(options as never, "pad")).toThrow(message);
  });
});

describe("storesTogether(stores)", () => {
  const gold = store({ material: "gold", volume: "1 mm^3" });
  const die = store({ material: "silicon", volume: "200 mm^3" });
  const niobium = store({ material: "niobium", volume: "1 mm^3" });

  it("adds heat capacities, enthalpies and powers", () => {
    const all = storesTogether([gold, die]);
    expect(all.heatCapacity(0.2) / (gold.heatCapacity(0.2) + die.heatCapacity(0.2))).toBeCloseTo(
      1,
      13,
    );
    expect(all.enthalpy(0.2) / (gold.enthalpy(0.2) + die.enthalpy(0.2))).toBeCloseTo(1, 13);
    expect(all.powers!.map((p) => p.exponent)).toEqual([2, 4]);
    const sum = all.powers!.reduce((s, p) => s + p.coefficient * 0.2 ** p.exponent, 0);
    expect(sum / all.enthalpy(0.2)).toBeCloseTo(1, 13);
    expect(all.ranges).toHaveLength(2);
  });

  it("holds its powers only as far as all members do", () => {
    expect(storesTogether([gold, niobium]).powersUpTo).toBe(niobium.powersUpTo);
    const electrons = store({ material: "niobium", volume: "1 mm^3", part: "electrons" });
    expect(storesTogether([gold, electrons]).powers).toBeUndefined();
  });

  it("is the store itself when there is one, and refuses none", () => {
    expect(storesTogether([gold])).toBe(gold);
    expect(() => storesTogether([])).toThrow("at least one heat store");
  });
});
