/**
 * Checks of what the user wrote for a joint.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { type Dimension, toSI, wanted } from "../units/quantity.js";

/** A quantity greater than 0, in SI. @throws FieldError */
export function positive(field: string, value: unknown, dimension: Dimension): number {
  const si = toSI(field, value, dimension);
  if (si > 0) return si;
  throw new FieldError(field, `${wanted(dimension)}, greater than 0`, value);
}

/** A quantity of 0 or more, in SI. @throws FieldError */
export function notNegative(field: string, value: unknown, dimension: Dimension): number {
  const si = toSI(field, value, dimension);
  if (si >= 0) return si;
  throw new FieldError(field, `${wanted(dimension)}, 0 or more`, value);
}

/** A number greater than 0; `what` says of what, and in which unit. @throws FieldError */
export function positiveNumber(field: string, value: unknown, what: string): number {
  if (typeof value === "number" && Number.isFinite(value) && value > 0) return value;
  throw new FieldError(field, `${what}, greater than 0`, value);
}

/** How many alike stand side by side: a whole number of at least 1, 1 when not given. @throws FieldError */
export function wholeCount(field: string, value: unknown): number {
  if (value === undefined) return 1;
  if (typeof value === "number" && Number.isInteger(value) && value >= 1) return value;
  throw new FieldError(field, "a whole number of at least 1", value);
}
