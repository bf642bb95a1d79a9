/**
 * Light that the pixels absorb.
 * @module
 */
import type { Catalogue } from "../materials/types.js";
import { given } from "../provenance.js";
import * as read from "../units/fields.js";
import type { Power, Temperature } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { frequenciesOf, type WithBand, withBand } from "./band.js";
import { type LightLoad, lightLoad } from "./heat-load.js";
import type { LoadKind } from "./load-kind.js";
import { type ModeLaw, modeLaw, modeOf } from "./planck.js";

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
  | (WithBand & {
      /** Of the source [K]: physical for `planck`, brightness for `rayleigh-jeans`. */
      readonly temperature: Uncertain<Temperature>;
      /** Modes a pixel couples to, counting each polarisation; 1 by default. */
      readonly modes?: Uncertain<number>;
      /** Share of the source's power that the pixel absorbs, 1 by default. */
      readonly efficiency?: Uncertain<number>;
      /** `planck` by default. */
      readonly law?: ModeLaw;
    })
);

const common = { name: read.optional(read.text), pixels: read.count };

type Source = Omit<read.Having<Optical, "temperature">, "band" | "from" | "to">;

export const opticalKind: LoadKind<Optical> = {
  fields: read.oneForm<Optical>()({
    powerPerPixel: { ...common, powerPerPixel: read.quantityFromZero("power") },
    temperature: read.together<Source, WithBand>(
      read.object<Source>({
        ...common,
        temperature: read.quantity("temperature"),
        modes: read.optional(read.aboveZero),
        efficiency: read.optional(read.share),
        law: read.optional(modeLaw),
      }),
      withBand(read.quantityFromZero("frequency")),
    ),
  }),
  heat: (options, { name, field, catalogue }) => optical({ ...options, name }, field, catalogue),
};

/**
 * Optical load: pixels × absorbed power, which is given or modes × efficiency × the power of one
 * mode (`planckPower`, `rayleighJeansPower`).
 * @param field - path of the load in the user's description, for errors
 * @param catalogue - of the photometric bands; the standard one when absent
 * @throws FieldError, UnknownNameError
 */
export function optical(options: Optical, field = "optical", catalogue?: Catalogue): LightLoad {
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
  const { temperature, modes = 1, efficiency = 1, law = "planck" } = plain;
  const [from, to] = frequenciesOf(plain, catalogue, field);
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
