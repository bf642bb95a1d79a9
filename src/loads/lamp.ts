/**
 * A lamp or a laser of known power on the chip.
 * @module
 */
import { given } from "../provenance.js";
import { anObject, notNegative, positive, share, wholeCount } from "../units/checks.js";
import type { Length, Power } from "../units/quantity.js";
import { type LightLoad, lightLoad } from "./heat-load.js";
import { photonEnergy } from "./photometry.js";

/** Light of known power. */
export interface Lamp {
  /** Name in the budget, `lamp` by default. */
  readonly name?: string;
  /** That it sends out, or that a fibre or window delivers [W]. */
  readonly power: Power;
  /** Share of it that falls on the chip, 1 by default. */
  readonly shareOnChip?: number;
  /** Share of what falls on the chip that it absorbs, 1 by default. */
  readonly absorption?: number;
  /** To count photons [m]; none are counted without it. */
  readonly wavelength?: Length;
  /** That share the spot, 1 by default. */
  readonly pixels?: number;
}

/**
 * Heat of a lamp: power × share on the chip × absorption; photons of hc/λ.
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError
 */
export function lamp(options: Lamp, field = "lamp"): LightLoad {
  anObject(field, options);
  const { name = "lamp", shareOnChip = 1, absorption = 1, wavelength } = options;
  const emitted = notNegative(`${field}.power`, options.power, "power");
  share(`${field}.shareOnChip`, shareOnChip, "a share of the power");
  share(`${field}.absorption`, absorption, "an absorption");
  const pixels = wholeCount(`${field}.pixels`, options.pixels);
  const power = emitted * shareOnChip * absorption;
  const length =
    wavelength === undefined ? undefined : positive(`${field}.wavelength`, wavelength, "length");
  const photonRate = length === undefined ? 0 : power / photonEnergy(length);
  return lightLoad(
    name,
    pixels,
    [{ name, power, photonRate }],
    [
      given(`${field}: power`, emitted, "W"),
      given(`${field}: share on the chip`, shareOnChip, ""),
      given(`${field}: absorption`, absorption, ""),
      ...(length === undefined ? [] : [given(`${field}: wavelength`, length, "m")]),
    ],
    {},
  );
}
