/**
 * Quantities that so few fields take that they need no dimension of their own.
 * @module
 */
import { FieldError } from "./errors.js";
import { occursAboveZero, unitFactor } from "./quantity.js";

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
  let number = value;
  if (typeof value === "string") {
    const parts = /^\s*(\+?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)\s*(\S.*?)\s*$/i.exec(value);
    const known = parts !== null && (units as readonly string[]).includes(parts[2]!);
    number = known ? Number(parts[1]) * unitFactor(parts[2]!, si)! : undefined;
  }
  if (typeof number === "number" && occursAboveZero(number)) return number;
  throw new FieldError(field, `${words}, greater than 0`, value);
}
