/**
 * Wire and ribbon bonds.
 * @module
 */
import { type Conductor, powerConductor } from "../conductor.js";
import { type ConductivityOptions, conductivityFields } from "../materials/options.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { lorenz } from "../units/constants.js";
import * as read from "../units/fields.js";
import type { Length, Resistance } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { alike, series } from "./combine.js";
import { type CrossSection, crossSection, materialConductivity, stripConductor } from "./strip.js";

/** A bond: round (`diameter`) or a ribbon (`width` and `thickness`). */
export interface WireBond extends Omit<CrossSection, "area">, ConductivityOptions {
  /** Name of the metal in the catalogue, for example `gold`. */
  readonly metal: string;
  /** Along the loop, from foot to foot [m]. */
  readonly length: Uncertain<Length>;
  /** Electrical resistance of each of the two feet, 0 by default [Ω]. */
  readonly footResistance?: Uncertain<Resistance>;
  /** How many bonds side by side, 1 by default. */
  readonly count?: number;
}

/** Fields of a wire or ribbon, whatever it is made of and however many there are. */
export const wireFields: read.FieldsOf<Omit<WireBond, "metal" | "count">> = {
  diameter: read.optional(read.quantity("length")),
  width: read.optional(read.quantity("length")),
  thickness: read.optional(read.quantity("length")),
  length: read.quantity("length"),
  footResistance: read.optional(read.quantityFromZero("resistance")),
  ...conductivityFields,
};
const fields = read.object<WireBond>({
  metal: read.text,
  count: read.optional(read.count),
  ...wireFields,
});

/**
 * Heat path of bonds of one kind, feet included.
 *
 * For a normal metal well below 4 K the wire and its feet both obey Wiedemann and Franz, so that
 *   Θ(T) = L₀T² / (2 R_total),  R_total = ρ₀ℓ/A + 2 R_foot,
 * exact for any drop. Above, and for a superconducting metal, the metal's own κ(T) is used and the
 * feet are added in the small-drop form of `series`.
 * @param field - path of the bonds in the user's description, for errors
 * @throws FieldError, UnknownNameError
 * @example wireBond({ metal: "gold", diameter: "25 um", length: "1 mm", residualResistivityRatio: 30 })
 *   .conductance(0.1) // 1.6e-6
 */
export function wireBond(
  options: WireBond,
  catalogue: Catalogue = standardCatalogue(),
  field = "wireBond",
): Conductor {
  const plain = fields.read(options, field);
  const { length, footResistance: foot = 0 } = plain;
  const { area, smallest } = crossSection(field, plain);
  const conductivity = materialConductivity("metal", plain, catalogue, field, smallest);
  const wire = stripConductor(conductivity, area / length);
  const withFeet = foot === 0 ? wire : series(wire, powerConductor(wiedemannFranz(2 * foot), 2));
  return alike(field, plain.count, withFeet, [
    ["cross-section of a bond", area, "m^2"],
    ["length of a bond", length, "m"],
    ["electrical resistance of a foot", foot, "ohm"],
  ]);
}

/**
 * Coefficient c of Θ = cT² of a metallic path of electrical resistance R: c = L₀/(2R) [W/K²].
 *
 * Valid where impurities and surfaces limit the electrons; R must be its value at low temperature.
 * Source: law of Wiedemann and Franz with the Lorenz number of A. Sommerfeld, Z. Phys. 47, 1 (1928).
 * @param resistance - of wire and feet together [Ω]
 * @example wiedemannFranz(4.626e-3) * (0.11 ** 2 - 0.1 ** 2) // 5.545e-9 W
 */
export function wiedemannFranz(resistance: number): number {
  return lorenz / (2 * resistance);
}
