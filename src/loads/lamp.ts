/**
 * A lamp or a laser of known power on the chip.
 * @module
 */
import { given } from "../provenance.js";
import * as read from "../units/fields.js";
import type { Length, Power } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { type LightLoad, lightLoad } from "./heat-load.js";
import type { LoadKind } from "./load-kind.js";
import { photonEnergy } from "./photometry.js";

/** Light of known power. */
export interface Lamp {
  /** Name in the budget, `lamp` by default. */
  readonly name?: string;
  /** That it sends out, or that a fibre or window delivers [W]. */
  readonly power: Uncertain<Power>;
  /** Share of it that falls on the chip, 1 by default. */
  readonly shareOnChip?: Uncertain<number>;
  /** Share of what falls on the chip that it absorbs, 1 by default. */
  readonly absorption?: Uncertain<number>;
  /** To count photons [m]; none are counted without it. */
  readonly wavelength?: Uncertain<Length>;
  /** That share the spot, 1 by default. */
  readonly pixels?: number;
}

export const lampKind: LoadKind<Lamp> = {
  fields: read.object<Lamp>({
    name: read.optional(read.text),
    power: read.quantityFromZero("power"),
    shareOnChip: read.optional(read.share),
    absorption: read.optional(read.share),
    wavelength: read.optional(read.quantity("length")),
    pixels: read.optional(read.count),
  }),
  heat: (options, { name, field }) => lamp({ ...options, name }, field),
};

/**
 * Heat of a lamp: power × share on the chip × absorption; photons of hc/λ.
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError
 */
export function lamp(options: Lamp, field = "lamp"): LightLoad {
  const plain = lampKind.fields.read(options, field);
  const { name = "lamp", power: emitted, shareOnChip = 1, absorption = 1 } = plain;
  const { wavelength, pixels = 1 } = plain;
  const power = emitted * shareOnChip * absorption;
  const photonRate = wavelength === undefined ? 0 : power / photonEnergy(wavelength);
  return lightLoad(
    name,
    pixels,
    [{ name, power, photonRate }],
    [
      given(`${field}: power`, emitted, "W"),
      given(`${field}: share on the chip`, shareOnChip, ""),
      given(`${field}: absorption`, absorption, ""),
      ...(wavelength === undefined ? [] : [given(`${field}: wavelength`, wavelength, "m")]),
    ],
  );
}
