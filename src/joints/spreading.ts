/**
 * Heat that spreads in a sheet or into a block.
 *
 * In Θ = ∫κ dT the steady flow in a body of one material is a linear problem, whatever κ(T) is, so
 * that each shape has one factor s [m]: Θ_hot − Θ_cold = Q/s.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, ConductivityOptions } from "../materials/types.js";
import { anObject, positive } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { formatQuantity } from "../units/format.js";
import type { Length } from "../units/quantity.js";
import { alike } from "./alike.js";
import { materialConductivity } from "./conductivity.js";
import { stripConductor } from "./strip.js";

/** A rectangular sheet. */
export interface EvenlyHeatedSheet extends ConductivityOptions {
  /** Name in the catalogue. */
  readonly material: string;
  /** Along the heat flow [m]. */
  readonly length: Length;
  /** Across the heat flow [m]. */
  readonly width: Length;
  /** Thickness of the sheet [m]. */
  readonly thickness: Length;
  /** Temperature of the hottest place (default), or the mean over the sheet (a mean of Θ). */
  readonly place?: "hottest" | "mean";
}

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
  anObject(field, options);
  const [length, width, thickness] = (["length", "width", "thickness"] as const).map((name) =>
    positive(`${field}.${name}`, options[name], "length"),
  ) as [number, number, number];
  const { place = "hottest" } = options;
  if (place !== "hottest" && place !== "mean") {
    throw new FieldError(`${field}.place`, `"hottest" or "mean"`, place);
  }
  const conductivity = materialConductivity("material", options, catalogue, field, thickness);
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
  readonly thickness: Length;
  /** Of the foot [m]. */
  readonly innerRadius: Length;
  /** Where the heat has left the film [m]. */
  readonly outerRadius: Length;
  /** How many feet alike, far from each other, 1 by default. */
  readonly count?: number;
}

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
  anObject(field, options);
  const thickness = positive(`${field}.thickness`, options.thickness, "length");
  const inner = positive(`${field}.innerRadius`, options.innerRadius, "length");
  const outer = positive(`${field}.outerRadius`, options.outerRadius, "length");
  if (outer <= inner) {
    const wanted = `a length above the inner radius (${formatQuantity(inner, "m")})`;
    throw new FieldError(`${field}.outerRadius`, wanted, options.outerRadius);
  }
  const conductivity = materialConductivity("material", options, catalogue, field, thickness);
  const film = stripConductor(conductivity, radialShape(thickness, inner, outer));
  return alike(field, options.count, film, [
    ["thickness", thickness, "m"],
    ["inner radius", inner, "m"],
    ["outer radius", outer, "m"],
  ]);
}

/** s = 2πt/ln(r₂/r₁) [m] */
export function radialShape(thickness: number, inner: number, outer: number): number {
  return (2 * Math.PI * thickness) / Math.log(outer / inner);
}

/** A round spot on a block. */
export interface Constriction extends ConductivityOptions {
  /** Name in the catalogue. */
  readonly material: string;
  /** Of the spot [m]. */
  readonly radius: Length;
  /** How many spots alike, far from each other, 1 by default. */
  readonly count?: number;
}

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
  anObject(field, options);
  const radius = positive(`${field}.radius`, options.radius, "length");
  const conductivity = materialConductivity("material", options, catalogue, field);
  return alike(field, options.count, stripConductor(conductivity, 4 * radius), [
    ["radius", radius, "m"],
  ]);
}
