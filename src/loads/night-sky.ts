/**
 * The night sky and a star on photon-counting pixels, visible and near infrared.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { integrateBy } from "../numerics/quadrature.js";
import { given } from "../provenance.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import type { Angle, Area } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import {
  type Curve,
  curveOf,
  demandCover,
  piecesBetween,
  type Transmission,
  transmission,
} from "./curve.js";
import { type LightLoad, type LightPart, lightLoad } from "./heat-load.js";
import type { LoadKind } from "./load-kind.js";
import {
  type BandChoice,
  band,
  type Night,
  night,
  type PhotometricBand,
  photometricBand,
  photonEnergy,
  skyBrightness,
} from "./photometry.js";

/** What the pixels see through a telescope. */
export interface NightSky {
  /** Name in the budget, `night sky` by default. */
  readonly name?: string;
  /** How many, all alike. */
  readonly pixels: number;
  /** Band in which it looks. */
  readonly band: BandChoice;
  /** A night on file, or magnitudes a square arcsecond in the band's own zero point. */
  readonly sky: Night | Uncertain<number>;
  /** That collects light [m²]. */
  readonly telescopeArea: Uncertain<Area>;
  /** Side of the square of sky that a pixel sees [rad]. */
  readonly pixelScale: Uncertain<Angle>;
  /** Of everything between the sky's top and the pixel, 1 by default; the band's curve not counted. */
  readonly throughput?: Transmission;
  /** Share of the photons at a pixel that it absorbs, 1 by default. */
  readonly absorption?: Transmission;
  /** A star among it. */
  readonly star?: Star;
}

/** A star of given magnitude in the same band and zero point. */
export interface Star {
  /** Above the atmosphere. */
  readonly magnitude: Uncertain<number>;
  /** Magnitudes that the atmosphere takes, 0 by default. */
  readonly extinction?: Uncertain<number>;
  /** Share of its light on its brightest pixel, 1 by default. */
  readonly shareOnBrightest?: Uncertain<number>;
}

const magnitude = read.number("a magnitude from -50 to 50", (m) => Math.abs(m) <= 50);

export const skyKind: LoadKind<NightSky> = {
  fields: read.object<NightSky>({
    name: read.optional(read.text),
    pixels: read.count,
    band,
    sky: read.either<Night, Uncertain<number>>((sky) => typeof sky === "string", night, magnitude),
    telescopeArea: read.quantity("area"),
    pixelScale: read.quantity("angle"),
    throughput: read.optional(transmission),
    absorption: read.optional(transmission),
    star: read.optional(
      read.object<Star>({
        magnitude,
        extinction: read.optional(read.fromZero),
        shareOnBrightest: read.optional(read.share),
      }),
    ),
  }),
  heat: (options, { name, field, catalogue }) => nightSky({ ...options, name }, catalogue, field),
};

/** Square arcseconds of a steradian. */
const squareArcseconds = (648000 / Math.PI) ** 2;

/**
 * Light of sky and star that the pixels absorb:
 *   Ṅ = A ∫ N_λ T(λ) η(λ) a(λ) dλ · (n θ² 10^(−0.4 m_sky) + 10^(−0.4 m_star)),  P = ∫ (hc/λ) dṄ,
 * N_λ the photons of magnitude 0, θ² in square arcseconds, n pixels, η throughput, a absorption. The
 * sky's magnitudes are as seen from the ground, so only the star suffers extinction.
 * Source: M. S. Bessell, Annu. Rev. Astron. Astrophys. 43, 293 (2005), for magnitudes as photons.
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError, UnknownNameError
 * @example nightSky({ pixels: 1e4, band: "V", sky: "dark", telescopeArea: "10 m^2",
 *   pixelScale: "0.5 arcsec" }).photonRatePerPixel // 49: 19.6 /(s m² arcsec²) on 2.5 m² arcsec²
 */
export function nightSky(
  options: NightSky,
  catalogue: Catalogue = standardCatalogue(),
  field = "nightSky",
): LightLoad {
  const plain = skyKind.fields.read(options, field);
  const { name = "night sky", pixels, telescopeArea: area, pixelScale: side } = plain;
  const { throughput = 1, absorption = 1, star } = plain;
  if (side > 0.02) {
    const wanted = 'an angle such as "0.5 arcsec", 1 deg at most';
    throw new FieldError(`${field}.pixelScale`, wanted, `${side} rad`);
  }
  const band = photometricBand(plain.band, catalogue, `${field}.band`);
  const shares = Object.entries({ throughput, absorption });
  const curves = shares.map(([name, share]) => curveOf(share, `${field}.${name}`));
  shares.forEach(([name], i) => {
    demandCover(`${field}.${name}`, curves[i]!, band.from, band.to);
  });

  const brightness =
    typeof plain.sky === "string"
      ? skyBrightness(plain.sky, band, catalogue, `${field}.sky`)
      : {
          value: plain.sky,
          provenance: given(`${field}.sky`, plain.sky, "", "magnitudes a square arcsecond"),
        };
  const zero = magnitudeZero(band, curves);
  const squares = side ** 2 * squareArcseconds;
  const part = (name: string, factor: number): LightPart => {
    return { name, power: zero.energy * factor, photonRate: zero.photons * factor };
  };
  const sky = part("sky", area * pixels * squares * dimming(brightness.value));
  const parts = [sky];
  const details: Record<string, number> = {
    "sky seen by a pixel [arcsec^2]": squares,
    "photons of the sky [1/(s m^2 arcsec^2)]": starPhotons(band, brightness.value),
    "mean energy of an absorbed photon [J]": zero.photons === 0 ? 0 : zero.energy / zero.photons,
  };
  if (star !== undefined) {
    const { magnitude, extinction = 0, shareOnBrightest = 1 } = star;
    const light = part("star", area * dimming(magnitude + extinction));
    parts.push(light);
    details["absorbed by the brightest pixel [W]"] =
      sky.power / pixels + shareOnBrightest * light.power;
    details["photons on the brightest pixel [1/s]"] =
      sky.photonRate / pixels + shareOnBrightest * light.photonRate;
  }
  return lightLoad(
    name,
    pixels,
    parts,
    [
      given(`${field}: pixels`, pixels, ""),
      ...band.provenance,
      brightness.provenance,
      given(`${field}: area of the telescope`, area, "m^2"),
      given(`${field}: sky seen by a pixel`, side ** 2, "sr"),
      ...shares.flatMap(([name, share]) =>
        typeof share === "number" && share !== 1 ? [given(`${field}: ${name}`, share, "")] : [],
      ),
      ...(star === undefined ? [] : [given(`${field}: magnitude of the star`, star.magnitude, "")]),
    ],
    details,
  );
}

/**
 * Photons of a star above the atmosphere through one square metre [1/(s m²)]: in the band's own zero
 * point, through the band alone.
 */
export function starPhotons(band: PhotometricBand, magnitude: number): number {
  return magnitudeZero(band, []).photons * dimming(magnitude);
}

/** Photons [1/(s m²)] and power [W/m²] of magnitude 0 through a band and more curves. */
function magnitudeZero(band: PhotometricBand, curves: readonly Curve[]) {
  const all = [band.transmission, ...curves];
  const rate = (wavelength: number) =>
    all.reduce((product, curve) => product * curve.at(wavelength), band.photons(wavelength));
  const power = (wavelength: number) => rate(wavelength) * photonEnergy(wavelength);
  const bends = all.flatMap((curve) => curve.bends);
  let [photons, energy] = [0, 0];
  for (const [from, to] of piecesBetween(band.from, band.to, bends)) {
    photons += integrateBy(rate, from, to, 8);
    energy += integrateBy(power, from, to, 8);
  }
  return { photons, energy };
}

/** 10^(−0.4 m) */
function dimming(magnitudes: number): number {
  return 10 ** (-0.4 * magnitudes);
}
