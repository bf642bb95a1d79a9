/**
 * The highest temperature a detector can do its work at.
 * @module
 */
import { root } from "../numerics/root.js";
import { FieldError } from "../units/errors.js";
import { aboveZero, rareQuantity } from "../units/fields.js";
import type { RareQuantity } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import type { Resonator } from "./quality.js";
import { quasiparticleDensity } from "./quasiparticles.js";
import type { Superconductor } from "./superconductor.js";

/** Number of quasiparticles in a volume: 1/m³, or a string such as `"10 1/um^3"`. */
export type QuasiparticleDensity = RareQuantity<"1/um^3">;

export const densityField = rareQuantity({
  si: "1/m^3",
  units: ["1/um^3"],
  words: 'a density such as "10 1/um^3" or a number in 1/m^3',
});

/**
 * Highest temperature at which a resonator still has an internal quality factor [K]. It falls with
 * temperature all the way to 0 at T_c, so that there is one such temperature.
 * @param quality - wanted, below what other losses, and photons above the gap, leave at zero temperature
 * @param field - path in the user's description, for errors
 * @throws FieldError
 */
export function highestTemperatureForQuality(
  resonator: Resonator,
  quality: Uncertain<number>,
  field = "internalQuality",
): number {
  const best = resonator.internalQuality(0);
  const least = aboveZero.read(quality, field);
  if (least >= best) {
    const wanted = `a quality factor below ${Number(best.toPrecision(4))}, which is what zero temperature leaves`;
    throw new FieldError(field, wanted, quality);
  }
  const { criticalTemperature } = resonator.superconductor;
  return root((T) => resonator.internalQuality(T) - least, 0, criticalTemperature);
}

/**
 * Highest temperature at which no more than so many quasiparticles are thermal [K].
 * @param density - wanted, up to that of the normal metal at T_c, 4 N₀ k_B T_c ln 2
 * @param field - path in the user's description, for errors
 * @throws FieldError
 */
export function highestTemperatureForDensity(
  superconductor: Superconductor,
  density: Uncertain<QuasiparticleDensity>,
  field = "quasiparticleDensity",
): number {
  const wanted = densityField.read(density, field);
  const { criticalTemperature: Tc } = superconductor;
  const most = quasiparticleDensity(superconductor, Tc);
  if (wanted > most) {
    const words = `a density up to ${(most * 1e-18).toPrecision(4)} 1/um^3, which it has at T_c`;
    throw new FieldError(field, words, density);
  }
  return root((T) => quasiparticleDensity(superconductor, T) - wanted, 0, Tc);
}
