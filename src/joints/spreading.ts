/**
 * Heat that spreads in a sheet or into a block.
 *
 * In Θ = ∫κ dT the steady flow in a body of one material is a linear problem, whatever κ(T) is, so
 * that each shape has one factor s [m]: Θ_hot − Θ_cold = Q/s.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { type ConductivityOptions, conductivityFields } from "../materials/options.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { FieldError } from "../units/errors.js";
import { count, object, oneOf, optional, quantity, text } from "../units/fields.js";
import { formatQuantity } from "../units/format.js";
import type { Area, Length } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { alike } from "./combine.js";
import { materialConductivity, stripConductor } from "./strip.js";

/** A rectangular sheet. */
export interface EvenlyHeatedSheet extends ConductivityOptions {
  /** Name in the catalogue. */
  readonly material: string;
  /** Along the heat flow [m]. */
  readonly length: Uncertain<Length>;
  /** Across the heat flow [m]. */
  readonly width: Uncertain<Length>;
  /** Thickness of the sheet [m]. */
  readonly thickness: Uncertain<Length>;
  /** Temperature of the hottest place (default), or the mean over the sheet (a mean of Θ). */
  readonly place?: "hottest" | "mean";
}

const length = quantity("length");

const sheetFields = object<EvenlyHeatedSheet>({
  material: text,
  length,
  width: length,
  thickness: length,
  place: optional(oneOf("hottest", "mean")),
  ...conductivityFields,
});

/**
 * From a sheet that is heated evenly to its four edges, all at one temperature: s = t/f with the
 * factor f of `sheetFactor`.
 * @param field - path of the sheet in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function sheetToEdges(
  options: EvenlyHeatedSheet,
  catalogue: Catalogue = standardCatalogue(),
  field = "sheetToEdges",
): Conductor {
  const plain = sheetFields.read(options, field);
  const { length, width, thickness, place = "hottest" } = plain;
  const conductivity = materialConductivity("material", plain, catalogue, field, thickness);
  const sheet = stripConductor(conductivity, thickness / sheetFactor(length / width, place));
  return alike(field, undefined, sheet, [
    ["length", length, "m"],
    ["width", width, "m"],
    ["thickness", thickness, "m"],
  ]);
}

/**
 * Factor f of an evenly heated rectangle with cold edges: Θ − Θ_edge = f Q/t, Q the whole heat and
 * t the thickness. Solves ∇²u = −1 on a × b; f = u/(ab).
 *   hottest: u = (a²/8) [1 − (32/π³) Σ (−1)^((n−1)/2) / (n³ cosh(nπb/2a))],  n odd
 *   mean:    u = (a²/12) [1 − (192a/(π⁵b)) Σ tanh(nπb/2a)/n⁵],  n odd
 * For a square 0.07367 and 0.03514.
 * Source: H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), chapter V
 * (steady temperature in a rectangle); the same function as the torsion of a bar, S. P. Timoshenko
 * and J. N. Goodier, Theory of Elasticity, 3rd ed. (1970), section 109.
 * @param aspect - b/a or a/b
 */
export function sheetFactor(aspect: number, place: "hottest" | "mean"): number {
  const r = aspect < 1 ? 1 / aspect : aspect; // b/a with a the shorter side
  let sum = 0;
  for (let n = 1; n < 60; n += 2) {
    const x = (n * Math.PI * r) / 2;
    sum +=
      place === "hottest"
        ? (n % 4 === 1 ? 1 : -1) / (n ** 3 * Math.cosh(Math.min(x, 700)))
        : Math.tanh(x) / n ** 5;
  }
  return place === "hottest"
    ? (1 - (32 / Math.PI ** 3) * sum) / (8 * r)
    : (1 - ((192 / Math.PI ** 5) * sum) / r) / (12 * r);
}

/** A film around a small round foot. */
export interface RadialSpreading extends ConductivityOptions {
  /** Name in the catalogue. */
  readonly material: string;
  /** Thickness of the plate [m]. */
  readonly thickness: Uncertain<Length>;
  /** Of the foot [m]. */
  readonly innerRadius: Uncertain<Length>;
  /** Where the heat has left the film [m]. */
  readonly outerRadius: Uncertain<Length>;
  /** How many feet alike, far from each other, 1 by default. */
  readonly count?: number;
}

const radialFields = object<RadialSpreading>({
  material: text,
  thickness: length,
  innerRadius: length,
  outerRadius: length,
  count: optional(count),
  ...conductivityFields,
});

/**
 * In a film, from a small foot outward: s = 2πt/ln(r₂/r₁).
 * Source: H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), section 7.2
 * (hollow cylinder).
 * @param field - path of the film in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function radialSpreading(
  options: RadialSpreading,
  catalogue: Catalogue = standardCatalogue(),
  field = "radialSpreading",
): Conductor {
  const plain = radialFields.read(options, field);
  const { thickness, innerRadius: inner, outerRadius: outer } = plain;
  if (outer <= inner) {
    const wanted = `a length above the inner radius (${formatQuantity(inner, "m")})`;
    throw new FieldError(`${field}.outerRadius`, wanted, options.outerRadius);
  }
  const conductivity = materialConductivity("material", plain, catalogue, field, thickness);
  const film = stripConductor(conductivity, (2 * Math.PI * thickness) / Math.log(outer / inner));
  return alike(field, plain.count, film, [
    ["thickness", thickness, "m"],
    ["inner radius", inner, "m"],
    ["outer radius", outer, "m"],
  ]);
}

/** A round spot on a block. */
export interface Constriction extends ConductivityOptions {
  /** Name in the catalogue. */
  readonly material: string;
  /** Of the spot [m]. */
  readonly radius: Uncertain<Length>;
  /** How many spots alike, far from each other, 1 by default. */
  readonly count?: number;
}

const spotFields = object<Constriction>({
  material: text,
  radius: length,
  count: optional(count),
  ...conductivityFields,
});

/**
 * From a round spot, all at one temperature, into a block much thicker and wider than the spot:
 * s = 4a. For a spot that brings its heat evenly the mean is 3π²a/8 = 3.70a.
 * Source: H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), section 8.2.
 * @param field - path of the spot in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function constriction(
  options: Constriction,
  catalogue: Catalogue = standardCatalogue(),
  field = "constriction",
): Conductor {
  const plain = spotFields.read(options, field);
  const conductivity = materialConductivity("material", plain, catalogue, field);
  return alike(field, plain.count, stripConductor(conductivity, 4 * plain.radius), [
    ["radius", plain.radius, "m"],
  ]);
}

/** A pad, seen from one of the feet on it. */
export interface PadFilm extends ConductivityOptions {
  /** Metal, by its name in the catalogue. */
  readonly metal: string;
  /** Area that this foot drains [m²]. */
  readonly area: Uncertain<Area>;
  /** Thickness of the film [m]. */
  readonly thickness: Uncertain<Length>;
  /** Radius of the foot [m]; the film below it has one temperature. */
  readonly footRadius: Uncertain<Length>;
}

const padFields = object<PadFilm>({
  metal: text,
  area: quantity("area"),
  thickness: length,
  footRadius: length,
  ...conductivityFields,
});

/**
 * Squares of film between a pad's mean temperature and the foot, for heat that enters evenly over a
 * disc of radius b and leaves through a foot of radius a:
 * [b⁴ ln(b/a) − (b²−a²)(3b²−a²)/4] / [2π (b²−a²)²], so that ΔΘ = P·squares/thickness.
 * For b ≫ a this is [ln(b/a) − 3/4]/2π.
 * Source: steady conduction with uniform production in a hollow cylinder insulated outside, averaged
 * over the area: H.S. Carslaw and J.C. Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), §7.2.
 * @param ratio - b/a, greater than 1
 */
export function padSquares(ratio: number): number {
  const b2 = ratio * ratio;
  const ring = b2 - 1;
  // The two terms cancel when the foot nearly fills the pad; the ring is then a short thin strip.
  if (ring < 1e-3) return ring / (12 * Math.PI);
  return (b2 * b2 * Math.log(ratio) - (ring * (3 * b2 - 1)) / 4) / (2 * Math.PI * ring * ring);
}

/**
 * From the electrons of a pad, at their mean temperature, to the foot of a bond on it.
 * The pad is taken as a disc of the same area, which for a pad twice as long as wide is right to
 * about a tenth.
 * @throws FieldError for a wrong field, or a foot as large as the pad
 */
export function padFilm(
  options: PadFilm,
  catalogue: Catalogue = standardCatalogue(),
  field = "padFilm",
): Conductor {
  const plain = padFields.read(options, field);
  const { area, thickness, footRadius } = plain;
  const padRadius = Math.sqrt(area / Math.PI);
  const ratio = padRadius / footRadius;
  if (!(ratio > 1)) {
    const wanted = `a foot smaller than the pad, below ${formatQuantity(padRadius, "m")}`;
    throw new FieldError(`${field}.footRadius`, wanted, footRadius);
  }
  const conductivity = materialConductivity("metal", plain, catalogue, field, thickness);
  const film = stripConductor(conductivity, thickness / padSquares(ratio));
  return alike("pad", undefined, film, [
    ["area for each foot", area, "m^2"],
    ["film thickness", thickness, "m"],
    ["foot radius", footRadius, "m"],
  ]);
}
