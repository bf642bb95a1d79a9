/**
 * The law of light in modes, as a user gives them.
 * @module
 */
import { oneOf } from "../units/fields.js";
import {
  planckPhotonRate,
  planckPower,
  rayleighJeansPhotonRate,
  rayleighJeansPower,
} from "./planck.js";

/** How the power of a mode hangs on the temperature of its source. */
export type ModeLaw = "planck" | "rayleigh-jeans";

export const modeLaw = oneOf("planck", "rayleigh-jeans");

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
