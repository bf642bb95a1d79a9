/**
 * Millimetre and submillimetre waves on pixels that couple to single modes.
 * @module
 */
import type { Catalogue } from "../materials/types.js";
import { given } from "../provenance.js";
import * as read from "../units/fields.js";
import type { Temperature } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { frequenciesOf, type WithBand, withBand } from "./band.js";
import { type LightLoad, type LightPart, lightLoad } from "./heat-load.js";
import type { LoadKind } from "./load-kind.js";
import { type ModeLaw, modeLaw, modeOf, rayleighJeansCorrection } from "./planck.js";

/** A beam from the sky through a chain of optics to a pixel, in one band. */
export type Millimetre = Beam & WithBand;

/** A beam from the sky through a chain of optics to a pixel. */
export interface Beam {
  /** Name in the budget, `millimetre waves` by default. */
  readonly name?: string;
  /** How many, all alike. */
  readonly pixels: number;
  /** Modes a pixel couples to, counting each polarisation; 1 by default. */
  readonly modes?: Uncertain<number>;
  /** What the chain looks at. */
  readonly source: BlackSource | Atmosphere;
  /** What the beam passes, from the source to the pixel: telescope, window, lenses, filters. */
  readonly chain?: readonly ChainElement[];
  /** Share of what arrives that the pixel absorbs, 1 by default. */
  readonly absorption?: Uncertain<number>;
  /** `planck` by default; `rayleigh-jeans` gives each mode k_BTΔν, whatever hν. */
  readonly law?: ModeLaw;
}

/** A source that fills the beam and is black: a load, or a sky of known brightness. */
export interface BlackSource {
  /** Physical for `planck`, of brightness for `rayleigh-jeans` [K]. */
  readonly temperature: Uncertain<Temperature>;
}

/** Air of known opacity before a colder sky. */
export interface Atmosphere {
  /** Optical depth at the zenith, τ. */
  readonly opacity: Uncertain<number>;
  /** Lengths of the path in units of the zenith's, 1 by default. */
  readonly airmass?: Uncertain<number>;
  /** Of the air [K]. */
  readonly airTemperature: Uncertain<Temperature>;
  /** Of what shines through it, 2.725 K by default [K]. */
  readonly behind?: Uncertain<Temperature>;
}

/** One thing that the beam passes. */
export interface ChainElement {
  /** Its name. */
  readonly name: string;
  /** Share it lets through in the band. */
  readonly transmission: Uncertain<number>;
  /** Temperature [K]: it shines with the share it does not let through; without one it does not shine. */
  readonly temperature?: Uncertain<Temperature>;
}

const temperature = read.quantityFromZero("temperature");

export const millimetreKind: LoadKind<Millimetre> = {
  fields: read.together<Beam, WithBand>(
    read.object<Beam>({
      name: read.optional(read.text),
      pixels: read.count,
      modes: read.optional(read.aboveZero),
      source: read.oneForm<BlackSource | Atmosphere>()({
        temperature: read.object<BlackSource>({ temperature }),
        opacity: read.object<Atmosphere>({
          opacity: read.fromZero,
          airmass: read.optional(
            read.number("a number of air masses from 1 to 40", (n) => n >= 1 && n < 40),
          ),
          airTemperature: read.quantity("temperature"),
          behind: read.optional(temperature),
        }),
      }),
      chain: read.optional(
        read.list(
          read.object<ChainElement>({
            name: read.text,
            transmission: read.share,
            temperature: read.optional(temperature),
          }),
          "a list of elements",
        ),
      ),
      absorption: read.optional(read.share),
      law: read.optional(modeLaw),
    }),
    withBand(read.quantity("frequency")),
  ),
  heat: (options, { name, field, catalogue }) => millimetre({ ...options, name }, field, catalogue),
};

/**
 * Power that pixels absorb from source and optics:
 *   P = m a Σ ε_i Π_{j>i} t_j · p(T_i),  p = ∫ hν/(exp(hν/k_BT) − 1) dν or k_BTΔν,
 * with ε = 1 − t of each element, 1 − e^(−τX) of the air and 1 of a black source; m modes, a the
 * absorption. Not included: light that an element scatters from elsewhere.
 * Source: J. Zmuidzinas, Appl. Opt. 42, 4989 (2003); the emissivities are Kirchhoff's law.
 * @param field - path of the load in the user's description, for errors
 * @param catalogue - of the photometric bands; the standard one when absent
 * @throws FieldError, UnknownNameError
 */
export function millimetre(
  options: Millimetre,
  field = "millimetre",
  catalogue?: Catalogue,
): LightLoad {
  const plain = millimetreKind.fields.read(options, field);
  const { name = "millimetre waves", pixels } = plain;
  const { chain = [], modes = 1, absorption = 1, law = "planck" } = plain;
  const [from, to] = frequenciesOf(plain, catalogue, field);
  const beam = sourceOf(plain.source, `${field}.source`);
  const emitters = [
    ...beam.emitters,
    ...chain.map(
      ({ name, transmission: passes, temperature = 0 }): Emitter => ({
        name,
        emissivity: 1 - passes,
        temperature,
        passes,
      }),
    ),
  ];
  const parts: LightPart[] = emitters.map(({ name, emissivity, temperature }, i) => {
    const onward = emitters.slice(i + 1).reduce((product, { passes }) => product * passes, 1);
    const factor = pixels * modes * absorption * emissivity * onward;
    const { power, photonRate } = modeOf(law, temperature, from, to);
    return { name, power: factor * power, photonRate: factor * photonRate };
  });
  const warmest = Math.max(...emitters.map(({ temperature }) => temperature));
  const throughput = emitters.slice(1).reduce((product, { passes }) => product * passes, 1);
  return lightLoad(
    name,
    pixels,
    parts,
    [
      given(`${field}: pixels`, pixels, ""),
      given(`${field}: lower edge of the band`, from, "Hz"),
      given(`${field}: upper edge of the band`, to, "Hz"),
      given(`${field}: modes`, modes, ""),
      given(`${field}: absorption`, absorption, "", law),
      ...beam.provenance,
      ...chain.flatMap(({ name, transmission, temperature = 0 }) => [
        given(`${name}: transmission`, transmission, ""),
        given(`${name}: temperature`, temperature, "K"),
      ]),
    ],
    {
      ...beam.details,
      "transmission from source to pixel": throughput,
      ...(warmest > 0 && {
        "Planck's power over k_BTΔν at the warmest": rayleighJeansCorrection(
          (from + to) / 2,
          warmest,
        ),
      }),
    },
  );
}

/** What shines, in the order in which light meets it. */
interface Emitter {
  readonly name: string;
  readonly emissivity: number;
  /** [K]; 0 where it does not shine */
  readonly temperature: number;
  /** Share of the light from before it that it lets through. */
  readonly passes: number;
}

/** What shines at the start of the beam. */
function sourceOf(source: read.Plain<Millimetre["source"]>, field: string) {
  if (!("opacity" in source)) {
    const { temperature } = source;
    return {
      emitters: [{ name: "source", emissivity: 1, temperature, passes: 1 }],
      provenance: [given(`${field}: temperature`, temperature, "K")],
      details: {},
    };
  }
  const { opacity, airmass = 1, airTemperature: air, behind = 2.725 } = source;
  const depth = opacity * airmass;
  const emissivity = -Math.expm1(-depth);
  return {
    emitters: [
      { name: "behind the air", emissivity: 1, temperature: behind, passes: 1 },
      { name: "air", emissivity, temperature: air, passes: Math.exp(-depth) },
    ],
    provenance: [
      given(`${field}: opacity`, opacity, ""),
      given(`${field}: air masses`, airmass, ""),
      given(`${field}: temperature of the air`, air, "K"),
      given(`${field}: temperature behind the air`, behind, "K"),
    ],
    details: { "emissivity of the air": emissivity },
  };
}
