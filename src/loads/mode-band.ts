/**
 * The frequencies and the law of light in modes, as a user gives them.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { oneOf } from "../units/fields.js";
import { formatGiven, formatQuantity } from "../units/format.js";

/** How the power of a mode hangs on the temperature of its source. */
export type ModeLaw = "planck" | "rayleigh-jeans";

/** Reads a law. */
export const modeLaw = oneOf("planck", "rayleigh-jeans");

/** @throws FieldError for an upper edge that is not above the lower one [Hz] */
export function risingBand(field: string, from: number, to: number): void {
  if (to > from) return;
  const wanted = `a frequency above the lower edge (${formatQuantity(from, "Hz")})`;
  throw new FieldError(`${field}.to`, wanted, formatGiven(to, "Hz"));
}
