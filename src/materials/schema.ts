/**
 * What a file of the catalogue may say: properties, their forms, parameters, units and plausible spans.
 * @module
 */
import type { Provenance } from "../provenance.js";
import { FieldError } from "../units/errors.js";
import { heatCapacityForms } from "./heat-capacity-laws.js";
import { conductivityForms } from "./laws.js";
import { type Converted, inUnit, type Row } from "./table.js";

/** Unit and plausible span of one parameter, in SI. */
export interface ParameterSpec {
  readonly unit: string;
  readonly least: number;
  readonly most: number;
  readonly optional?: boolean;
}

/** Which parameters a form takes. */
export interface FormSpec {
  readonly parameters: ReadonlyMap<string, ParameterSpec>;
  /** Further parameters by pattern of name, such as c0, c1, c2. */
  readonly series?: { readonly name: RegExp; readonly spec: ParameterSpec };
}

/** One law or table of one sample, its parameters in SI. */
export interface Law {
  readonly property: string;
  readonly form: string;
  readonly sample: string;
  /** [K]; undefined for a constant. */
  readonly from?: number;
  readonly to?: number;
  readonly parameters: ReadonlyMap<string, Parameter>;
  /** Its first row, for errors. */
  readonly row: Row;
  /** On what the law gives; 1 when absent. */
  readonly factor?: number;
}

/** Whether a law is varied as a whole: a table, or a fit of more than two numbers. */
export function isWhole({ property, form, parameters }: Law): boolean {
  return form === "table" || (property === "thermal_conductivity" && parameters.size > 2);
}

/** A parameter in SI with the row it came from. */
export interface Parameter extends Converted {
  readonly row: Row;
}

/** Text of a source: `Authors, Title, Journal (year)`. */
export type Sources = ReadonlyMap<string, string>;

const constant = (unit: string, least: number, most: number): Map<string, FormSpec> =>
  new Map([["constant", { parameters: new Map([["value", { unit, least, most }]]) }]]);

const kelvinPoint = /^\d+\.?\d* K$/;

/** A table over temperature: the parameter column holds `295 K`. */
export const tableOf = (unit: string, least: number, most: number): FormSpec => ({
  parameters: new Map([
    ["continues_below_as_power", { unit: "", least: 0, most: 6, optional: true }],
  ]),
  series: { name: kelvinPoint, spec: { unit, least, most } },
});

/** Properties, and the forms each may take. */
export const properties: ReadonlyMap<string, ReadonlyMap<string, FormSpec>> = new Map([
  [
    "thermal_conductivity",
    new Map<string, FormSpec>([
      ...[...conductivityForms].map(([name, form]) => [name, form.spec] as const),
      ["table", tableOf("W/(m K)", 1e-9, 1e5)],
    ]),
  ],
  ["resistivity", new Map([["table", tableOf("ohm m", 1e-14, 1e-3)]])],
  [
    "heat_capacity",
    new Map<string, FormSpec>([...heatCapacityForms].map(([name, form]) => [name, form.spec])),
  ],
  [
    "electron_phonon_coupling",
    new Map<string, FormSpec>([
      [
        "power-difference",
        {
          parameters: new Map([
            ["coefficient", { unit: "W/(m^3 K^5)", least: 1e6, most: 1e12 }],
            ["exponent", { unit: "", least: 3, most: 7 }],
          ]),
        },
      ],
    ]),
  ],
  ["density", constant("kg/m^3", 10, 3e4)],
  ["molar_mass", constant("kg/mol", 1e-3, 1)],
  ["sound_speed_longitudinal", constant("m/s", 500, 2e4)],
  ["sound_speed_transverse", constant("m/s", 200, 1.5e4)],
  ["critical_temperature", constant("K", 1e-3, 150)],
  ["lattice_conductivity", constant("W/(m K^3)", 1e-5, 1)],
  ["gap_ratio", constant("", 1, 3)],
  ["debye_temperature", constant("K", 20, 2500)],
  ["electronic_heat_capacity", constant("J/(mol K^2)", 0, 0.1)],
  ["nuclear_heat_capacity", constant("J K/mol", 1e-9, 1)],
  ["density_of_states", constant("1/(J m^3)", 1e45, 1e49)],
  ["mass_stopping_power", constant("J m^2/kg", 1e-14, 1e-12)],
]);

/** Properties that are laws over a range, whose pieces adjoin. */
const ranged = new Set(["thermal_conductivity", "heat_capacity"]);

/**
 * Rows of one material as laws, checked: property, form, parameters, units, plausible spans, sources.
 * @throws FieldError naming file, line and column
 */
export function groupLaws(rows: readonly Row[], sources: Sources): Law[] {
  const groups = collect(rows, sources);
  const laws = groups.map((group) => readLaw(group));
  checkSamples(laws);
  checkOverlap(laws);
  return laws;
}

/** Rows that share property, form, range and sample, in order of appearance. */
export function collect(rows: readonly Row[], sources: Sources): Row[][] {
  const groups = new Map<string, Row[]>();
  for (const row of rows) {
    if (!sources.has(row.source)) {
      throw new FieldError(`${row.place} source`, "a key of data/sources.csv", row.source);
    }
    const key = JSON.stringify([row.property, row.form, row.from, row.to, row.sample]);
    const group = groups.get(key) ?? [];
    if (group.some((other) => other.parameter === row.parameter)) {
      throw new FieldError(`${row.place} parameter`, "each parameter of a law once", row.parameter);
    }
    group.push(row);
    groups.set(key, group);
  }
  return [...groups.values()];
}

function readLaw(group: readonly Row[]): Law {
  const row = group[0]!;
  const forms = properties.get(row.property);
  if (!forms) {
    throw new FieldError(
      `${row.place} property`,
      `one of ${[...properties.keys()].join(", ")}`,
      row.property,
    );
  }
  const form = forms.get(row.form);
  if (!form) {
    throw new FieldError(`${row.place} form`, `one of ${[...forms.keys()].join(", ")}`, row.form);
  }
  const parameters = new Map<string, Parameter>();
  for (const each of group) {
    const spec =
      form.parameters.get(each.parameter) ??
      (form.series?.name.test(each.parameter) ? form.series.spec : undefined);
    if (!spec) {
      const known = [...form.parameters.keys(), ...(form.series ? [form.series.name.source] : [])];
      throw new FieldError(
        `${each.place} parameter`,
        `one of ${known.join(", ")} for ${row.form}`,
        each.parameter,
      );
    }
    if (spec === form.series?.spec && Number.parseFloat(each.parameter) === 0) {
      throw new FieldError(`${each.place} parameter`, "a temperature above 0 K", each.parameter);
    }
    const converted = inUnit(each, spec.unit);
    if (!(converted.value >= spec.least && converted.value <= spec.most)) {
      throw new FieldError(
        `${each.place} value`,
        `${each.property} ${each.parameter} from ${spec.least} to ${spec.most} ${spec.unit}`.trim(),
        `${converted.value} ${spec.unit}`.trim(),
      );
    }
    parameters.set(each.parameter, { ...converted, row: each });
  }
  for (const [name, spec] of form.parameters) {
    if (!spec.optional && !parameters.has(name)) {
      throw new FieldError(`${row.place} parameter`, `a row ${name} for ${row.form}`, "none");
    }
  }
  if (row.form === "table" && parameters.size < 2) {
    throw new FieldError(`${row.place} parameter`, "two rows or more", "one");
  }
  if (ranged.has(row.property) && row.to === undefined) {
    throw new FieldError(`${row.place} valid_to`, "the range of the law in kelvin", "nothing");
  }
  const range = row.to === undefined ? {} : { from: row.from!, to: row.to };
  return { property: row.property, form: row.form, sample: row.sample, ...range, parameters, row };
}

/** Where a property has several samples, each must have a name to be called by. */
function checkSamples(laws: readonly Law[]): void {
  for (const law of laws) {
    const others = laws.filter((l) => l.property === law.property && l.sample !== law.sample);
    if (law.sample === "" && others.length > 0) {
      throw new FieldError(
        `${law.row.place} sample`,
        `a name, since ${law.property} has other samples`,
        "",
      );
    }
  }
}

function checkOverlap(laws: readonly Law[]): void {
  const bySample = new Map<string, Law[]>();
  for (const law of laws) {
    const key = JSON.stringify([law.property, law.sample]);
    bySample.set(key, [...(bySample.get(key) ?? []), law]);
  }
  for (const pieces of bySample.values()) {
    pieces.sort((a, b) => (a.from ?? 0) - (b.from ?? 0));
    pieces.forEach((piece, i) => {
      const next = pieces[i + 1];
      if (!next) return;
      if (next.from === undefined || piece.to === undefined || next.from < piece.to) {
        throw new FieldError(
          `${next.row.place} valid_from`,
          `ranges of one sample not to overlap (${piece.row.place} ends at ${piece.to ?? "no"} K)`,
          next.from,
        );
      }
      if (ranged.has(piece.property) && next.from > piece.to) {
        throw new FieldError(
          `${next.row.place} valid_from`,
          `the pieces of one sample to adjoin (${piece.row.place} ends at ${piece.to} K)`,
          next.from,
        );
      }
    });
  }
}

/** Provenance of one parameter. */
export function provenanceOf(owner: string, parameter: Parameter, sources: Sources): Provenance {
  const { row, value, unit, uncertainty } = parameter;
  const plain = (name: string) =>
    name.replace(/_/g, " ").replace("electron phonon", "electron-phonon");
  const what = plain(row.property);
  const which = row.parameter === "value" ? "" : `, ${plain(row.parameter)}`;
  return {
    quantity: `${owner}: ${what}${which}${row.sample ? ` (${row.sample})` : ""}`,
    value,
    unit,
    uncertainty,
    source: sources.get(row.source)!,
    where: row.where,
    note: row.note,
  };
}
