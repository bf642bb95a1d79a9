/**
 * Numbers from CSV texts: a table of the user's own, such as a cooling curve, and a grid, one number for each
 * pixel.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { longestText, unitFactor } from "../units/quantity.js";
import { plainNumber, readLines, readNumber, withFields } from "./table.js";

/** A column that the table must have. */
export interface NumberColumn {
  readonly name: string;
  /** SI unit that its numbers come back in, and that they stand in where the header names none. */
  readonly unit: string;
}

/** One line of the table. */
export interface NumberRow {
  /** One number a column, in SI and in the order asked for. */
  readonly values: readonly number[];
  /** The same as they were written, with their units: `101.5 mK`. */
  readonly written: readonly string[];
  /** File and line, `curve.csv:12`, for errors about what the numbers mean. */
  readonly place: string;
}

/**
 * Numbers of a CSV text whose first line names the columns: `temperature [mK],power [uW]`, in any
 * order. A unit in brackets is converted; further columns are ignored; lines that start with # are
 * comments.
 * @param csv - the text, not its path
 * @param file - its name, for errors
 * @throws FieldError naming file, line and column
 * @example readNumberTable("temperature [mK],power [uW]\n20,0\n100,400", "curve.csv",
 *   [{ name: "temperature", unit: "K" }, { name: "power", unit: "W" }])[1].values // [0.1, 4e-4]
 */
export function readNumberTable(
  csv: string,
  file: string,
  columns: readonly NumberColumn[],
): NumberRow[] {
  const [header, ...lines] = readLines(file, csv);
  if (!header) throw new FieldError(`${file}:1`, headerWords(columns), "nothing");
  const found = columns.map((column) => findColumn(header.record, header.place, column, columns));
  if (lines.length === 0) throw new FieldError(file, "a line of numbers or more", "none");
  return withFields(lines, header.record.length).map(({ record, place }) => {
    const values = found.map(({ at, factor }, i) => {
      return readNumber(`${place} ${columns[i]!.name}`, record[at]!) * factor;
    });
    const written = found.map(({ at, unit }) => `${record[at]!} ${unit}`.trim());
    return { values, written, place };
  });
}

/** A column's name, and the unit in brackets behind it; no unit where there are no brackets. */
export interface WrittenColumn {
  readonly name: string;
  readonly unit?: string;
}

/**
 * The columns that the first line of a CSV text names, for tables whose columns the user chooses.
 * @throws FieldError naming file and line when there is none, or one is written wrong
 */
export function readColumnNames(csv: string, file: string): WrittenColumn[] {
  const header = readLines(file, csv)[0];
  if (!header) throw new FieldError(`${file}:1`, "a line that names the columns", "nothing");
  return header.record.map((cell) => {
    const parts = columnParts(cell);
    if (!parts) throw new FieldError(header.place, "columns written `name [unit]`", cell);
    const [, name, unit] = parts;
    return unit === undefined ? { name: name! } : { name: name!, unit };
  });
}

/** `name [unit]` */
const columnCell = /^([^[\]]*?)\s*(?:\[([^\]]*)\])?$/;

/** Name and unit of a column; null for a text that is none, or is longer than any. */
function columnParts(cell: string): RegExpExecArray | null {
  return cell.length > longestText ? null : columnCell.exec(cell);
}

/** Where a column stands, and how many of its SI unit one of its unit is. */
function findColumn(
  header: readonly string[],
  place: string,
  { name, unit }: NumberColumn,
  columns: readonly NumberColumn[],
): { readonly at: number; readonly factor: number; readonly unit: string } {
  const parts = header.map(columnParts);
  const at = parts.findIndex((part) => part?.[1] === name);
  if (at < 0 || parts.filter((part) => part?.[1] === name).length > 1) {
    throw new FieldError(`${place} ${name}`, headerWords(columns), header.join(","));
  }
  const written = parts[at]![2] ?? unit;
  const factor = unitFactor(written, unit);
  if (factor === undefined) {
    throw unitError(`${place} ${name}`, unit, written);
  }
  return { at, factor, unit: written };
}

/** The error of a column whose brackets hold no unit of its kind. */
export function unitError(field: string, si: string, written: string): FieldError {
  const more = "no number in it, and no scale with a zero of its own";
  return new FieldError(field, si === "" ? "no unit" : `a unit such as [${si}]`, written, more);
}

function headerWords(columns: readonly NumberColumn[]): string {
  const names = columns.map(({ name, unit }) => (unit === "" ? name : `${name} [${unit}]`));
  return `the columns ${names.join(",")}`;
}

/**
 * Numbers of the pixels of a die: lines of the text from its upper edge down, in each the pixels from
 * left to right. The rows that come back run from the lower edge up, as `map: { kind: "pixels" }` of a
 * load takes them. Lines that start with # are left out.
 * @param csv - text of the file
 * @param file - its name, for errors
 * @throws FieldError naming file, line and column for text in a number, or lines of unequal length
 */
export function readPixels(csv: string, file = "pixels.csv"): readonly (readonly number[])[] {
  const records = readLines(file, csv);
  if (records.length === 0) throw new FieldError(file, "at least one line of numbers", csv);
  const across = records[0]!.record.length;
  return records
    .map(({ record, place }) => {
      if (record.length !== across) {
        const wanted = `${across} numbers, as many as in the first line`;
        throw new FieldError(place, wanted, `${record.length}`);
      }
      return record.map((text, column) => {
        const value = plainNumber(text);
        if (Number.isFinite(value) && value >= 0) return value;
        throw new FieldError(`${place} column ${column + 1}`, "a number, 0 or more", text);
      });
    })
    .reverse();
}
