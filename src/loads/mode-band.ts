/**
 * The frequencies and the law of light in modes, as a user gives them.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { oneOf } from "../units/fields.js";
import { formatGiven, formatQuantity } from "../units/format.js";
import {
  planckPhotonRate,
  planckPower,
  rayleighJeansPhotonRate,
  rayleighJeansPower,
} from "./planck.js";

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

/** Power [W] and photons [1/s] of a mode of a source, between two frequencies above 0 [Hz]. */
export function modeOf(law: ModeLaw, temperature: number, from: number, to: number) {
  return law === "planck"
    ? {
        power: planckPower(temperature, from, to),
        photonRate: planckPhotonRate(temperature, from, to),
      }
    : {
        power: rayleighJeansPower(temperature, to - from),
        photonRate: rayleighJeansPhotonRate(temperature, from, to),
      };
}
