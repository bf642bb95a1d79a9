/**
 * Checks of what a user wrote in a field: each returns the value in SI or says what was wanted.
 * @module
 */
import { FieldError } from "./errors.js";
import { type AnyDimension, inSI, occurs, occursAboveZero, takenBy } from "./quantity.js";
import { isSpread } from "./spread.js";

/** A quantity greater than 0, in SI. @throws FieldError */
export function positive(field: string, value: unknown, dimension: AnyDimension): number {
  const taken = takenBy(dimension);
  const si = inSI(field, value, taken);
  if (occursAboveZero(si)) return si;
  throw new FieldError(field, `${taken.words}, greater than 0`, value);
}

/** A quantity of 0 or more, in SI. @throws FieldError */
export function notNegative(field: string, value: unknown, dimension: AnyDimension): number {
  const taken = takenBy(dimension);
  const si = inSI(field, value, taken);
  if (si >= 0) return si;
  throw new FieldError(field, `${taken.words}, 0 or more`, value);
}

/** A number greater than 0; `what` says of what, and in which unit. @throws FieldError */
export function positiveNumber(field: string, value: unknown, what: string): number {
  if (typeof value === "number" && occursAboveZero(value)) return value;
  throw new FieldError(field, `${what}, greater than 0`, value);
}

/** A number of 0 or more; `what` says of what, and in which unit. @throws FieldError */
export function notNegativeNumber(field: string, value: unknown, what: string): number {
  if (typeof value === "number" && value >= 0 && occurs(value)) return value;
  throw new FieldError(field, `${what}, 0 or more`, value);
}

/** A share from 0 to 1; `what` says of what. @throws FieldError */
export function share(field: string, value: unknown, what: string): number {
  if (typeof value === "number" && value >= 0 && value <= 1) return value;
  throw new FieldError(field, `${what}, from 0 to 1`, value);
}

/** Whether a number is above a bound by more than what conversions of units round, a part in 1e9. */
export function exceeds(value: number, bound: number): boolean {
  return value > bound + 1e-9 * Math.abs(bound);
}

/** A count: a whole number of at least 1. @throws FieldError */
export function wholeNumber(field: string, value: unknown): number {
  if (typeof value === "number" && Number.isSafeInteger(value) && value >= 1) return value;
  if (isSpread(value)) throw new FieldError(field, "a whole number, no spread", value);
  throw new FieldError(field, "a whole number of at least 1", value);
}

/**
 * An object, as descriptions and options are; what is in it is for others to check.
 * @throws FieldError
 */
export function anObject<T>(field: string, value: T): T {
  if (typeof value === "object" && value !== null && !Array.isArray(value)) return value;
  throw new FieldError(field, "an object with its fields", value);
}

/** A list, its holes filled with undefined, so that no loop passes over them. @throws FieldError */
export function aList<T>(field: string, value: readonly T[], words: string): readonly T[] {
  if (Array.isArray(value)) return Array.from(value as readonly T[]);
  throw new FieldError(field, words, value);
}
