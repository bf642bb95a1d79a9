/**
 * Points of a curve as a user writes them: pairs, or two columns of a CSV text.
 * @module
 */
import { type NumberColumn, readNumberTable } from "../materials/number-table.js";
import { FieldError } from "../units/errors.js";

/** Where a number of a point was written, and as what, for errors. */
interface Spot {
  /** Path in the description, or line and column of a CSV text: `curve.csv:3 power`. */
  readonly field: string;
  readonly written: unknown;
}

/** A point of a curve, in SI. */
export interface CurvePoint {
  readonly x: number;
  readonly y: number;
  readonly of: Readonly<Record<"x" | "y", Spot>>;
}

/** A column of a CSV text, and what checks its numbers. */
interface Coordinate extends NumberColumn {
  readonly field?: { read(written: unknown, at: string): number };
}

/**
 * The points of a curve that was read.
 * @param field - path of the curve in the user's description, for errors
 * @param columns - of x and y in a CSV text
 * @param file - name of a CSV text that has none of its own
 * @throws FieldError naming file, line and column
 */
export function curvePoints(
  curve:
    | { readonly points: readonly (readonly [x: number, y: number])[] }
    | { readonly csv: string; readonly file?: string },
  field: string,
  columns: readonly [x: Coordinate, y: Coordinate],
  file = `${field}.csv`,
): readonly CurvePoint[] {
  if ("points" in curve) {
    return curve.points.map(([x, y], i) => {
      const at = `${field}.points[${i}]`;
      const of = { x: { field: `${at}[0]`, written: x }, y: { field: `${at}[1]`, written: y } };
      return { x, y, of };
    });
  }
  const rows = readNumberTable(curve.csv, curve.file ?? file, columns);
  return rows.map(({ values, written, place }) => {
    const read = (i: 0 | 1) => {
      const { name, unit, field: check } = columns[i];
      const spot = { field: `${place} ${name}`, written: unit === "" ? values[i] : written[i] };
      return { spot, value: check ? checkedIn(check, values[i]!, spot) : values[i]! };
    };
    const [x, y] = [read(0), read(1)];
    return { x: x.value, y: y.value, of: { x: x.spot, y: y.spot } };
  });
}

/** A number in SI that a field takes. @throws FieldError with what stands in the text */
function checkedIn(check: Required<Coordinate>["field"], value: number, spot: Spot): number {
  try {
    return check.read(value, spot.field);
  } catch (error) {
    throw error instanceof FieldError ? refused(spot, error.wanted) : error;
  }
}

/** The error of a number of a point, as it was written. */
export function refused({ field, written }: Spot, wanted: string): FieldError {
  return new FieldError(field, wanted, written);
}

/** @throws FieldError where x is not above 0, or not above that of the point before */
export function demandRise(points: readonly CurvePoint[], axis: string): void {
  points.forEach(({ x, of }, i) => {
    const before = points[i - 1];
    if (x > (before?.x ?? 0)) return;
    throw refused(of.x, `each ${axis} above ${before ? "the one before it" : "0"}`);
  });
}
