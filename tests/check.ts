/**
 * `npm run check -- NAME`: checks data/materials/NAME.csv, or a kind of joint or load, in seconds, and says
 * what is in it. It shares its checks with tests/data.test.ts and tests/reference/materials.test.ts.
 */
import { readCatalogue } from "../src/materials/catalogue.js";
import { readDataFolder } from "../src/materials/files.js";
import { readRows } from "../src/materials/table.js";
import type { Catalogue, CatalogueFiles, LawRecord } from "../src/materials/types.js";
import { UnknownNameError } from "../src/units/errors.js";
import {
  casesOf,
  fallingFaults,
  integralFaults,
  leftEmpty,
  leftOutFaults,
  stepsOf,
  titleOf,
} from "./data-checks.js";
import { materialComputations } from "./reference/materials.js";
import { agrees, digitsAgreed, readReference } from "./reference/read-rows.js";

/** What a check found: what is in the file, and what is wrong with it. */
export interface Report {
  readonly lines: readonly string[];
  readonly faults: readonly string[];
}

const folders = ["materials", "joints", "loads"] as const;

/**
 * Checks the files of a name.
 * @throws FieldError naming file, line and column of a row that can't be read; UnknownNameError
 */
export function check(name: string, files: CatalogueFiles = readDataFolder()): Report {
  const found = folders.filter((folder) => Object.hasOwn(files[folder], name));
  if (found.length === 0) {
    const known = folders.flatMap((folder) => Object.keys(files[folder]));
    throw new UnknownNameError("check", "file of data/", name, known);
  }
  const catalogue = readCatalogue(files);
  const reports = found.map((folder) =>
    folder === "materials"
      ? checkMaterial(name, files.materials[name]!, catalogue)
      : { lines: lawLines(`${folder}/${name}`, catalogue.laws(folder, name)), faults: [] },
  );
  return {
    lines: reports.flatMap(({ lines }) => lines),
    faults: reports.flatMap(({ faults }) => faults),
  };
}

function checkMaterial(name: string, csv: string, catalogue: Catalogue): Report {
  const material = catalogue.material(name);
  const rows = readRows(`${name}.csv`, csv);
  const cases = casesOf(material);
  const reference = checkPublished(name, catalogue);
  const laws = material.conductivitySamples.map(({ sample, from, to, needs }) => {
    const wanted = needs.length === 0 ? "" : `, needs ${needs.join(" and ")}`;
    return `  thermal_conductivity${named(sample)}: ${from} to ${to} K${wanted}`;
  });
  const others = [...material.properties].filter(
    ([property]) => property !== "thermal_conductivity",
  );
  return {
    lines: [
      `materials/${name}: ${rows.length} rows`,
      ...laws,
      ...(others.length === 0
        ? []
        : [`  ${others.map(([property, s]) => property + named(...s)).join(", ")}`]),
      reference.line,
    ],
    faults: [
      ...leftEmpty(rows, "note").map(
        (place) => `${place} note: expected a text in one of its rows`,
      ),
      ...leftEmpty(rows, "uncertainty").map(
        (place) => `${place} uncertainty: expected one in one of its rows`,
      ),
      ...cases.flatMap((each) =>
        [...integralFaults(each), ...fallingFaults(each), ...leftOutFaults(each)].map(
          (fault) => `${placeOf(each.sample.sample)} ${titleOf(each)}: ${fault}`,
        ),
      ),
      ...new Set(cases.flatMap((each) => stepsOf(each, rows).faults)),
      ...reference.faults,
    ],
  };

  function placeOf(sample: string): string {
    const first = rows.find(
      (row) => row.property === "thermal_conductivity" && row.sample === sample,
    );
    return first!.place;
  }
}

/** Published values of a material against computed ones. */
function checkPublished(name: string, catalogue: Catalogue) {
  const compute = new Map(Object.entries(materialComputations(catalogue)));
  const rows = readReference("materials.csv").filter(
    ({ inputs }) => inputs.optional("material") === name,
  );
  const digits: number[] = [];
  const faults = rows.flatMap((row) => {
    const computed = compute.get(row.quantity)?.(row.inputs) ?? Number.NaN;
    digits.push(digitsAgreed(row.value, computed));
    if (agrees(row, computed)) return [];
    const published = `${row.value} ${row.unit}`.trim();
    return [
      `${row.place} value: ${row.quantity} (${row.inputsText}): published ${published}, computed ${computed}`,
    ];
  });
  digits.sort((a, b) => a - b);
  const line =
    rows.length === 0
      ? "  no row in tests/reference/materials.csv: add a published value that the file does not use"
      : `  ${rows.length} rows in tests/reference/materials.csv: digits agreed ` +
        `${digits[0]!.toFixed(1)} at least, ${digits[digits.length >> 1]!.toFixed(1)} in the middle`;
  return { line, faults };
}

function lawLines(file: string, laws: readonly LawRecord[]): string[] {
  return [
    `${file}: ${laws.length} laws`,
    ...laws.map(({ property, form, sample, range: { from, to } }) => {
      const range = to < Number.POSITIVE_INFINITY ? `: ${from} to ${to} K` : "";
      return `  ${property}${named(sample)}, ${form}${range}`;
    }),
  ];
}

/** Names of samples in brackets; nothing for the only one without a name. */
function named(...samples: readonly string[]): string {
  const names = samples.filter((sample) => sample !== "");
  return names.length === 0 ? "" : ` (${names.join("; ")})`;
}
