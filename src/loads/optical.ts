/**
 * Light that the pixels absorb.
 * @module
 */
import { given } from "../provenance.js";
import * as read from "../units/fields.js";
import type { Frequency, Power, Temperature } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { type LightLoad, lightLoad } from "./heat-load.js";
import type { LoadKind } from "./load-kind.js";
import { type ModeLaw, modeLaw, modeOf, risingBand } from "./mode-band.js";

/** Absorbed power of each pixel: given, or of a source that fills its beam. */
export type Optical = {
  /** Name in the budget, `optical` by default. */
  readonly name?: string;
  /** How many, all alike. */
  readonly pixels: number;
} & (
  | {
      /** Absorbed [W]. */
      readonly powerPerPixel: Uncertain<Power>;
    }
  | {
      /** Of the source [K]: physical for `planck`, brightness for `rayleigh-jeans`. */
      readonly temperature: Uncertain<Temperature>;
      /** Lower edge of the band [Hz]. */
      readonly from: Uncertain<Frequency>;
      /** Upper edge of the band [Hz]. */
      readonly to: Uncertain<Frequency>;
      /** Modes a pixel couples to, counting each polarisation; 1 by default. */
      readonly modes?: Uncertain<number>;
      /** Share of the source's power that the pixel absorbs, 1 by default. */
      readonly efficiency?: Uncertain<number>;
      /** `planck` by default. */
      readonly law?: ModeLaw;
    }
);

const common = { name: read.optional(read.text), pixels: read.count };

/** Light on the pixels as a kind of load. */
export const opticalKind: LoadKind<Optical> = {
  fields: read.oneForm<Optical>()({
    powerPerPixel: { ...common, powerPerPixel: read.quantityFromZero("power") },
    temperature: {
      ...common,
      temperature: read.quantity("temperature"),
      from: read.quantityFromZero("frequency"),
      to: read.quantity("frequency"),
      modes: read.optional(read.aboveZero),
      efficiency: read.optional(read.share),
      law: read.optional(modeLaw),
    },
  }),
  falls: "by map",
  heat: (options, { name, field }) => optical({ ...options, name }, field),
};

/**
 * Optical load: pixels × absorbed power, which is given or modes × efficiency × the power of one
 * mode (`planckPower`, `rayleighJeansPower`).
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError
 */
export function optical(options: Optical, field = "optical"): LightLoad {
  const plain = opticalKind.fields.read(options, field);
  const { name = "optical", pixels } = plain;
  const counted = given(`${field}: pixels`, pixels, "");
  if ("powerPerPixel" in plain) {
    const { powerPerPixel: each } = plain;
    return lightLoad(
      name,
      pixels,
      [{ name, power: pixels * each, photonRate: 0 }],
      [counted, given(`${field}: absorbed power per pixel`, each, "W")],
      { "absorbed power per pixel [W]": each },
    );
  }
  const { temperature, from, to, modes = 1, efficiency = 1, law = "planck" } = plain;
  risingBand(field, from, to);
  const mode = modeOf(law, temperature, from, to);
  const each = modes * efficiency * mode.power;
  // A band that begins at 0 Hz holds photons without end.
  const photons = from === 0 ? 0 : modes * efficiency * mode.photonRate;
  return lightLoad(
    name,
    pixels,
    [{ name, power: pixels * each, photonRate: pixels * photons }],
    [
      counted,
      given(`${field}: temperature of the source`, temperature, "K", law),
      given(`${field}: lower edge of the band`, from, "Hz"),
      given(`${field}: upper edge of the band`, to, "Hz"),
      given(`${field}: modes`, modes, ""),
      given(`${field}: efficiency`, efficiency, ""),
    ],
    { "power per mode [W]": mode.power, "absorbed power per pixel [W]": each },
  );
}
