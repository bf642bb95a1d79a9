/**
 * Quantities that so few fields take that they need no dimension of their own.
 * @module
 */
import { FieldError } from "./errors.js";
import { numberIn, occursAboveZero } from "./quantity.js";

/** A number in SI, or a string with one of a few units. */
export type RareQuantity<Unit extends string> = number | `${number} ${Unit}`;

/** What a field takes. */
export interface RareDimension<Unit extends string = string> {
  /** `mol/s` */
  readonly si: string;
  readonly units: readonly Unit[];
  /** In words, for the error: `a rate such as "0.6 mmol/s" or a number in mol/s`. */
  readonly words: string;
}

/** A quantity greater than 0, in SI. @throws FieldError */
export function positiveRare(field: string, value: unknown, dimension: RareDimension): number {
  const { si, units, words } = dimension;
  const number = typeof value === "string" ? numberIn(value, si, units) : value;
  if (typeof number === "number" && occursAboveZero(number)) return number;
  throw new FieldError(field, `${words}, greater than 0`, value);
}
