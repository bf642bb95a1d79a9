/**
 * What a file of a material may hold: properties, their forms, parameters, units and plausible spans.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { type FormSpec, type ParameterSpec, tableOf } from "./form.js";
import { collect, type Law, makeLaw } from "./law.js";
import { conductivityForms, heatCapacityForms } from "./laws.js";
import type { Sources } from "./sources.js";
import { type Converted, inUnit, type Row } from "./table.js";

/** The one form that a property takes. */
const only = (form: string, parameters: Record<string, ParameterSpec>) =>
  new Map<string, FormSpec>([[form, { parameters: new Map(Object.entries(parameters)) }]]);

const constant = (unit: string, least: number, most: number) =>
  only("constant", { value: { unit, least, most } });

const specs = (forms: ReadonlyMap<string, { readonly spec: FormSpec }>) =>
  [...forms].map(([name, { spec }]) => [name, spec] as const);

/** Properties, and the forms each may take. */
export const properties: ReadonlyMap<string, ReadonlyMap<string, FormSpec>> = new Map([
  [
    "thermal_conductivity",
    new Map([...specs(conductivityForms), ["table", tableOf("W/(m K)", 1e-9, 1e5)]]),
  ],
  ["resistivity", new Map([["table", tableOf("ohm m", 1e-14, 1e-3)]])],
  ["heat_capacity", new Map(specs(heatCapacityForms))],
  [
    "electron_phonon_coupling",
    only("power-difference", {
      coefficient: { unit: "W/(m^3 K^5)", least: 1e6, most: 1e12 },
      exponent: { unit: "", least: 3, most: 7 },
    }),
  ],
  ["density", constant("kg/m^3", 10, 3e4)],
  ["molar_mass", constant("kg/mol", 1e-3, 1)],
  ["sound_speed_longitudinal", constant("m/s", 500, 2e4)],
  ["sound_speed_transverse", constant("m/s", 200, 1.5e4)],
  ["critical_temperature", constant("K", 1e-3, 150)],
  ["lattice_conductivity", constant("W/(m K^3)", 1e-5, 1)],
  ["phonon_mean_free_path", constant("m", 1e-8, 0.1)],
  ["gap_ratio", constant("", 1, 3)],
  ["conductivity_gap_ratio", constant("", 1, 3)],
  ["debye_temperature", constant("K", 20, 2500)],
  ["electronic_heat_capacity", constant("J/(mol K^2)", 0, 0.1)],
  ["nuclear_heat_capacity", constant("J K/mol", 1e-9, 1)],
  ["density_of_states", constant("1/(J m^3)", 1e45, 1e49)],
  ["thermal_contraction", constant("", -0.01, 0.05)],
  ["youngs_modulus", constant("Pa", 1e8, 2e12)],
  ["yield_strength", constant("Pa", 1e6, 1e10)],
  ["isotope_scattering", constant("s^3", 1e-46, 1e-38)],
  ["phonon_decay", constant("s^4", 1e-58, 1e-53)],
  ["pair_breaking_time", constant("s", 1e-13, 1e-7)],
  ["mass_stopping_power", constant("J m^2/kg", 1e-14, 1e-12)],
]);

/** Properties that are laws over a range, whose pieces adjoin. */
const ranged = new Set(["thermal_conductivity", "heat_capacity"]);

/**
 * Rows of one material as laws, checked: property, form, parameters, units, plausible spans, sources.
 * @throws FieldError naming file, line and column
 */
export function materialLaws(name: string, rows: readonly Row[], sources: Sources): Law[] {
  const laws = collect(rows, sources).map((group) => {
    const form = formOf(group[0]!);
    const law = makeLaw(`materials/${name}`, group, sources, (row) => converted(row, form));
    checkComplete(law, form);
    return law;
  });
  checkSamples(laws);
  checkOverlap(laws);
  return laws;
}

function formOf(row: Row): FormSpec {
  const forms = properties.get(row.property);
  if (!forms) {
    const known = [...properties.keys()].join(", ");
    throw new FieldError(`${row.place} property`, `one of ${known}`, row.property);
  }
  const form = forms.get(row.form);
  if (!form) {
    throw new FieldError(`${row.place} form`, `one of ${[...forms.keys()].join(", ")}`, row.form);
  }
  return form;
}

/** The number of a row in the unit of its parameter, checked to lie within the plausible span. */
function converted(row: Row, { parameters, series }: FormSpec): Converted {
  const { place, parameter } = row;
  const spec =
    parameters.get(parameter) ?? (series?.name.test(parameter) ? series.spec : undefined);
  if (!spec) {
    const known = [...parameters.keys(), ...(series ? [series.name.source] : [])];
    const wanted = `one of ${known.join(", ")} for ${row.form}`;
    throw new FieldError(`${place} parameter`, wanted, parameter);
  }
  if (spec === series?.spec && Number.parseFloat(parameter) === 0) {
    throw new FieldError(`${place} parameter`, "a temperature above 0 K", parameter);
  }
  const number = inUnit(row, spec.unit);
  const { unit, least, most } = spec;
  if (!(number.value >= least && number.value <= most)) {
    const wanted = `${row.property} ${parameter} from ${least} to ${most} ${unit}`.trim();
    throw new FieldError(`${place} value`, wanted, `${number.value} ${unit}`.trim());
  }
  return number;
}

/** Each parameter that the form needs, and a range where the property has one. */
function checkComplete({ property, parameters, row, to }: Law, form: FormSpec): void {
  for (const [name, spec] of form.parameters) {
    if (!spec.optional && !parameters.has(name)) {
      throw new FieldError(`${row.place} parameter`, `a row ${name} for ${row.form}`, "none");
    }
  }
  if (row.form === "table" && parameters.size < 2) {
    throw new FieldError(`${row.place} parameter`, "two rows or more", "one");
  }
  if (ranged.has(property) && to === undefined) {
    throw new FieldError(`${row.place} valid_to`, "the range of the law in kelvin", "nothing");
  }
}

/** Where a property has several samples, each must have a name to be called by. */
function checkSamples(laws: readonly Law[]): void {
  for (const law of laws) {
    const others = laws.filter((l) => l.property === law.property && l.sample !== law.sample);
    if (law.sample === "" && others.length > 0) {
      const wanted = `a name, since ${law.property} has other samples`;
      throw new FieldError(`${law.row.place} sample`, wanted, "");
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
      const fault = (wanted: string) => {
        const ends = `(${piece.row.place} ends at ${piece.to ?? "no"} K)`;
        return new FieldError(`${next.row.place} valid_from`, `${wanted} ${ends}`, next.from);
      };
      if (next.from === undefined || piece.to === undefined || next.from < piece.to)
        throw fault("ranges of one sample not to overlap");
      if (ranged.has(piece.property) && next.from > piece.to)
        throw fault("the pieces of one sample to adjoin");
    });
  }
}
