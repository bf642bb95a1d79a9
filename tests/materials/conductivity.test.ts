import { describe, expect, it } from "vitest";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import type { ConductivityOptions } from "../../src/materials/options.js";
import { lorenz } from "../../src/units/constants.js";

const catalogue = readCatalogue(readDataFolder());
const kappa = (name: string, options?: ConductivityOptions) =>
  catalogue.material(name).thermalConductivity(options);

describe("κ of a normal metal", () => {
  it("is Wiedemann and Franz below 1 K, with its integral as a power", () => {
    const gold = kappa("gold", { residualResistivityRatio: 30 });
    const residual = catalogue.material("gold").warmResistivity("295 K").value / 29;
    expect(gold.at(0.1)).toBeCloseTo((lorenz * 0.1) / residual, 12);
    expect(gold.powers).toEqual([{ coefficient: lorenz / (2 * residual), exponent: 2 }]);
    expect(gold.powersUpTo).toBe(1);
    expect(gold.between(0.1, 0.11)).toBeCloseTo(
      (lorenz * (0.11 ** 2 - 0.1 ** 2)) / 2 / residual,
      12,
    );
  });

  it.each([10, 30, 100, 300, 500])("steps by less than 0.1 %% at 1 K, RRR %d", (ratio) => {
    for (const name of ["gold", "copper", "silver", "aluminium"]) {
      const { law } = kappa(name, { residualResistivityRatio: ratio, state: "normal" });
      expect(Math.abs(law.value(1 + 1e-9) / law.value(1) - 1)).toBeLessThan(1e-3);
      expect(law.integral(1 + 1e-9) / law.integral(1)).toBeCloseTo(1, 8);
    }
  });

  it("takes a ratio with the warm temperature it was measured from", () => {
    const copper = catalogue.material("copper");
    const from295 = kappa("copper", { residualResistivityRatio: 100 }).at(0.1);
    const from273 = kappa("copper", {
      residualResistivityRatio: { value: 100, warm: "273 K" },
    }).at(0.1);
    expect(from273 / from295).toBeCloseTo(
      copper.warmResistivity("295 K").value / copper.warmResistivity("273 K").value,
      12,
    );
    const same = kappa("copper", { residualResistivityRatio: { value: 100, warm: 295 } }).at(0.1);
    expect(same).toBe(from295);
  });

  it.each([1, 0.5, -3, Number.NaN, Number.POSITIVE_INFINITY, "30", null])(
    "refuses the residual resistivity ratio %s",
    (ratio) => {
      const options = { residualResistivityRatio: ratio } as unknown as ConductivityOptions;
      expect(() => kappa("gold", options)).toThrow(
        "gold.residualResistivityRatio: expected a residual resistivity ratio greater than 1, got",
      );
    },
  );

  it("refuses a warm temperature where the resistivity is not tabulated", () => {
    const ratio = { value: 100, warm: "400 K" } as const;
    expect(() => kappa("gold", { residualResistivityRatio: ratio })).toThrow(
      "gold.residualResistivityRatio.warm: expected a temperature between 10 and 300 K, where its resistivity is tabulated",
    );
  });

  it("says where every number came from", () => {
    const { provenance } = kappa("gold", { residualResistivityRatio: 30 });
    expect(provenance.map((p) => p.quantity)).toEqual([
      "gold: resistivity 295 K",
      "gold: residual resistivity ratio",
      "gold: thermal conductivity, lorenz ratio",
      "gold: thermal conductivity at 4 K and a residual resistivity ratio of 30, defect-phonon for 1 to 300 K",
    ]);
    expect(provenance[0]!.source).toContain("Matula");
    expect(provenance[1]!.source).toBe("given");
    for (const each of provenance) expect(Number.isFinite(each.value)).toBe(true);
  });
});

describe("κ of a superconductor", () => {
  const options = { residualResistivityRatio: 100 };

  it("is the normal one at and above T_c", () => {
    const [cold, normal] = [
      kappa("aluminium", options),
      kappa("aluminium", { ...options, state: "normal" }),
    ];
    for (const T of [1.175, 1.2, 4, 77]) expect(cold.at(T) / normal.at(T)).toBeCloseTo(1, 12);
    expect(cold.at(0.5)).toBeLessThan(normal.at(0.5));
  });

  it("carries practically nothing at 100 mK where gold of a worse purity carries much", () => {
    // Common practice in cold detector mounts: gold, not aluminium, takes the heat out.
    const gold = kappa("gold", { residualResistivityRatio: 30 }).at(0.1);
    expect(kappa("aluminium", options).at(0.1) / gold).toBeLessThan(3e-4);
    const inWire = kappa("aluminium", { ...options, meanFreePath: "25 um" }).at(0.1);
    expect(inWire / gold).toBeLessThan(1e-4);
    expect(inWire).toBeGreaterThan(0);
  });

  it("is carried by phonons as T³ well below T_c when a mean free path is given", () => {
    const aluminium = kappa("aluminium", { ...options, meanFreePath: "1 mm" });
    expect(aluminium.at(0.04) / aluminium.at(0.02)).toBeCloseTo(8, 6);
    expect(aluminium.at(1e-3)).toBeGreaterThan(0);
  });

  it.each(["tantalum", "niobium"])("of %s has its maximum of phonons near T_c/5", (name) => {
    // Connolly & Mendelssohn, Proc. R. Soc. A 266, 429 (1962), abstract: at about 0.2 T_c
    const Tc = catalogue.material(name).constant("critical_temperature").value;
    const metal = kappa(name, { residualResistivityRatio: 10, meanFreePath: "1 mm" });
    const at = (t: number) => metal.at(t * Tc);
    expect(at(0.2)).toBeGreaterThan(at(0.08));
    expect(at(0.2)).toBeGreaterThan(at(0.28));
  });

  it("joins continuously at T_c, with and without phonons", () => {
    for (const more of [{}, { meanFreePath: "1 mm" } as const]) {
      for (const name of ["aluminium", "tantalum", "niobium", "indium"]) {
        const Tc = catalogue.material(name).constant("critical_temperature").value;
        const { law } = kappa(name, { ...options, ...more });
        const step = law.value(Tc * (1 - 1e-7)) / law.value(Tc * (1 + 1e-7)) - 1;
        expect(Math.abs(step)).toBeLessThan(1e-5);
        expect(law.integral(Tc * (1 + 1e-12)) / law.integral(Tc * (1 - 1e-12))).toBeCloseTo(1, 8);
      }
    }
  });

  it("has phonons between grains where no mean free path is given, and says so", () => {
    const { law, ranges, provenance } = kappa("niobium", options);
    const { law: given } = kappa("niobium", { ...options, meanFreePath: "0.05 mm" });
    expect(law.value(0.1)).toBe(given.value(0.1));
    expect(law.value(1e-3)).toBeGreaterThan(0);
    const warned = ranges.find((range) => range.outside === "warn")!;
    expect(warned.of).toContain("phonons carry most, here between grains of a usual size");
    expect(provenance.map((each) => each.quantity)).toContain("niobium: phonon mean free path");
  });

  it.each(["indium", "indium-tin", "tin-lead"])(
    "of %s goes as T³ and as its grains when coldest",
    (name) => {
      // Measured in indium-thallium from 0.15 to 0.8 K: falls fast below T_c, at the lowest temperatures
      // roughly as T³ and as the size of the grains (abstract of "Thermal conductivity of indium-thallium
      // alloys in the normal and superconducting states", Phys. Rev. 97, 902 (1955), journal from memory).
      const solder = (meanFreePath: string) =>
        kappa(name, { residualResistivityRatio: 10, meanFreePath } as ConductivityOptions).law;
      const [fine, coarse] = [solder("5 um"), solder("20 um")];
      const exponent = Math.log2(fine.value(0.2) / fine.value(0.1));
      expect(Math.abs(exponent - 3)).toBeLessThan(0.2);
      expect(coarse.value(0.15) / fine.value(0.15)).toBeGreaterThan(3.5);
      expect(coarse.value(0.15) / fine.value(0.15)).toBeLessThanOrEqual(4);
      expect(Math.log2(fine.value(0.8) / fine.value(0.4))).toBeGreaterThan(2.9);
    },
  );

  it("can't do without its phonons", () => {
    const lead = readDataFolder().materials.tantalum!.replace(/\nlattice_conductivity.*/, "");
    const metal = catalogue.withMaterial("lead", lead).material("lead");
    expect(() => metal.thermalConductivity(options)).toThrow("lead.lattice_conductivity");
  });

  it("keeps the ratio of the publication that it was fitted to", () => {
    // Koechlin & Bonin: 14.5 uohm cm over the residual resistivity
    const niobium = kappa("niobium", { ...options, state: "normal" });
    expect(niobium.at(0.5) / ((lorenz * 0.5) / (14.5e-8 / 100))).toBeCloseTo(1, 12);
  });

  it("refuses a state it does not know or the material has not", () => {
    const state = "liquid" as unknown as "normal";
    expect(() => kappa("aluminium", { ...options, state })).toThrow(
      'aluminium.state: expected "superconducting" or "normal", got "liquid"',
    );
    expect(() => kappa("gold", { ...options, state: "superconducting" })).toThrow(
      'gold.state: expected "normal", since it has no T_c on file, got "superconducting"',
    );
  });
});

describe("κ of a dielectric", () => {
  it("is a cube of the temperature times the mean free path", () => {
    const silicon = kappa("silicon", { meanFreePath: "1 mm" });
    expect(silicon.at(0.2) / silicon.at(0.1)).toBeCloseTo(8, 12);
    expect(kappa("silicon", { meanFreePath: "2 mm" }).at(0.1) / silicon.at(0.1)).toBeCloseTo(2, 12);
    expect(silicon.powers![0]!.exponent).toBe(4);
    expect(silicon.powersUpTo).toBeUndefined();
  });

  it("can't do without a mean free path", () => {
    expect(() => kappa("silicon")).toThrow(
      'silicon.meanFreePath: expected the mean free path of phonons, such as "1 mm"',
    );
    expect(() => kappa("silicon", { meanFreePath: 0 })).toThrow(
      'silicon.meanFreePath: expected a length such as "25 um" or a number in metres, greater than 0, got 0',
    );
    const options = { meanFreePath: "25 mK" } as unknown as ConductivityOptions;
    expect(() => kappa("silicon", options)).toThrow(
      "silicon.meanFreePath: expected a length such as",
    );
  });
});

describe("samples", () => {
  it("are listed when more than one fits", () => {
    expect(() => kappa("g10")).toThrow(
      'g10.sample: expected one of "normal", "warp", got undefined',
    );
    expect(() => kappa("copper")).toThrow(
      "copper.residualResistivityRatio: expected a residual resistivity ratio",
    );
    expect(() => kappa("g10", { sample: "diagonal" })).toThrow(
      'g10.sample: expected one of "normal", "warp", got "diagonal"',
    );
  });

  it("are chosen by the options that only one of them takes", () => {
    const general = kappa("copper", { residualResistivityRatio: 50, meanFreePath: "1 mm" });
    expect(general.powersUpTo).toBe(1);
    const page = kappa("copper", { sample: "NIST page RRR 50" });
    expect(page.ranges[0]!.of).toBe("copper: thermal conductivity (NIST page RRR 50)");
  });

  it("refuse a residual resistivity ratio that they don't depend on", () => {
    expect(() => kappa("nylon", { residualResistivityRatio: 30 })).toThrow(
      "nylon.residualResistivityRatio: expected none, since its conductivity is a measured law",
    );
  });
});

describe("errors", () => {
  it("name the field of the user's description when one is given", () => {
    const gold = catalogue.material("gold");
    expect(() => gold.thermalConductivity({}, "bonds")).toThrow("bonds.residualResistivityRatio:");
    const silicon = catalogue.material("silicon");
    const options = { meanFreePath: -1 };
    expect(() => silicon.thermalConductivity(options, "die")).toThrow("die.meanFreePath:");
    expect(() => catalogue.material("g10").thermalConductivity({}, "legs")).toThrow("legs.sample:");
  });
});

describe("the ends of a range", () => {
  it("are where an answer stops, with the reason", () => {
    const brass = kappa("brass");
    expect(brass.at(5)).toBeGreaterThan(0);
    expect(() => brass.at(4.9)).toThrow(
      "brass: thermal conductivity: T = 4.900 K is outside 5 to 110 K (nist-properties)",
    );
    expect(() => brass.between(1, 10)).toThrow(RangeError);
    expect(() => brass.at(Number.NaN)).toThrow("expected a temperature in kelvin, got NaN");
    expect(() => kappa("gold", { residualResistivityRatio: 30 }).at(-1)).toThrow("got -1");
    expect(brass.ranges).toEqual([
      { from: 5, to: 110, of: "brass: thermal conductivity", outside: "refuse" },
    ]);
  });

  it("never let a polynomial fit speak outside its range, not even to a solver's trial", () => {
    // The fit itself gives 5.4e5 W/(m K) for polyimide at 1 K.
    const { law } = kappa("kapton");
    expect(law.value(1)).toBeLessThan(0.01);
    const alloy = kappa("al-6061").law;
    expect(alloy.value(1)).toBeLessThan(alloy.value(4));
    expect(alloy.value(1)).toBeGreaterThan(0);
    expect(alloy.value(1000)).toBeGreaterThan(0);
    expect(alloy.integral(1000)).toBeGreaterThan(alloy.integral(300));
  });

  it("are passed downwards by a power law only where the file names one, with a warning", () => {
    const nylon = kappa("nylon");
    expect(nylon.at(0.02) / nylon.at(0.01)).toBeCloseTo(2 ** 1.75, 10);
    expect(nylon.ranges.map((range) => [range.from, range.to, range.outside])).toEqual([
      [0, 300, "refuse"],
      [0.2, 300, "warn"],
    ]);
    expect(nylon.powers![0]!.exponent).toBeCloseTo(2.75, 12);
  });
});

describe("material", () => {
  it("lists its properties with their samples, and what its conductivity can't do without", () => {
    const gold = catalogue.material("gold");
    expect(gold.properties.get("density")).toEqual([""]);
    expect(gold.conductivitySamples).toEqual([
      { sample: "", needs: ["residualResistivityRatio"], from: 0, to: 300 },
    ]);
    expect(catalogue.material("torlon").properties.get("thermal_conductivity")).toEqual([
      "4301",
      "4203",
    ]);
  });

  it("gives electron-phonon coupling and speeds of sound with their sources", () => {
    const gold = catalogue.material("gold");
    expect(gold.electronPhononCoupling()).toMatchObject({ coefficient: 2.4e9, exponent: 5 });
    expect(gold.electronPhononCoupling().ranges[0]).toMatchObject({ from: 0.08, to: 1.2 });
    expect(gold.soundSpeeds()).toMatchObject({ longitudinal: 3390, transverse: 1290 });
    expect(gold.soundSpeeds().provenance).toHaveLength(2);
  });

  it("names a property that is not on hand, and those that are", () => {
    expect(() => catalogue.material("nylon").soundSpeeds()).toThrow(
      "nylon.sound_speed_longitudinal: expected a property on hand (thermal_conductivity)",
    );
    expect(() => catalogue.material("gold").constant("resistivity")).toThrow(
      "gold.resistivity: expected a property that is one number",
    );
    expect(() => catalogue.material("gold").constant("density", "film")).toThrow(
      'gold.density.sample: expected one of "", got "film"',
    );
  });
});
