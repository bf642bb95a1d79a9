import { describe, expect, it } from "vitest";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import type { HeatCapacityOptions } from "../../src/materials/options.js";
import type { HeatCapacity } from "../../src/materials/types.js";
import { integrate } from "../../src/numerics/quadrature.js";
import { FieldError } from "../../src/units/errors.js";

const catalogue = readCatalogue(readDataFolder());
const ask = (name: string, options: HeatCapacityOptions = {}) =>
  catalogue.material(name).heatCapacity(options);

const known = catalogue.materials.flatMap((name): [string, HeatCapacityOptions, HeatCapacity][] => {
  const options: HeatCapacityOptions[] = [
    {},
    { part: "electrons" },
    { part: "phonons" },
    { state: "normal" },
    { part: "nuclei" },
  ];
  return options.flatMap((each): [string, HeatCapacityOptions, HeatCapacity][] => {
    try {
      return [[name, each, ask(name, each)]];
    } catch (error) {
      if (error instanceof FieldError) return [];
      throw error;
    }
  });
});

describe("every heat capacity of the catalogue", () => {
  it("is there for what a mount is made of", () => {
    const names = new Set(known.map(([name]) => name));
    for (const name of ["gold", "copper", "silver", "aluminium", "silicon", "sapphire", "quartz"]) {
      expect(names).toContain(name);
    }
    expect(names.size).toBeGreaterThanOrEqual(17);
  });

  it.each(known)(
    "of %s %j is the slope of its enthalpy, and its powers agree",
    (_name, { part }, law) => {
      const temperatures = [0.02, 0.05, 0.1, 0.3, 0.9, 1.5, 1.6, 4, 9, 10];
      temperatures.forEach((T, i) => {
        // Below T_c/400 paired electrons hold less than any number.
        if (part === "electrons" && T < 0.03) return;
        expect(law.value(T)).toBeGreaterThan(0);
        const before = temperatures[i - 1];
        if (before === undefined) return;
        const inLog = (u: number) => law.value(Math.exp(u)) * Math.exp(u);
        const exact = integrate(inLog, Math.log(before), Math.log(T), 1e-11);
        expect((law.enthalpy(T) - law.enthalpy(before)) / exact).toBeCloseTo(1, 7);
        if (!law.powers || T > (law.powersUpTo ?? Number.POSITIVE_INFINITY)) return;
        const sum = law.powers.reduce((s, p) => s + p.coefficient * T ** p.exponent, 0);
        expect(sum / law.enthalpy(T)).toBeCloseTo(1, 10);
      });
    },
  );

  it("says where each of its numbers comes from, and where it holds", () => {
    for (const [name, options, law] of known) {
      expect(law.provenance.length, name).toBeGreaterThanOrEqual(3);
      for (const each of law.provenance) expect(each.source, name).not.toBe("");
      if (options.part !== "electrons") expect(law.ranges.length, name).toBeGreaterThanOrEqual(1);
      for (const range of law.ranges) expect(range.outside).toBe("warn");
    }
  });
});

describe("parts of a heat capacity", () => {
  it("add up to all of it", () => {
    for (const T of [0.1, 0.7, 5]) {
      const sum =
        ask("aluminium", { part: "electrons" }).value(T) +
        ask("aluminium", { part: "phonons" }).value(T);
      expect(ask("aluminium").value(T) / sum).toBeCloseTo(1, 13);
    }
  });

  it("leave the nuclei out unless they are asked for", () => {
    const nuclei = ask("indium", { part: "nuclei" });
    // In the superconducting state they hold far more heat than the lattice, but take it up slowly.
    expect(nuclei.value(0.1) / ask("indium").value(0.1)).toBeGreaterThan(50);
    expect(nuclei.powers).toBeUndefined();
  });

  it("are electrons and phonons as powers in a normal metal", () => {
    const { powers, powersUpTo } = ask("gold");
    expect(powers!.map((p) => p.exponent)).toEqual([2, 4]);
    expect(powersUpTo).toBeUndefined();
  });
});

describe("the heat capacity of a superconductor", () => {
  const { value, enthalpy, powers, powersUpTo } = ask("aluminium");
  const normal = ask("aluminium", { state: "normal" });

  it("jumps by 1.426 γ T_c at T_c, while the enthalpy has no step", () => {
    const electrons = normal.value(1.175) - ask("aluminium", { part: "phonons" }).value(1.175);
    const jump = value(1.175) - normal.value(1.175);
    // 12/(7 ζ(3)): Bardeen, Cooper & Schrieffer (1957)
    expect(jump / electrons).toBeCloseTo(1.426127, 3);
    expect(enthalpy(1.175 * (1 + 1e-12)) / enthalpy(1.175)).toBeCloseTo(1, 10);
    expect(value(1.1751)).toBe(normal.value(1.1751));
  });

  it("is that of the phonons alone far below T_c, as a power", () => {
    expect(powers!.map((p) => p.exponent)).toEqual([4]);
    expect(powersUpTo).toBeGreaterThan(0.02);
    expect(powersUpTo).toBeLessThan(0.1);
    const phonons = ask("aluminium", { part: "phonons" });
    expect(value(powersUpTo!) / phonons.value(powersUpTo!)).toBeCloseTo(1, 11);
    expect(value(2 * powersUpTo!) / phonons.value(2 * powersUpTo!)).toBeGreaterThan(1 + 1e-9);
  });

  it("has as much entropy at T_c as in the normal state", () => {
    const electrons = ask("niobium", { part: "electrons" });
    const entropy = integrate((T) => electrons.value(T) / T, 0.1, 9.25, 1e-9);
    const metal = ask("niobium", { part: "electrons", state: "normal" });
    expect(entropy / metal.value(9.25)).toBeCloseTo(1, 5);
  });

  it("takes the critical temperature of a film in place of the catalogue's", () => {
    const film = ask("titanium-nitride", { criticalTemperature: "1 K" });
    expect(film.value(1.001)).toBe(ask("titanium-nitride", { state: "normal" }).value(1.001));
    expect(film.provenance.map((each) => each.quantity)).toContain(
      "titanium-nitride: critical temperature",
    );
    expect(
      film.provenance.filter((each) => /critical temperature/.test(each.quantity)),
    ).toHaveLength(1);
  });
});

describe("heatCapacity(options) refuses", () => {
  it.each([
    [
      "macor",
      {},
      "macor: expected a material with a heat capacity on file; macor lacks density, molar_mass, " +
        'electronic_heat_capacity, debye_temperature (add the rows, or give a heat capacity of your own), got "macor"',
    ],
    [
      "silicon",
      { part: "electrons" },
      'silicon.part: expected "phonons" or "all", since silicon is an insulator',
    ],
    [
      "gold",
      { part: "ions" },
      'gold.part: expected "all" or "electrons" or "phonons" or "nuclei", got "ions"',
    ],
    ["gold", { part: "nuclei" }, "gold lacks nuclear_heat_capacity"],
    [
      "gold",
      { state: "superconducting" },
      "gold.state: expected none, since gold has no T_c on file",
    ],
    ["gold", { criticalTemperature: 1 }, "gold.criticalTemperature: expected none"],
    ["gold", { state: "cold" }, 'gold.state: expected "superconducting" or "normal", got "cold"'],
    [
      "gold",
      { sample: "mine" },
      "gold.sample: expected none, since it has one heat capacity on file",
    ],
    ["torlon", { sample: "mine" }, 'torlon.sample: expected one of ""'],
    [
      "torlon",
      { part: "phonons" },
      'torlon.part: expected "all", since its heat capacity was measured as a whole',
    ],
    [
      "aluminium",
      { criticalTemperature: "0 K" },
      "aluminium.criticalTemperature: expected a temperature",
    ],
  ])("%s %j", (name, options, message) => {
    expect(() => ask(name, options as never)).toThrow(message);
  });
});
