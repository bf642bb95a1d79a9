/**
 * Heat gathered over a thin metal pad and led to the foot of a bond.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, ConductivityOptions } from "../materials/types.js";
import { anObject, positive } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { formatQuantity } from "../units/format.js";
import type { Area, Length } from "../units/quantity.js";
import { alike } from "./alike.js";
import { materialConductivity } from "./conductivity.js";
import { stripConductor } from "./strip.js";

/** A pad, seen from one of the feet on it. */
export interface PadFilm extends ConductivityOptions {
  /** Metal, by its name in the catalogue. */
  readonly metal: string;
  /** Area that this foot drains [m²]. */
  readonly area: Area;
  /** Thickness of the film [m]. */
  readonly thickness: Length;
  /** Radius of the foot [m]; the film below it has one temperature. */
  readonly footRadius: Length;
}

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
  anObject(field, options);
  const area = positive(`${field}.area`, options.area, "area");
  const thickness = positive(`${field}.thickness`, options.thickness, "length");
  const footRadius = positive(`${field}.footRadius`, options.footRadius, "length");
  const ratio = Math.sqrt(area / Math.PI) / footRadius;
  if (!(ratio > 1)) {
    throw new FieldError(
      `${field}.footRadius`,
      `a foot smaller than the pad, below ${formatQuantity(Math.sqrt(area / Math.PI), "m")}`,
      footRadius,
    );
  }
  const conductivity = materialConductivity("metal", options, catalogue, field, thickness);
  const film = stripConductor(conductivity, thickness / padSquares(ratio));
  return alike("pad", undefined, film, [
    ["area for each foot", area, "m^2"],
    ["film thickness", thickness, "m"],
    ["foot radius", footRadius, "m"],
  ]);
}
