/**
 * Rows of numbers under columns whose first is the row's number.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { readLines, withFields } from "./table.js";

/** One row: its number and the numbers in it. */
export interface NumberedRow {
  readonly row: number;
  readonly values: readonly number[];
}

/**
 * Reads a table whose header begins with `row`. Numbers may be `Infinity` or
 * `NaN`.
 * @throws FieldError naming file, line and column
 */
export function readNumberedRows(
  file: string,
  csv: string,
): { readonly columns: readonly string[]; readonly rows: readonly NumberedRow[] } {
  const [header, ...lines] = readLines(file, csv);
  if (header?.record[0] !== "row") {
    throw new FieldError(
      header?.place ?? `${file}:1`,
      "columns that begin with row",
      header?.record.join(","),
    );
  }
  const columns = header.record.slice(1);
  const rows = withFields(lines, header.record.length).map(({ record, place }) => {
    const values = record.map((text, i) => {
      const value = text === "" ? Number.NaN : Number(text);
      if (Number.isNaN(value) && text !== "NaN") {
        throw new FieldError(`${place} ${header.record[i]}`, "a number", text);
      }
      return value;
    });
    return { row: values[0]!, values: values.slice(1) };
  });
  return { columns, rows };
}
