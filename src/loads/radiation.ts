/**
 * A warm body seen through a stack of filters, each of which shines too.
 * @module
 */

import type { Catalogue } from "../materials/types.js";
import { gaussLegendre } from "../numerics/quadrature.js";
import { given } from "../provenance.js";
import { boltzmann, planck, speedOfLight } from "../units/constants.js";
import * as read from "../units/fields.js";
import { formatQuantity, formatShare } from "../units/format.js";
import type { Area, RareQuantity, Temperature } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { type Band, bandField, bandLimits } from "./band.js";
import {
  type Curve,
  curveOf,
  demandCover,
  missing,
  piecesBetween,
  type Transmission,
  transmission,
} from "./curve.js";
import { type LightLoad, lightLoad } from "./heat-load.js";
import type { LoadKind } from "./load-kind.js";
import { occupation, planckIntegral } from "./planck.js";

/** A source, filters and a pixel. */
export interface Radiation {
  /** Name in the budget, `radiation` by default. */
  readonly name?: string;
  /** Pixels that see alike, 1 by default. */
  readonly pixels?: number;
  /** A grey body, its light spread evenly over all directions. */
  readonly source: {
    /** Temperature of the warm body [K]. */
    readonly temperature: Uncertain<Temperature>;
    /** 1 by default. */
    readonly emissivity?: Uncertain<number>;
  };
  /** What of the source one pixel sees. */
  readonly through: Opening;
  /** From the source to the pixel. */
  readonly filters?: readonly Filter[];
  /** Light that is wanted; what comes at other wavelengths is out of band. */
  readonly band: Band;
  /** Share that the pixel absorbs, 1 by default. */
  readonly absorption?: Transmission;
}

/**
 * What one pixel sees: its area times the share of the half-space that the source fills (weighted by
 * the cosine), or an étendue, or a number of modes.
 */
export type Opening =
  | {
      /** Area of the opening [m²]. */
      readonly area: Uncertain<Area>;
      /** 1 by default. */
      readonly viewFactor?: Uncertain<number>;
    }
  | {
      /** Area times projected solid angle [m² sr]. */
      readonly etendue: Uncertain<RareQuantity<"m^2 sr" | "cm^2 sr" | "mm^2 sr">>;
    }
  | {
      /** Counting each polarisation. */
      readonly modes: Uncertain<number>;
    };

/** One filter, window or lens. */
export interface Filter {
  /** Its name, as results and messages show it. */
  readonly name: string;
  /** Temperature it glows with [K]. */
  readonly temperature: Uncertain<Temperature>;
  /** Transmission against wavelength, or one number. */
  readonly transmission: Transmission;
  /**
   * What it absorbs, and so shines with: all that it does not let through by default, less where it
   * reflects. At no wavelength does it count for more than 1 − transmission.
   */
  readonly emissivity?: Uncertain<number>;
}

export const radiationKind: LoadKind<Radiation> = {
  fields: read.object<Radiation>({
    name: read.optional(read.text),
    pixels: read.optional(read.count),
    source: read.object<Radiation["source"]>({
      temperature: read.quantity("temperature"),
      emissivity: read.optional(read.share),
    }),
    through: read.oneForm<Opening>()({
      area: { area: read.quantity("area"), viewFactor: read.optional(read.share) },
      etendue: { etendue: read.aboveZeroIn("m^2 sr", "cm^2 sr", "mm^2 sr") },
      modes: { modes: read.aboveZero },
    }),
    filters: read.optional(
      read.list(
        read.object<Filter>({
          name: read.text,
          temperature: read.quantityFromZero("temperature"),
          transmission,
          emissivity: read.optional(read.share),
        }),
        "a list of filters",
      ),
    ),
    band: bandField,
    absorption: read.optional(transmission),
  }),
  heat: (options, { name, field, catalogue }) => radiation({ ...options, name }, field, catalogue),
};

/** Radiation that pixels absorb, told apart by where it comes from and whether it is wanted. */
export interface RadiationHeat extends LightLoad {
  /** Of all pixels, at wavelengths of the band [W] */
  readonly inBand: number;
  /** Of all pixels, at other wavelengths [W] */
  readonly outOfBand: number;
  /** The source, then each filter. */
  readonly emitters: readonly {
    /** The body or filter that glows. */
    readonly name: string;
    /** In the band [W]. */
    readonly inBand: number;
    /** Out-of-band [W]. */
    readonly outOfBand: number;
  }[];
}

/** What shines, in the order in which light meets it. */
interface Emitter {
  readonly name: string;
  readonly temperature: number;
  /** Share of light from before it that goes on. */
  readonly passes: Curve;
  /** Share of a blackbody's light that it sends on. */
  emits(wavelength: number): number;
}

/**
 * Power that pixels absorb from a grey source through filters, which emit by Kirchhoff's law:
 *   P = Σ_i ∫ a ε_i Π_{j>i} t_j · M hν/(exp(hν/k_BT_i) − 1) dν,
 * over all wavelengths, with M = 2Eν²/c² modes of an étendue E = π × area × view factor. Photons are
 * counted in the band. Not included: light reflected between filters, and polarisation.
 * Source: M. F. Modest, Radiative Heat Transfer, 3rd ed. (2013), chapter 1, for the exchange.
 * @param field - path of the load in the user's description, for errors
 * @param catalogue - of the photometric bands; the standard one when absent
 * @throws FieldError, UnknownNameError; also where a curve leaves open what it transmits of the light there is
 */
export function radiation(
  options: Radiation,
  field = "radiation",
  catalogue?: Catalogue,
): RadiationHeat {
  const plain = radiationKind.fields.read(options, field);
  const { name = "radiation", pixels = 1, filters = [] } = plain;
  const [from, to] = bandLimits(plain.band, catalogue, `${field}.band`).wavelengths;
  const opening = modesOf(plain.through, `${field}.through`);
  const { emitters, provenance } = emittersOf(plain.source, filters, field);
  const absorption = curveOf(plain.absorption ?? 1, `${field}.absorption`);
  const hottest = Math.max(...emitters.map(({ temperature }) => temperature));
  const cover = (at: string, curve: Curve) => {
    // The wanted band first: what is missing there is what the user has in mind.
    demandCover(at, curve, from, to);
    demandAll(at, curve, hottest, opening.power);
  };
  filters.forEach((_, i) => {
    cover(`${field}.filters[${i}].transmission`, emitters[i + 1]!.passes);
  });
  cover(`${field}.absorption`, absorption);

  const shining = emitters.map(({ name }) => ({ name, inBand: 0, outOfBand: 0, photons: 0 }));
  for (const { frequency, weight } of frequencies(emitters, absorption, from, to, hottest)) {
    const wavelength = speedOfLight / frequency;
    const wanted = wavelength >= from && wavelength <= to;
    let onward = pixels * opening.modes(frequency) * weight * absorption.at(wavelength);
    for (let i = emitters.length - 1; i >= 0 && onward > 0; i--) {
      const { temperature, passes, emits } = emitters[i]!;
      const photons = onward * emits(wavelength) * occupation(frequency, temperature);
      shining[i]![wanted ? "inBand" : "outOfBand"] += planck * frequency * photons;
      if (wanted) shining[i]!.photons += photons;
      onward *= passes.at(wavelength);
    }
  }
  const inBand = shining.reduce((sum, each) => sum + each.inBand, 0);
  const outOfBand = shining.reduce((sum, each) => sum + each.outOfBand, 0);
  return {
    ...lightLoad(
      name,
      pixels,
      shining.map(({ photons, ...each }) => {
        return { name: each.name, power: each.inBand + each.outOfBand, photonRate: photons };
      }),
      [
        given(`${field}: pixels`, pixels, ""),
        given(`${field}: band from`, from, "m"),
        given(`${field}: band to`, to, "m"),
        ...opening.provenance,
        ...provenance,
      ],
      { "in the band [W]": inBand, "out-of-band [W]": outOfBand },
    ),
    inBand,
    outOfBand,
    emitters: shining.map(({ photons: _, ...each }) => each),
  };
}

function emittersOf(
  { temperature, emissivity = 1 }: read.Plain<Radiation["source"]>,
  filters: readonly read.Plain<Filter>[],
  field: string,
) {
  const stack = filters.map((filter, i): Emitter => {
    const { name, temperature, transmission, emissivity: own = 1 } = filter;
    const passes = curveOf(transmission, `${field}.filters[${i}].transmission`);
    const emits = (wavelength: number) => Math.min(own, 1 - passes.at(wavelength));
    return { name, temperature, passes, emits };
  });
  const passes = curveOf(1, field);
  const body: Emitter = { name: "source", temperature, passes, emits: () => emissivity };
  return {
    emitters: [body, ...stack],
    provenance: [
      given(`${field}: temperature of the source`, temperature, "K"),
      given(`${field}: emissivity of the source`, emissivity, ""),
      ...stack.map((filter) => given(`${filter.name}: temperature`, filter.temperature, "K")),
    ],
  };
}

/** What one pixel sees, in modes; and n of the ∫ xⁿ/(eˣ − 1) dx that the power over frequencies is. */
function modesOf(through: read.Plain<Opening>, field: string) {
  if ("modes" in through) {
    const { modes } = through;
    const provenance = [given(`${field}: modes`, modes, "")];
    return { modes: () => modes, power: 1 as const, provenance };
  }
  const etendue =
    "etendue" in through ? through.etendue : Math.PI * through.area * (through.viewFactor ?? 1);
  return {
    modes: (frequency: number) => (2 * etendue * frequency ** 2) / speedOfLight ** 2,
    power: 3 as const,
    provenance: [given(`${field}: etendue`, etendue, "m^2 sr")],
  };
}

/** A curve has to say what it transmits of all the light that the hottest thing here sends out. */
function demandAll(field: string, curve: Curve, hottest: number, power: 1 | 3): void {
  const x = (wavelength: number) =>
    (planck * speedOfLight) / (boltzmann * hottest * Math.max(wavelength, Number.MIN_VALUE));
  const whole = planckIntegral(power, 0, Number.POSITIVE_INFINITY);
  const short = planckIntegral(power, x(curve.from), Number.POSITIVE_INFINITY) / whole;
  const long = planckIntegral(power, 0, x(curve.to)) / whole;
  const gaps = [
    { side: "shorter", lost: short },
    { side: "longer", lost: long },
  ].filter(({ lost }) => lost > 1e-12);
  if (gaps.length === 0) return;
  const words = gaps.map(
    ({ side, lost }) => `${formatShare(lost)} of a blackbody's power at ${side} wavelengths`,
  );
  const at = formatQuantity(hottest, "K");
  const wanted = `a share at every wavelength; missing at ${at} is ${words.join(" and ")}`;
  throw missing(field, curve, wanted, gaps);
}

/** hν/k_BT beyond which the hottest sends nothing, and below which nothing that counts. */
const reduced = { least: 1e-9, most: 60 };

/** Points and weights of an integral over frequency, smooth between the bends of all curves. */
function* frequencies(
  emitters: readonly Emitter[],
  absorption: Curve,
  from: number,
  to: number,
  hottest: number,
): Generator<{ readonly frequency: number; readonly weight: number }> {
  const scale = (boltzmann * hottest) / planck;
  const [low, high] = [reduced.least * scale, reduced.most * scale];
  const bent = [...emitters.flatMap(({ passes }) => passes.bends), ...absorption.bends, from, to];
  const bends = bent.map((wavelength) => speedOfLight / wavelength);
  for (const [a, b] of piecesBetween(low, high, bends)) {
    const length = Math.log(b / a);
    const panels = Math.ceil(length / 0.25);
    const { nodes, weights } = gaussLegendre(length < 0.02 ? 4 : 8);
    for (let panel = 0; panel < panels; panel++) {
      const half = length / panels / 2;
      const middle = Math.log(a) + (2 * panel + 1) * half;
      for (let j = 0; j < nodes.length; j++) {
        const frequency = Math.exp(middle + half * nodes[j]!);
        yield { frequency, weight: half * weights[j]! * frequency };
      }
    }
  }
}
