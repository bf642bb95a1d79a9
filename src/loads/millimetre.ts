/**
 * Millimetre and submillimetre waves on pixels that couple to single modes.
 * @module
 */
import { given, type Provenance } from "../provenance.js";
import {
  aList,
  anObject,
  notNegative,
  notNegativeNumber,
  positive,
  positiveNumber,
  share,
  wholeNumber,
} from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import type { Frequency, Temperature } from "../units/quantity.js";
import { type LightLoad, type LightPart, lightLoad } from "./heat-load.js";
import { type ModeLaw, modeLaw, risingBand } from "./mode-band.js";
import {
  planckPhotonRate,
  planckPower,
  rayleighJeansCorrection,
  rayleighJeansPhotonRate,
  rayleighJeansPower,
} from "./planck.js";

/** A beam from the sky through a chain of optics to a pixel, in one band. */
export interface Millimetre {
  /** Name in the budget, `millimetre waves` by default. */
  readonly name?: string;
  /** How many, all alike. */
  readonly pixels: number;
  /** Lower edge of the band [Hz]. */
  readonly from: Frequency;
  /** Upper edge of the band [Hz]. */
  readonly to: Frequency;
  /** Modes a pixel couples to, counting each polarisation; 1 by default. */
  readonly modes?: number;
  /** What the chain looks at. */
  readonly source: BlackSource | Atmosphere;
  /** What the beam passes, from the source to the pixel: telescope, window, lenses, filters. */
  readonly chain?: readonly ChainElement[];
  /** Share of what arrives that the pixel absorbs, 1 by default. */
  readonly absorption?: number;
  /** `planck` by default; `rayleigh-jeans` gives each mode k_BTΔν, whatever hν. */
  readonly law?: ModeLaw;
}

/** A source that fills the beam and is black: a load, or a sky of known brightness. */
export interface BlackSource {
  /** Physical for `planck`, of brightness for `rayleigh-jeans` [K]. */
  readonly temperature: Temperature;
}

/** Air of known opacity before a colder sky. */
export interface Atmosphere {
  /** Optical depth at the zenith, τ. */
  readonly opacity: number;
  /** Lengths of the path in units of the zenith's, 1 by default. */
  readonly airmass?: number;
  /** Of the air [K]. */
  readonly airTemperature: Temperature;
  /** Of what shines through it, 2.725 K by default [K]. */
  readonly behind?: Temperature;
}

/** One thing that the beam passes. */
export interface ChainElement {
  /** Its name. */
  readonly name: string;
  /** Share it lets through in the band. */
  readonly transmission: number;
  /** Temperature [K]: it shines with the share it does not let through; without one it does not shine. */
  readonly temperature?: Temperature;
}

/**
 * Power that pixels absorb from source and optics:
 *   P = m a Σ ε_i Π_{j>i} t_j · p(T_i),  p = ∫ hν/(exp(hν/k_BT) − 1) dν or k_BTΔν,
 * with ε = 1 − t of each element, 1 − e^(−τX) of the air and 1 of a black source; m modes, a the
 * absorption. Not included: light that an element scatters from elsewhere.
 * Source: J. Zmuidzinas, Appl. Opt. 42, 4989 (2003); the emissivities are Kirchhoff's law.
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError
 */
export function millimetre(options: Millimetre, field = "millimetre"): LightLoad {
  anObject(field, options);
  const { name = "millimetre waves", modes = 1, absorption = 1 } = options;
  const pixels = wholeNumber(`${field}.pixels`, options.pixels);
  const from = positive(`${field}.from`, options.from, "frequency");
  const to = positive(`${field}.to`, options.to, "frequency");
  risingBand(field, from, to, options.to);
  positiveNumber(`${field}.modes`, modes, "a number of modes");
  share(`${field}.absorption`, absorption, "a share of the power");
  const law = modeLaw(field, options.law);
  const { emitters, provenance, details } = readBeam(options, field);

  const black = law === "planck";
  const parts: LightPart[] = emitters.map(({ name: emitter, emissivity, temperature }, i) => {
    const onward = emitters.slice(i + 1).reduce((product, { passes }) => product * passes, 1);
    const factor = pixels * modes * absorption * emissivity * onward;
    const power = black
      ? planckPower(temperature, from, to)
      : rayleighJeansPower(temperature, to - from);
    const photons = black
      ? planckPhotonRate(temperature, from, to)
      : rayleighJeansPhotonRate(temperature, from, to);
    return { name: emitter, power: factor * power, photonRate: factor * photons };
  });
  const warmest = emitters.reduce((a, b) => (b.temperature > a.temperature ? b : a));
  const middle = (from + to) / 2;
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
      ...provenance,
    ],
    {
      ...details,
      "transmission from source to pixel": throughput,
      ...(warmest.temperature > 0 && {
        "Planck's power over k_BTΔν at the warmest": rayleighJeansCorrection(
          middle,
          warmest.temperature,
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

/** What was read of a source or of a whole beam. */
interface Beam {
  readonly emitters: readonly Emitter[];
  readonly provenance: readonly Provenance[];
  readonly details: Readonly<Record<string, number>>;
}

function readBeam({ source, chain = [] }: Millimetre, field: string): Beam {
  const { emitters, provenance, details } = readSource(source, `${field}.source`);
  const elements = aList(`${field}.chain`, chain, "a list of elements").map(
    (element, i): Emitter => {
      const at = `${field}.chain[${i}]`;
      anObject(at, element);
      const passes = share(`${at}.transmission`, element.transmission, "a transmission");
      const temperature =
        element.temperature === undefined
          ? 0
          : notNegative(`${at}.temperature`, element.temperature, "temperature");
      if (typeof element.name !== "string" || element.name === "") {
        throw new FieldError(`${at}.name`, "a name for the table", element.name);
      }
      return { name: element.name, emissivity: 1 - passes, temperature, passes };
    },
  );
  return {
    emitters: [...emitters, ...elements],
    provenance: [
      ...provenance,
      ...elements.flatMap(({ name, passes, temperature }) => [
        given(`${name}: transmission`, passes, ""),
        given(`${name}: temperature`, temperature, "K"),
      ]),
    ],
    details,
  };
}

function readSource(source: BlackSource | Atmosphere, field: string): Beam {
  if (typeof source !== "object" || source === null) {
    throw new FieldError(field, "a temperature, or an opacity with airTemperature", source);
  }
  if (!("opacity" in source)) {
    const temperature = notNegative(`${field}.temperature`, source.temperature, "temperature");
    return {
      emitters: [{ name: "source", emissivity: 1, temperature, passes: 1 }],
      provenance: [given(`${field}: temperature`, temperature, "K")],
      details: {},
    };
  }
  const { airmass = 1, behind: behindGiven = 2.725 } = source;
  const opacity = notNegativeNumber(`${field}.opacity`, source.opacity, "an optical depth");
  if (!(typeof airmass === "number" && airmass >= 1 && airmass < 40)) {
    throw new FieldError(`${field}.airmass`, "a number of air masses from 1 to 40", airmass);
  }
  const air = positive(`${field}.airTemperature`, source.airTemperature, "temperature");
  const behind = notNegative(`${field}.behind`, behindGiven, "temperature");
  const depth = opacity * airmass;
  return {
    emitters: [
      { name: "behind the air", emissivity: 1, temperature: behind, passes: 1 },
      {
        name: "air",
        emissivity: -Math.expm1(-depth),
        temperature: air,
        passes: Math.exp(-depth),
      },
    ],
    provenance: [
      given(`${field}: opacity`, opacity, ""),
      given(`${field}: air masses`, airmass, ""),
      given(`${field}: temperature of the air`, air, "K"),
      given(`${field}: temperature behind the air`, behind, "K"),
    ],
    details: { "emissivity of the air": -Math.expm1(-depth) },
  };
}
