/**
 * One law of the catalogue as read from its rows, and how the factors on uncertain rows enter it.
 *
 * A table or a fit of more than two numbers is one measurement, whose points share one error: one factor
 * scales the whole curve. Any other row has a factor of its own.
 * @module
 */
import { type Interpolant, inLogarithms } from "../numerics/interpolation.js";
import { FieldError } from "../units/errors.js";
import type { Curve } from "./form.js";
import type { Sources } from "./sources.js";
import type { Converted, Row } from "./table.js";
import type { Datum, VariedRow } from "./types.js";
import { asFactor, parseUncertainty } from "./uncertainty.js";

/** A parameter with the row it came from. */
export interface Parameter {
  /** As on file. */
  readonly datum: Datum;
  readonly row: Row;
  /** Key of the row that scales it; undefined when its value is certain. */
  readonly key?: string;
}

export interface Law extends Pick<Row, "property" | "form" | "sample" | "from" | "to"> {
  /** What it gives, for example `gold: thermal conductivity (annealed)`. */
  readonly label: string;
  readonly parameters: ReadonlyMap<string, Parameter>;
  /** Its first row, for errors. */
  readonly row: Row;
  /** Key of the row that scales the whole curve; undefined when no row does. */
  readonly key?: string;
  /** Keys of all rows that scale it or a parameter of it. */
  readonly keys: readonly string[];
}

/** The factor on a row, by its key, such as `materials/gold.csv:5`. */
export type FactorOf = (key: string) => number;

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

/**
 * The law of rows that `collect` put together.
 * @param file - folder and name of its file: `materials/gold`
 * @param convert - gives the number of a row in SI
 */
export function makeLaw(
  file: string,
  rows: readonly Row[],
  sources: Sources,
  convert: (row: Row) => Converted,
): Law {
  const row = rows[0]!;
  const { property, form, sample, from, to } = row;
  const [folder, owner] = file.split("/");
  const keyOf = ({ place }: Row) => `${folder}/${place}`;
  const table = form === "table";
  const whole = table || (property === "thermal_conductivity" && rows.length > 2);
  const key = whole && rows.some((each) => halfWidth(each) > 1) ? keyOf(row) : undefined;
  const own = (each: Row) => {
    if (whole) return table && each.parameter !== "continues_below_as_power" ? key : undefined;
    return halfWidth(each) > 1 ? keyOf(each) : undefined;
  };
  const label = (parameter = "value") => {
    const which = parameter === "value" ? "" : `, ${inWords(parameter)}`;
    return `${owner}: ${inWords(property)}${which}${sample ? ` (${sample})` : ""}`;
  };
  const parameters = rows.map((each): [string, Parameter] => {
    const { value, unit, uncertainty } = convert(each);
    const [quantity, source] = [label(each.parameter), sources.get(each.source)!];
    const { where, note } = each;
    const provenance = { quantity, value, unit, uncertainty, source, where, note };
    const scaledBy = own(each);
    return [
      each.parameter,
      { datum: { value, provenance }, row: each, ...(scaledBy && { key: scaledBy }) },
    ];
  });
  const keys = [key, ...parameters.map(([, each]) => each.key)];
  return {
    property,
    form,
    sample,
    label: label(),
    ...(to !== undefined && { from: from!, to }),
    parameters: new Map(parameters),
    row,
    ...(key && { key }),
    keys: [...new Set(keys.flatMap((each) => each ?? []))],
  };
}

/** Half-width of a row's uncertainty as a factor on its value; 1 when it has none. */
export function halfWidth({ uncertainty, value }: Row): number {
  return asFactor(parseUncertainty(uncertainty), value);
}

function inWords(name: string): string {
  return name.replace(/_/g, " ").replace("electron phonon", "electron-phonon");
}

export function datumOf({ datum, key }: Parameter, factorOf: FactorOf): Datum {
  const factor = key === undefined ? 1 : factorOf(key);
  if (factor === 1) return datum;
  const value = factor * datum.value;
  return { value, provenance: { ...datum.provenance, value } };
}

/** The parameters of a law by name, with the factors on their rows; 0 for one that is absent. */
export function numbersOf({ parameters }: Law, factorOf: FactorOf): (name: string) => number {
  return (name) => {
    const parameter = parameters.get(name);
    if (!parameter) return 0;
    const { datum, key } = parameter;
    return key === undefined ? datum.value : factorOf(key) * datum.value;
  };
}

export function timesFactor(curve: Curve, factor: number): Curve {
  if (factor === 1) return curve;
  const { value, integral, powers } = curve;
  return {
    value: (T) => factor * value(T),
    ...(integral && { integral: (T: number) => factor * integral(T) }),
    ...(powers && { powers: powers.map((p) => ({ ...p, coefficient: factor * p.coefficient })) }),
  };
}

/** The points of a table over temperature, rising, and the curve through them. */
export interface Table extends Interpolant {
  readonly points: readonly (readonly [temperature: number, datum: Datum])[];
}

const tables = new WeakMap<Law, Table>();

/** A law's table as on file, without the factor on it; made once for each law. */
export function tabulated(law: Law): Table {
  const known = tables.get(law);
  if (known) return known;
  const points = [...law.parameters].flatMap(([name, { datum }]): [number, Datum][] => {
    const T = Number(/^(\S+) K$/.exec(name)?.[1]);
    return Number.isFinite(T) ? [[T, datum]] : [];
  });
  points.sort((a, b) => a[0] - b[0]);
  const made = { ...inLogarithms(points.map(([T, { value }]) => [T, value])), points };
  tables.set(law, made);
  return made;
}

/**
 * The only one of several laws, or that of a sample.
 * @param field - path of the user's field beside which `sample` stands
 * @throws FieldError listing the samples
 */
export function ofSample<Sampled extends { readonly sample: string }>(
  field: string,
  all: readonly Sampled[],
  sample: string | undefined,
): Sampled {
  const fit = all.filter((law) => sample === undefined || law.sample === sample);
  if (fit.length === 1) return fit[0]!;
  const list = all.map((law) => JSON.stringify(law.sample)).join(", ");
  throw new FieldError(`${field}.sample`, `one of ${list}`, sample);
}

/** What of a law may be varied: what has an uncertainty on file. */
export function variedRows({ key, label, from, to, parameters }: Law, of: FactorOf): VariedRow[] {
  const all = [...parameters.values()];
  if (key === undefined) {
    return all.flatMap((parameter) => {
      if (parameter.key === undefined) return [];
      const { value, provenance } = datumOf(parameter, of);
      const { quantity, unit, source } = provenance;
      const factor = halfWidth(parameter.row);
      return [{ key: parameter.key, quantity, value, unit, factor, source }];
    });
  }
  const range = to === undefined ? "" : `, ${from} to ${to} K`;
  return [
    {
      key,
      quantity: `${label}${range}: factor`,
      value: 1,
      unit: "",
      factor: Math.max(...all.map(({ row }) => halfWidth(row))),
      source: all[0]!.datum.provenance.source,
    },
  ];
}

/** @throws FieldError unless all keys are known and all factors greater than 0 */
export function checkFactors(
  factors: ReadonlyMap<string, number>,
  known: ReadonlySet<string>,
): void {
  for (const [key, factor] of factors) {
    if (!known.has(key)) {
      throw new FieldError("factors", "rows such as materials/gold.csv:5 (see rows())", key);
    }
    if (!(factor > 0 && factor < Number.POSITIVE_INFINITY)) {
      throw new FieldError(`factors ${key}`, "a factor greater than 0", factor);
    }
  }
}
