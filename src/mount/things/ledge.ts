/**
 * Where the far feet of the bonds stand: the box beside the die, and its plating.
 * @module
 */
import { purity, type UncertainPurity } from "../../materials/purity.js";
import { type FieldsOf, object, optional, type Plain, quantity, text } from "../../units/fields.js";
import type { Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import type { Thing } from "../thing.js";
import { metres, purityWords } from "./film.js";

/** A metal film on a surface. */
export interface Plating {
  /** Material, by its name in the catalogue. */
  readonly material: string;
  /** Thickness [m]. */
  readonly thickness: Uncertain<Length>;
  /** Purity: resistivity warm over residual, above 1. */
  readonly residualResistivityRatio?: UncertainPurity;
}

/** Where the far feet of the bonds stand: the box beside the die. */
export interface Ledge {
  /** Plating under the feet; none when absent. */
  readonly plating?: Plating;
}

export const platingFields: FieldsOf<Plating> = {
  material: text,
  thickness: quantity("length"),
  residualResistivityRatio: optional(purity),
};

/** Heat passes it with the bonds that end on it. */
export const ledge: Thing<Ledge, { readonly ledge?: Plain<Ledge> }> = {
  field: optional(object<Ledge>({ plating: optional(object<Plating>(platingFields)) })),
  drawn({ ledge: own }) {
    if (!own?.plating) return [];
    const { material, thickness, residualResistivityRatio } = own.plating;
    return [
      {
        kind: "plating",
        look: "plating",
        name: "plating of the ledge",
        details: [material, `${metres(thickness)} thick`, ...purityWords(residualResistivityRatio)],
        places: [],
        thickness,
      },
    ];
  },
};
