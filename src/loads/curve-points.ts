/**
 * Points of a curve as a user writes them: pairs, or two columns of a CSV text.
 * @module
 */
import { type NumberColumn, readNumberTable } from "../materials/number-table.js";
import { FieldError } from "../units/errors.js";

/** A point of a curve, in SI. */
export interface CurvePoint {
  readonly x: number;
  readonly y: number;
  /** Where it was written, for errors. */
  readonly place: string;
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
    return curve.points.map(([x, y], i) => ({ x, y, place: `${field}.points[${i}]` }));
  }
  return readNumberTable(curve.csv, curve.file ?? file, columns).map(({ values, place }) => {
    const [x, y] = columns.map(({ name, field: check }, i) =>
      check ? check.read(values[i], `${place} ${name}`) : values[i]!,
    ) as [number, number];
    return { x, y, place };
  });
}

/** @throws FieldError where x is not above 0, or not above that of the point before */
export function demandRise(points: readonly CurvePoint[], axis: string): void {
  points.forEach(({ x, place }, i) => {
    const before = points[i - 1];
    if (x > (before?.x ?? 0)) return;
    const wanted = `each ${axis} above ${before ? "the one before it" : "0"}`;
    throw new FieldError(`${place} ${axis}`, wanted, x);
  });
}
