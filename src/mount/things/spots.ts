/**
 * Places on the die, and square spots that clamps, glue and warm wires cover there.
 * @module
 */

import type { Rectangle } from "../../chip/grid.js";
import { type Place, places } from "../../loads/load-map.js";
import { FieldError } from "../../units/errors.js";
import { type FieldsOf, optional } from "../../units/fields.js";
import type { Patch } from "../thing.js";

export { type Place, place, places } from "../../loads/load-map.js";

/** A place in SI. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** Spots that may have places. */
export interface Placed {
  /** Middles of the spots; spread over the die when absent. */
  readonly places?: readonly Place[];
}
export const placedFields: FieldsOf<Placed> = { places: optional(places) };

/** Side of the square of the die that a clamp or a warm wire covers when nothing is said [m]. */
export const usualSize = 1e-3;
/** Most clamps or spots of glue on the 2-D die. */
const mostPlaces = 1000;

/** What is as many as it is placed, or as its count says, or one. */
interface Counted {
  readonly count?: number;
  readonly places?: readonly unknown[];
}

/** How many clamps or spots of glue. */
export function spots({ places: placed, count }: Counted): number {
  return placed?.length ?? count ?? 1;
}

/** @throws FieldError unless a count agrees with the places */
export function checkPlaces(at: string, { places: placed, count }: Counted): void {
  if (placed && count !== undefined && placed.length !== count) {
    throw new FieldError(`${at}.count`, `as many as there are places, ${placed.length}`, count);
  }
}

/** @throws FieldError for more places than a sheet has cells to tell apart */
export function refuseTooMany(at: string, count = 1): void {
  if (count > mostPlaces) throw new FieldError(at, `at most ${mostPlaces} on a 2-D die`, count);
}

/** In rows over a rectangle from 0, 0, as even as the number allows: five are two, one and two. */
export function inRows(
  { width, length }: { readonly width: number; readonly length: number },
  total: number,
): readonly Point[] {
  const across = Math.max(1, Math.round(Math.sqrt((total * width) / length)));
  const rows = Math.ceil(total / across);
  const upTo = (row: number) => Math.round((row * total) / rows);
  return Array.from({ length: rows }, (_, row) => {
    const inRow = upTo(row + 1) - upTo(row);
    return Array.from({ length: inRow }, (_, k) => ({
      x: ((k + 0.5) / inRow) * width,
      y: ((row + 0.5) / rows) * length,
    }));
  }).flat();
}

/** Squares around their middles. */
export function squares(middles: readonly Point[], side: number): readonly Patch[] {
  return middles.map((middle) => ({
    area: square(middle, side),
    share: 1 / middles.length,
    bonds: 0,
  }));
}

export const square = (middle: Point, side: number) => around(middle, side, side);

/** A rectangle around its middle. */
export function around({ x, y }: Point, width: number, length: number): Rectangle {
  return { left: x - width / 2, right: x + width / 2, bottom: y - length / 2, top: y + length / 2 };
}
