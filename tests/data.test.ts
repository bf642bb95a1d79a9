/** Every row of data/: valid, in use, and smooth where one law hands over to the next. */
import { describe, expect, it } from "vitest";
import { readCatalogue } from "../src/materials/catalogue.js";
import { readDataFolder } from "../src/materials/files.js";
import { columns, readRecords, readRows, sourceColumns } from "../src/materials/table.js";
import {
  casesOf,
  fallingFaults,
  integralFaults,
  leftEmpty,
  leftOutFaults,
  stepsOf,
  titleOf,
} from "./data-checks.js";

const files = readDataFolder();
const catalogue = readCatalogue(files);
const texts = [
  ...Object.entries(files.materials),
  ...Object.entries(files.joints),
  ...Object.entries(files.loads),
];
const rowsOf = (name: string) => readRows(`${name}.csv`, files.materials[name]!);
const cases = catalogue.materials.flatMap((name) => casesOf(catalogue.material(name)));

describe("the conductivity of every sample", () => {
  it.each(cases.map((each) => [titleOf(each), each] as const))(
    "%s is positive over its range, and its integral is that of the conductivity",
    (_title, each) => expect(integralFaults(each)).toEqual([]),
  );

  it("rises with temperature in supports and dielectrics, and in metals below 4 K", () => {
    for (const each of cases) expect(fallingFaults(each), titleOf(each)).toEqual([]);
  });

  it("has its phonons in it", () => {
    for (const each of cases) expect(leftOutFaults(each), titleOf(each)).toEqual([]);
  });
});

describe("adjoining pieces of one sample", () => {
  it("meet within 1 %, and a superconductor its normal state", () => {
    const all = cases.map((each) => stepsOf(each, rowsOf(each.material.name)));
    expect(all.flatMap(({ faults }) => faults)).toEqual([]);
    expect(all.reduce((sum, { joins }) => sum + joins, 0)).toBeGreaterThan(20);
  });
});

describe("the rows", () => {
  it("name sources that exist, and every source is used", () => {
    const keys = readRecords("sources.csv", files.sources, sourceColumns).map(
      (record) => record.key,
    );
    const used = new Set(texts.flatMap(([name, csv]) => readRows(name, csv).map((r) => r.source)));
    expect([...used].filter((key) => !keys.includes(key))).toEqual([]);
    expect(keys.filter((key) => !used.has(key))).toEqual([]);
  });

  const empty = (column: "note" | "uncertainty") =>
    catalogue.materials.flatMap((name) => leftEmpty(rowsOf(name), column));

  it("say how sure we are, in words, at least once for every law and constant", () => {
    expect(empty("note")).toEqual([]);
  });

  it("state an uncertainty for every law and constant of a material", () => {
    expect(empty("uncertainty")).toEqual([]);
  });

  it("stand under the twelve columns in every file", () => {
    for (const [name, csv] of texts) {
      const first = csv.split("\n").find((line) => line !== "" && !line.startsWith("#"));
      expect(first, name).toBe(columns.join(","));
    }
  });
});
