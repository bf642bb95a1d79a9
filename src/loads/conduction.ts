/**
 * Heat down wires and supports from a warmer stage, as watts.
 *
 * In a network a wire is a strip from a fixed warm node; this is for tables, where both ends are known.
 * @module
 */

import type { ConductivityOptions } from "../materials/options.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { given } from "../provenance.js";
import { anObject, positive, wholeNumber } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { formatQuantity } from "../units/format.js";
import type { Area, Length, Temperature } from "../units/quantity.js";
import type { HeatLoad } from "./heat-load.js";

/** Wires or supports alike, between two temperatures. */
export interface Conduction extends ConductivityOptions {
  /** Name in the budget, that of the material by default. */
  readonly name?: string;
  /** Name in the catalogue. */
  readonly material: string;
  /** Round [m]. */
  readonly diameter?: Length;
  /** Or of any shape [m²]: cross-section of one. */
  readonly area?: Area;
  /** From the warm to the cold end [m]. */
  readonly length: Length;
  /** How many alike, 1 by default. */
  readonly count?: number;
  /** Of the warm end [K]. */
  readonly warm: Temperature;
  /** Of the cold end [K]. */
  readonly cold: Temperature;
}

/**
 * Heat that reaches the cold end: P = N (A/L) ∫ κ dT. Not included: radiation along the way and the
 * Joule heat of a current.
 * @param field - path of the wires in the user's description, for errors
 * @throws FieldError, UnknownNameError; RangeError where κ has no source
 */
export function conduction(
  options: Conduction,
  catalogue: Catalogue = standardCatalogue(),
  field = "conduction",
): HeatLoad {
  anObject(field, options);
  const { name = options.material, count = 1 } = options;
  const area = areaOf(options, field);
  const length = positive(`${field}.length`, options.length, "length");
  const number = wholeNumber(`${field}.count`, count);
  const warm = positive(`${field}.warm`, options.warm, "temperature");
  const cold = positive(`${field}.cold`, options.cold, "temperature");
  if (cold > warm) {
    throw new FieldError(
      `${field}.cold`,
      `a temperature up to warm (${formatQuantity(warm, "K")})`,
      options.cold,
    );
  }
  const { residualResistivityRatio, state, sample, meanFreePath } = options;
  const conductivity = catalogue
    .material(options.material, `${field}.material`)
    .thermalConductivity({
      ...(residualResistivityRatio !== undefined && { residualResistivityRatio }),
      ...(state !== undefined && { state }),
      ...(sample !== undefined && { sample }),
      ...(meanFreePath !== undefined && { meanFreePath }),
    });
  const integral = conductivity.between(cold, warm);
  return {
    name,
    power: ((number * area) / length) * integral,
    provenance: [
      ...conductivity.provenance,
      given(`${field}: count`, number, ""),
      given(`${field}: cross-section of one`, area, "m^2"),
      given(`${field}: length`, length, "m"),
      given(`${field}: warm end`, warm, "K"),
      given(`${field}: cold end`, cold, "K"),
    ],
    details: { "integral of the conductivity [W/m]": integral },
  };
}

function areaOf({ diameter, area }: Conduction, field: string): number {
  if ((diameter === undefined) === (area === undefined)) {
    const got = diameter === undefined ? "neither" : "both";
    throw new FieldError(field, "either a diameter or an area", got);
  }
  if (area !== undefined) return positive(`${field}.area`, area, "area");
  return (Math.PI * positive(`${field}.diameter`, diameter, "length") ** 2) / 4;
}
