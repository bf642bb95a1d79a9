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
import { exceeds } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { count, object, oneOf, optional, quantity, text } from "../units/fields.js";
import { formatGiven, formatQuantity } from "../units/format.js";
import type { Length } from "../units/quantity.js";
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
  /** Temperature of the hottest point (default), or the mean over the sheet (a mean of Θ). */
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
  /** Side of the rectangle that this foot drains, with the foot in its middle [m]. */
  readonly width: Uncertain<Length>;
  /** The other side [m]. */
  readonly length: Uncertain<Length>;
  /** Thickness of the film [m]. */
  readonly thickness: Uncertain<Length>;
  /** Radius of the foot [m]; the film below it has one temperature. */
  readonly footRadius: Uncertain<Length>;
}

const padFields = object<PadFilm>({
  metal: text,
  width: length,
  length,
  thickness: length,
  footRadius: length,
  ...conductivityFields,
});

/**
 * Squares of film between the mean temperature of a rectangle and a foot of radius a in its middle, for
 * heat that enters evenly around the foot: ΔΘ = P·squares/thickness. To 0.2 % for a foot up to 0.8 of the
 * shorter side w, to 4 % for one that touches it.
 *
 * The mirror images of the foot in the rim are a lattice of feet, w by l. Near a foot the potential of the
 * lattice is that of Kronecker's second limit formula,
 *   g = ln(R/r)/2π + r²/4A + Σ cₘ rᵐ cos mθ,  R = w/(2π η²(il/w)), η of Dedekind,  A = wl;
 * its mean over the rectangle around the foot gives the squares, and the terms m = 2 and 4, in which
 * the rim of the foot has one temperature, a small correction (the method of Rayleigh, Phil. Mag. 34,
 * 481 (1892), cut off after its first two terms).
 * Source: for a ≪ w these are ln(4A/(1.781 C a²))/4π with the shape factors C of D. N. Dietz, J. Pet.
 * Tech. 17, 955 (1965): 30.88 for a square, 21.84 for two to one.
 * @param width - of the rectangle [m]
 * @param length - of the rectangle [m]
 * @param foot - radius a, at most half the shorter side [m]
 */
export function padSquares(width: number, length: number, foot: number): number {
  const aspect = Math.max(width, length) / Math.min(width, length);
  // In parts of the shorter side.
  const a = foot / Math.min(width, length);
  const q = Math.exp(-2 * Math.PI * aspect);
  const [power, product] = [(k: number) => lambertSum(k, q), (1 - q) * (1 - q * q)];
  const reach = Math.exp((Math.PI * aspect) / 6) / (2 * Math.PI * product ** 2);
  const hole = Math.PI * a * a;
  const film = aspect - hole;
  const more = aspect / film;
  const round =
    (more * Math.log(reach / a)) / (2 * Math.PI) +
    (a * a) / (4 * aspect) +
    (a * a) / (4 * film) +
    (hole * a * a) / (8 * aspect * film);
  // Lattice sum of 1/z⁴.
  const fourth = (Math.PI ** 4 / 45) * (1 + 240 * power(3));
  const second = (Math.PI * (1 - 24 * power(1))) / 12 - 1 / (4 * aspect);
  const uneven =
    (2 * (second * a ** 2) ** 2) / (1 + 3 * fourth * a ** 4) +
    (4 * ((fourth * a ** 4) / (8 * Math.PI)) ** 2) / (1 + 15 * fourth ** 2 * a ** 8);
  return more * (round - 2 * Math.PI * more * uneven);
}

/** Σ nᵏ qⁿ/(1 − qⁿ) for q ≤ e^−2π, of which three terms are enough. */
function lambertSum(k: number, q: number): number {
  return [1, 2, 3].reduce((sum, n) => sum + (n ** k * q ** n) / (1 - q ** n), 0);
}

/**
 * From the electrons of a pad, at their mean temperature, to the bond foot in its middle.
 * @throws FieldError for a wrong field, or a foot wider than the pad
 */
export function padFilm(
  options: PadFilm,
  catalogue: Catalogue = standardCatalogue(),
  field = "padFilm",
): Conductor {
  const plain = padFields.read(options, field);
  const { width, length: along, thickness, footRadius } = plain;
  const widest = Math.min(width, along) / 2;
  if (exceeds(footRadius, widest)) {
    const wanted = `at most half the shorter side of the pad, ${formatQuantity(widest, "m")}`;
    throw new FieldError(`${field}.footRadius`, wanted, formatGiven(footRadius, "m"));
  }
  const conductivity = materialConductivity("metal", plain, catalogue, field, thickness);
  const film = stripConductor(conductivity, thickness / padSquares(width, along, footRadius));
  return alike("pad", undefined, film, [
    ["width for each foot", width, "m"],
    ["length for each foot", along, "m"],
    ["film thickness", thickness, "m"],
    ["foot radius", footRadius, "m"],
  ]);
}
