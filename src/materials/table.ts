/**
 * Reads one CSV file of the catalogue into rows in SI: the only module that imports csv-parse.
 *
 * Columns: property, form, valid_from, valid_to, parameter, value, unit, uncertainty, sample, source,
 * where, note. One parameter of a law, or one point of a table, per row; lines that start with # are
 * comments. A fault is a FieldError that names file, line and column.
 * @module
 */
import { parse } from "#csv-parse/sync";
import { FieldError } from "../units/errors.js";
import { unitFactor } from "../units/quantity.js";
import { parseUncertainty, uncertaintyWords } from "./uncertainty.js";

/** Columns of every file in data/materials, data/joints and data/loads. */
export const columns = [
  "property",
  "form",
  "valid_from",
  "valid_to",
  "parameter",
  "value",
  "unit",
  "uncertainty",
  "sample",
  "source",
  "where",
  "note",
] as const;

export const sourceColumns = ["key", "authors", "title", "journal", "year", "doi", "note"] as const;

/** A record of a CSV file: the text of each column, and where it stands: file and line, `gold.csv:12`. */
export type TextRecord<Column extends string> = Readonly<Record<Column | "place", string>>;

/** One row of the catalogue, with its numbers read and its uncertainty checked. */
export interface Row
  extends Omit<TextRecord<(typeof columns)[number]>, "valid_from" | "valid_to" | "value"> {
  /** [K]; undefined for a constant. */
  readonly from?: number;
  readonly to?: number;
  /** In `unit`. */
  readonly value: number;
}

/** One line of a CSV text: its fields, and where it stands. */
export interface Line {
  readonly record: readonly string[];
  /** File and line, `gold.csv:12`. */
  readonly place: string;
}

/** More than any table of this library's kind: a map of a million pixels has a few million characters. */
const longestCsv = 20e6;

/**
 * The lines of a CSV text, without comments and empty ones.
 * @throws FieldError when it is no CSV text
 */
export function readLines(file: string, csv: string): Line[] {
  if (typeof csv !== "string") throw new FieldError(file, "the text of a CSV file", csv);
  if (csv.length > longestCsv) {
    const wanted = `a text of at most ${longestCsv / 1e6} million characters`;
    throw new FieldError(file, wanted, csv.length);
  }
  try {
    const lines = parse(csv, {
      comment: "#",
      comment_no_infix: true,
      trim: true,
      bom: true,
      info: true,
      skip_empty_lines: true,
      relax_column_count: true,
    }) as unknown as { record: string[]; info: { lines: number } }[];
    return lines.map(({ record, info }) => ({ record, place: `${file}:${info.lines}` }));
  } catch (error) {
    const { lines: line, message } = error as { lines?: number; message: string };
    throw new FieldError(`${file}:${line ?? 1}`, "a line of comma-separated values", message);
  }
}

/**
 * Records of a CSV text under exactly these columns, in this order.
 * @throws FieldError when the header or a line's number of fields is wrong
 */
export function readRecords<Column extends string>(
  file: string,
  csv: string,
  wanted: readonly Column[],
): TextRecord<Column>[] {
  const lines = readLines(file, csv);
  const header = lines[0];
  if (!header) throw new FieldError(`${file}:1`, `the columns ${wanted.join(",")}`, "nothing");
  const missing = wanted.find((name, i) => header.record[i] !== name);
  if (missing !== undefined || header.record.length !== wanted.length) {
    throw new FieldError(
      `${header.place} ${missing ?? header.record[wanted.length]}`,
      `the columns ${wanted.join(",")}`,
      header.record.join(","),
    );
  }
  const hint = " (a text with a comma in double quotes)";
  return withFields(lines.slice(1), wanted.length, hint).map(({ record, place }) => {
    const texts = Object.fromEntries(wanted.map((name, i) => [name, record[i]!]));
    return { ...texts, place } as TextRecord<Column>;
  });
}

/** The same lines. @throws FieldError for one that has not this number of fields */
export function withFields(lines: readonly Line[], count: number, hint = ""): readonly Line[] {
  for (const { record, place } of lines) {
    if (record.length === count) continue;
    throw new FieldError(place, `${count} fields${hint}`, `${record.length} in ${record}`);
  }
  return lines;
}

/** Rows of a file of the catalogue, with numbers, units' spelling and uncertainties read. */
export function readRows(file: string, csv: string): Row[] {
  return readRecords(file, csv, columns).map(({ valid_from, valid_to, ...text }) => {
    const { place, uncertainty } = text;
    for (const column of ["property", "form", "parameter", "source", "where"] as const) {
      if (text[column] === "") throw new FieldError(`${place} ${column}`, "a text", "");
    }
    const range = readRange(place, valid_from, valid_to);
    const value = readNumber(`${place} value`, text.value);
    try {
      parseUncertainty(uncertainty);
    } catch {
      throw new FieldError(`${place} uncertainty`, uncertaintyWords, uncertainty);
    }
    return { ...text, ...range, value };
  });
}

function readRange(place: string, from: string, to: string): { from?: number; to?: number } {
  if (from === "" && to === "") return {};
  const range = {
    from: readNumber(`${place} valid_from`, from),
    to: readNumber(`${place} valid_to`, to),
  };
  if (range.from < 0) {
    throw new FieldError(`${place} valid_from`, "a temperature in kelvin from 0", from);
  }
  if (!(range.to > range.from)) {
    throw new FieldError(`${place} valid_to`, `a temperature above valid_from (${from} K)`, to);
  }
  return range;
}

/** A finite number written plainly: `0.55`, `2.4e9`. @throws FieldError */
export function readNumber(field: string, text: string): number {
  const value = plainNumber(text);
  if (!Number.isFinite(value)) throw new FieldError(field, "a number", text);
  return value;
}

/** A number written plainly, NaN for any other text: JavaScript would take "" for 0 and "0x10" for 16. */
export function plainNumber(text: string): number {
  return /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i.test(text) ? Number(text) : Number.NaN;
}

export interface Converted {
  readonly value: number;
  readonly unit: string;
  /** The stated uncertainty, an absolute one in the SI unit. */
  readonly uncertainty: string;
}

/**
 * A row's value in the SI unit its property wants.
 * @throws FieldError naming the unit column
 */
export function inUnit(row: Row, unit: string): Converted {
  const factor = unitFactor(row.unit, unit);
  if (factor === undefined) {
    const wanted = unit === "" ? "no unit" : `a unit such as ${unit}`;
    throw new FieldError(`${row.place} unit`, `${wanted} for ${row.parameter}`, row.unit);
  }
  return { value: row.value * factor, unit, uncertainty: scaledText(row.uncertainty, factor) };
}

function scaledText(text: string, factor: number): string {
  const uncertainty = parseUncertainty(text);
  return uncertainty?.kind === "absolute"
    ? String(Number((uncertainty.amount * factor).toPrecision(6)))
    : text;
}

/** The SI unit of each unit that a file may use, the longest names first: `min` is no `in` with a prefix. */
const units = [
  ..."ohm mol rad Hz Pa sr W J K N V A T m s".split(" ").map((si) => [si, si] as const),
  ...Object.entries({ min: "s", day: "s", h: "s", bar: "Pa", mil: "m", in: "m", eV: "J", g: "kg" }),
].sort(([a], [b]) => b.length - a.length);
const prefixes = ["", "G", "M", "k", "c", "m", "u", "µ", "n", "p", "f", "a"];

/** The SI spelling of a unit: `nW/K^4` is `W/K^4`; undefined for a name it does not know. */
export function siSpelling(unit: string): string | undefined {
  let known = true;
  const si = unit.replace(/[A-Za-zµμΩ]+/g, (name) => {
    const found = units.find(
      ([symbol]) =>
        name.endsWith(symbol) && prefixes.includes(name.slice(0, name.length - symbol.length)),
    );
    if (!found) known = false;
    return found ? found[1] : name;
  });
  return known ? si : undefined;
}

/** A row's value in SI, whatever its dimension. @throws FieldError naming the unit column */
export function inSI(row: Row): Converted {
  const si = siSpelling(row.unit);
  // The steradian is a pure number, and mathjs does not know it.
  const [from, to] = [row.unit, si ?? ""].map((unit) => unit.replace(/ ?\bsr\b/g, ""));
  if (si === undefined || unitFactor(from!, to!) === undefined) {
    throw new FieldError(`${row.place} unit`, "a unit such as W/K^4, m or nothing", row.unit);
  }
  return { ...inUnit({ ...row, unit: from! }, to!), unit: si };
}
