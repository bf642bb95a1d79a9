/**
 * Light that the pixels absorb.
 * @module
 */
import { given } from "../provenance.js";
import {
  anObject,
  notNegative,
  positive,
  positiveNumber,
  share,
  wholeNumber,
} from "../units/checks.js";
import type { Frequency, Power, Temperature } from "../units/quantity.js";
import { type LightLoad, lightLoad } from "./heat-load.js";
import { type ModeLaw, modeLaw, risingBand } from "./mode-band.js";
import {
  planckPhotonRate,
  planckPower,
  rayleighJeansPhotonRate,
  rayleighJeansPower,
} from "./planck.js";

/** Absorbed power of each pixel: given, or of a source that fills its beam. */
export type Optical = {
  /** Name in the budget, `optical` by default. */
  readonly name?: string;
  /** How many, all alike. */
  readonly pixels: number;
} & (
  | {
      /** Absorbed [W]. */
      readonly powerPerPixel: Power;
    }
  | {
      /** Of the source [K]: physical for `planck`, brightness for `rayleigh-jeans`. */
      readonly temperature: Temperature;
      /** Lower edge of the band [Hz]. */
      readonly from: Frequency;
      /** Upper edge of the band [Hz]. */
      readonly to: Frequency;
      /** Modes a pixel couples to, counting each polarisation; 1 by default. */
      readonly modes?: number;
      /** Share of the source's power that the pixel absorbs, 1 by default. */
      readonly efficiency?: number;
      /** `planck` by default. */
      readonly law?: ModeLaw;
    }
);

/**
 * Optical load: pixels × absorbed power, which is given or modes × efficiency × the power of one
 * mode (`planckPower`, `rayleighJeansPower`).
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError
 */
export function optical(options: Optical, field = "optical"): LightLoad {
  anObject(field, options);
  const { name = "optical" } = options;
  const pixels = wholeNumber(`${field}.pixels`, options.pixels);
  const counted = given(`${field}: pixels`, pixels, "");
  if ("powerPerPixel" in options && options.powerPerPixel !== undefined) {
    const each = notNegative(`${field}.powerPerPixel`, options.powerPerPixel, "power");
    return lightLoad(
      name,
      pixels,
      [{ name, power: pixels * each, photonRate: 0 }],
      [counted, given(`${field}: absorbed power per pixel`, each, "W")],
      { "absorbed power per pixel [W]": each },
    );
  }
  const source = options as Extract<Optical, { temperature: Temperature }>;
  const { modes = 1, efficiency = 1 } = source;
  const temperature = positive(`${field}.temperature`, source.temperature, "temperature");
  const from = notNegative(`${field}.from`, source.from, "frequency");
  const to = positive(`${field}.to`, source.to, "frequency");
  risingBand(field, from, to, source.to);
  positiveNumber(`${field}.modes`, modes, "a number of modes");
  share(`${field}.efficiency`, efficiency, "a share of the power");
  const law = modeLaw(field, source.law);
  const black = law === "planck";
  const mode = black
    ? planckPower(temperature, from, to)
    : rayleighJeansPower(temperature, to - from);
  const photonsOfMode = black ? planckPhotonRate : rayleighJeansPhotonRate;
  const each = modes * efficiency * mode;
  // A band that begins at 0 Hz holds photons without end.
  const photons = from === 0 ? 0 : modes * efficiency * photonsOfMode(temperature, from, to);
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
    { "power per mode [W]": mode, "absorbed power per pixel [W]": each },
  );
}
