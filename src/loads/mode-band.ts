/**
 * The frequencies and the law of light in modes, as a user gives them.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { formatQuantity } from "../units/format.js";

/** How the power of a mode hangs on the temperature of its source. */
export type ModeLaw = "planck" | "rayleigh-jeans";

/** @throws FieldError for a law of another name */
export function modeLaw(field: string, law: ModeLaw | undefined): ModeLaw {
  if (law === undefined) return "planck";
  if (law === "planck" || law === "rayleigh-jeans") return law;
  throw new FieldError(`${field}.law`, `"planck" or "rayleigh-jeans"`, law);
}

/**
 * @param written - the upper edge as the user wrote it
 * @throws FieldError for an upper edge that is not above the lower one [Hz]
 */
export function risingBand(field: string, from: number, to: number, written: unknown): void {
  if (to > from) return;
  const wanted = `a frequency above the lower edge (${formatQuantity(from, "Hz")})`;
  throw new FieldError(`${field}.to`, wanted, written);
}
