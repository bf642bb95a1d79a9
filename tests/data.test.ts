/** Every row of data/: valid, in use, and smooth where one law hands over to the next. */
import { describe, expect, it } from "vitest";
import { readCatalogue } from "../src/materials/catalogue.js";
import { readDataFolder } from "../src/materials/files.js";
import { columns, type Row, readRecords, readRows, sourceColumns } from "../src/materials/table.js";
import type { ConductivityOptions, ConductivitySampleInfo } from "../src/materials/types.js";
import { asFactor, parseUncertainty } from "../src/materials/uncertainty.js";
import { integrate } from "../src/numerics/quadrature.js";

const files = readDataFolder();
const catalogue = readCatalogue(files);
const texts = [
  ...Object.entries(files.materials),
  ...Object.entries(files.joints),
  ...Object.entries(files.loads),
];

interface Case {
  readonly name: string;
  readonly sample: ConductivitySampleInfo;
  readonly options: ConductivityOptions;
}

/** Every sample of every material, with options that it can be asked with. */
const cases = catalogue.materials.flatMap((name): Case[] => {
  const material = catalogue.material(name);
  return material.conductivitySamples.flatMap((sample) => {
    const named = sample.sample === "" ? {} : { sample: sample.sample };
    const path = { meanFreePath: "1 mm" } as const;
    if (sample.needs.includes("meanFreePath"))
      return [{ name, sample, options: { ...named, ...path } }];
    if (!sample.needs.includes("residualResistivityRatio"))
      return [{ name, sample, options: named }];
    return [10, 100, 1000].flatMap((residualResistivityRatio) => {
      const clean = { ...named, residualResistivityRatio };
      const options: ConductivityOptions[] = [{ ...clean, state: "normal" }];
      if (material.properties.has("critical_temperature"))
        options.push({ ...clean, ...path }, clean);
      return options.map((each) => ({ name, sample, options: each }));
    });
  });
});
const title = (each: Case) => `${each.name} ${JSON.stringify(each.options)}`;

/** Temperatures over a range, evenly in the logarithm. */
function spread(from: number, to: number, count: number): number[] {
  const low = from === 0 ? Math.min(1e-2, to / 100) : from;
  return Array.from({ length: count }, (_, i) => low * (to / low) ** (i / (count - 1)));
}

describe("the conductivity of every sample", () => {
  it.each(cases.map((each) => [title(each), each] as const))(
    "%s is positive over its range, and its integral is that of the conductivity",
    (_title, { name, sample, options }) => {
      const kappa = catalogue.material(name).thermalConductivity(options);
      const temperatures = spread(sample.from, sample.to, 25);
      const electronsOnly =
        kappa.ranges.find((range) => range.of.includes("electrons only"))?.from ?? 0;
      temperatures.forEach((T, i) => {
        const value = kappa.at(Math.min(T, sample.to));
        if (T > electronsOnly / 20) expect(value).toBeGreaterThan(0);
        expect(value).toBeGreaterThanOrEqual(0);
        expect(value).toBeLessThan(1e5);
        const before = temperatures[i - 1];
        if (before === undefined) return;
        const summed = kappa.between(before, Math.min(T, sample.to));
        const inLog = (u: number) => kappa.law.value(Math.exp(u)) * Math.exp(u);
        const exact = integrate(inLog, Math.log(before), Math.log(Math.min(T, sample.to)), 1e-9);
        expect(Math.abs(summed - exact)).toBeLessThanOrEqual(1e-7 * exact + 1e-300);
      });
      const { powers, powersUpTo = sample.to } = kappa;
      for (const T of spread(sample.from, powersUpTo, 5)) {
        if (!powers) continue;
        const sum = powers.reduce((s, p) => s + p.coefficient * T ** p.exponent, 0);
        expect(kappa.law.integral(Math.min(T, powersUpTo)) / sum).toBeCloseTo(1, 9);
      }
    },
  );

  it("rises with temperature in supports and dielectrics, and in metals below 4 K", () => {
    for (const { name, sample, options } of cases) {
      const metal = sample.needs.includes("residualResistivityRatio") || name === "copper";
      // The phonons of a superconductor have a maximum near T_c/5.
      if (metal && options.meanFreePath !== undefined) continue;
      const kappa = catalogue.material(name).thermalConductivity(options);
      let before = 0;
      for (const T of spread(sample.from, metal ? Math.min(4, sample.to) : sample.to, 40)) {
        if (metal && T < sample.from) continue;
        const value = kappa.law.value(Math.min(T, sample.to));
        // The NIST fit of Teflon has a minimum, and joints of two sources step within their uncertainty.
        expect(value, `${title({ name, sample, options })} at ${T} K`).toBeGreaterThanOrEqual(
          0.85 * before,
        );
        before = value;
      }
    }
  });
});

describe("adjoining pieces of one sample", () => {
  it("meet within the uncertainty that their sources state", () => {
    let joins = 0;
    for (const { name, sample, options } of cases) {
      const rows = readRows(`${name}.csv`, files.materials[name]!).filter(
        (row) => row.property === "thermal_conductivity" && row.sample === sample.sample,
      );
      const { law } = catalogue.material(name).thermalConductivity({
        ...options,
        ...(options.residualResistivityRatio && { state: "normal" as const }),
      });
      const ends = new Set(rows.map((row) => row.to!));
      ends.delete(sample.to);
      for (const T of ends) {
        const below = rows.filter((row) => row.to === T);
        const above = rows.filter((row) => row.from === T);
        const allowed = uncertaintyOf(below) * uncertaintyOf(above);
        const step = law.value(T * (1 + 1e-9)) / law.value(T * (1 - 1e-9));
        expect(Math.max(step, 1 / step), `${name} ${sample.sample} at ${T} K`).toBeLessThan(
          allowed,
        );
        joins++;
      }
    }
    expect(joins).toBeGreaterThan(20);
  });

  function uncertaintyOf(rows: readonly Row[]): number {
    const stated = rows.find((row) => row.uncertainty !== "");
    return stated ? asFactor(parseUncertainty(stated.uncertainty), stated.value) : 1;
  }
});

describe("the rows", () => {
  it("name sources that exist, and every source is used", () => {
    const keys = readRecords("sources.csv", files.sources, sourceColumns).map(
      (record) => record.text.get("key")!,
    );
    const used = new Set(texts.flatMap(([name, csv]) => readRows(name, csv).map((r) => r.source)));
    expect([...used].filter((key) => !keys.includes(key))).toEqual([]);
    expect(keys.filter((key) => !used.has(key))).toEqual([]);
  });

  /** Places of a material's laws and constants whose rows all leave a column empty. */
  const leftEmpty = (column: "note" | "uncertainty") => {
    const places: string[] = [];
    for (const [name, csv] of Object.entries(files.materials)) {
      const groups = new Map<string, Row[]>();
      for (const row of readRows(`${name}.csv`, csv)) {
        const key = JSON.stringify([row.property, row.form, row.from, row.sample]);
        groups.set(key, [...(groups.get(key) ?? []), row]);
      }
      for (const rows of groups.values()) {
        const empty = rows.every((row) => row[column] === "");
        // Standard atomic weights are certain to all the digits given.
        if (empty && rows[0]!.property !== "molar_mass") places.push(rows[0]!.place);
      }
    }
    return places;
  };

  it("say how sure we are, in words, at least once for every law and constant", () => {
    expect(leftEmpty("note")).toEqual([]);
  });

  it("state an uncertainty for every law and constant of a material", () => {
    expect(leftEmpty("uncertainty")).toEqual([]);
  });

  it("stand under the twelve columns in every file", () => {
    for (const [name, csv] of texts) {
      const first = csv.split("\n").find((line) => line !== "" && !line.startsWith("#"));
      expect(first, name).toBe(columns.join(","));
    }
  });
});
