/**
 * The night sky and a star on photon-counting pixels, visible and near infrared.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { integrateBy } from "../numerics/quadrature.js";
import { given, type Provenance } from "../provenance.js";
import { anObject, notNegativeNumber, positive, share, wholeNumber } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { formatNumber } from "../units/format.js";
import type { Angle, Area } from "../units/quantity.js";
import { type Curve, demandCover, readTransmission, type Transmission } from "./curve.js";
import { type LightLoad, type LightPart, lightLoad } from "./heat-load.js";
import {
  type BandChoice,
  type Night,
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
  readonly sky: Night | number;
  /** That collects light [m²]. */
  readonly telescopeArea: Area;
  /** Side of the square of sky that a pixel sees [rad]. */
  readonly pixelScale: Angle;
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
  readonly magnitude: number;
  /** Magnitudes that the atmosphere takes, 0 by default. */
  readonly extinction?: number;
  /** Share of its light on its brightest pixel, 1 by default. */
  readonly shareOnBrightest?: number;
}

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
  anObject(field, options);
  const { name = "night sky", throughput = 1, absorption = 1, star } = options;
  const pixels = wholeNumber(`${field}.pixels`, options.pixels);
  const area = positive(`${field}.telescopeArea`, options.telescopeArea, "area");
  const side = positive(`${field}.pixelScale`, options.pixelScale, "angle");
  if (side > 0.02) {
    throw new FieldError(
      `${field}.pixelScale`,
      'an angle such as "0.5 arcsec", 1 deg at most',
      options.pixelScale,
    );
  }
  const band = photometricBand(options.band, catalogue, `${field}.band`);
  const curves = [
    readTransmission(`${field}.throughput`, throughput, "a throughput"),
    readTransmission(`${field}.absorption`, absorption, "an absorption"),
  ];
  demandCover(`${field}.throughput`, curves[0]!, band.from, band.to);
  demandCover(`${field}.absorption`, curves[1]!, band.from, band.to);
  const brightness = brightnessOf(options.sky, band, catalogue, `${field}.sky`);

  const zero = magnitudeZero(band, curves);
  const squares = side ** 2 * squareArcseconds;
  const parts = [part("sky", zero, area * pixels * squares * dimming(brightness.value))];
  const details: Record<string, number> = {
    "sky seen by a pixel [arcsec^2]": squares,
    "photons of the sky [1/(s m^2 arcsec^2)]":
      magnitudeZero(band, []).photons * dimming(brightness.value),
    "mean energy of an absorbed photon [J]": zero.photons === 0 ? 0 : zero.energy / zero.photons,
  };
  if (star !== undefined) {
    const { dimmed, onBrightest } = readStar(star, `${field}.star`);
    const light = part("star", zero, area * dimmed);
    parts.push(light);
    details["absorbed by the brightest pixel [W]"] =
      parts[0]!.power / pixels + onBrightest * light.power;
    details["photons on the brightest pixel [1/s]"] =
      parts[0]!.photonRate / pixels + onBrightest * light.photonRate;
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
      ...shares(field, { throughput, absorption }),
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
function magnitudeZero(
  band: PhotometricBand,
  curves: readonly Curve[],
): { readonly photons: number; readonly energy: number } {
  const all = [band.transmission, ...curves];
  const inside = all
    .flatMap(({ bends }) => bends)
    .filter((bend) => bend > band.from && bend < band.to);
  const edges = [...new Set([band.from, ...inside, band.to])].sort((a, b) => a - b);
  let [photons, energy] = [0, 0];
  for (let i = 1; i < edges.length; i++) {
    const rate = (wavelength: number) =>
      all.reduce((product, curve) => product * curve.at(wavelength), band.photons(wavelength));
    const [from, to] = [edges[i - 1]!, edges[i]!];
    photons += integrateBy(rate, from, to, 8);
    energy += integrateBy((wavelength) => rate(wavelength) * photonEnergy(wavelength), from, to, 8);
  }
  return { photons, energy };
}

function part(
  name: string,
  zero: { readonly photons: number; readonly energy: number },
  factor: number,
): LightPart {
  return { name, power: zero.energy * factor, photonRate: zero.photons * factor };
}

function brightnessOf(
  sky: Night | number,
  band: PhotometricBand,
  catalogue: Catalogue,
  field: string,
): { readonly value: number; readonly provenance: Provenance } {
  if (typeof sky === "string") return skyBrightness(sky, band, catalogue, field);
  const value = magnitude(field, sky, "magnitudes a square arcsecond");
  return { value, provenance: given(field, value, "", "magnitudes a square arcsecond") };
}

function readStar(star: Star, field: string): { dimmed: number; onBrightest: number } {
  const { extinction = 0, shareOnBrightest = 1 } = star;
  const own = magnitude(`${field}.magnitude`, star.magnitude, "a magnitude");
  notNegativeNumber(`${field}.extinction`, extinction, "magnitudes of extinction");
  share(`${field}.shareOnBrightest`, shareOnBrightest, "a share of the star's light");
  return { dimmed: dimming(own + extinction), onBrightest: shareOnBrightest };
}

function magnitude(field: string, value: unknown, what: string): number {
  if (typeof value === "number" && Math.abs(value) <= 50) return value;
  throw new FieldError(field, `${what}, a number from ${formatNumber(-50)} to 50`, value);
}

/** 10^(−0.4 m) */
function dimming(magnitudes: number): number {
  return 10 ** (-0.4 * magnitudes);
}

/** Provenance of shares that are one number. */
function shares(field: string, given_: Readonly<Record<string, Transmission>>): Provenance[] {
  return Object.entries(given_).flatMap(([name, value]) =>
    typeof value === "number" && value !== 1 ? [given(`${field}: ${name}`, value, "")] : [],
  );
}
