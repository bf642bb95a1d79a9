/**
 * A strip, rod, wire or trace of any material, from end to end.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, Conductivity, ConductivityOptions } from "../materials/types.js";
import { anObject, positive } from "../units/checks.js";
import type { Length } from "../units/quantity.js";
import { alike } from "./alike.js";
import { materialConductivity } from "./conductivity.js";
import { type CrossSection, crossSection } from "./cross-section.js";

/** A strip of a material of the catalogue; what its κ depends on stands beside its shape. */
export interface Strip extends CrossSection, ConductivityOptions {
  /** Name in the catalogue. */
  readonly material: string;
  /** From end to end [m]. */
  readonly length: Length;
  /** How many alike side by side, 1 by default. */
  readonly count?: number;
}

/**
 * Heat path along a strip: Θ(T) = (A/L) ∫₀ᵀ κ dT.
 *
 * A superconducting trace is a strip of a superconducting material. Where κ needs a mean free path
 * of phonons and none is given, it is the smallest dimension of the cross-section (diffuse faces).
 * @param field - path of the strip in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function strip(
  options: Strip,
  catalogue: Catalogue = standardCatalogue(),
  field = "strip",
): Conductor {
  anObject(field, options);
  const { area, smallest } = crossSection(field, options);
  const length = positive(`${field}.length`, options.length, "length");
  const conductivity = materialConductivity("material", options, catalogue, field, smallest);
  return alike(field, options.count, stripConductor(conductivity, area / length), [
    ["cross-section", area, "m^2"],
    ["length", length, "m"],
  ]);
}

/**
 * Conductor of a body of conductivity κ whose shape carries Θ = s ∫κ dT.
 * @param shape - s [m]: area over length for a strip
 */
export function stripConductor(conductivity: Conductivity, shape: number): Conductor {
  const { law, powers, powersUpTo, ranges, provenance } = conductivity;
  return {
    conductance: (T) => shape * law.value(T),
    integral: (T) => shape * law.integral(T),
    ...(powers && {
      powers: powers.map((term) => ({ ...term, coefficient: shape * term.coefficient })),
    }),
    ...(powersUpTo !== undefined && { powersUpTo }),
    ranges,
    provenance,
  };
}
