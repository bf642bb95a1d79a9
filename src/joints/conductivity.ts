/**
 * The conductivity of the material that a joint is made of.
 * @module
 */
import type { Catalogue, Conductivity, ConductivityOptions } from "../materials/types.js";
import { FieldError } from "../units/errors.js";

/**
 * κ of a joint's material, with the options that stand beside its shape.
 * @param key - the user's field that names the material
 * @param smallest - smallest dimension [m], the mean free path of phonons unless one is given
 * @throws UnknownNameError; FieldError for an option, by the user's path of it
 */
export function materialConductivity(
  key: "material" | "metal",
  options: ConductivityOptions & { readonly material?: string; readonly metal?: string },
  catalogue: Catalogue,
  field: string,
  smallest?: number,
): Conductivity {
  const { residualResistivityRatio, state, sample, meanFreePath = smallest } = options;
  const material = catalogue.material(options[key]!, `${field}.${key}`);
  try {
    const conductivity = material.thermalConductivity({
      ...(residualResistivityRatio !== undefined && { residualResistivityRatio }),
      ...(state !== undefined && { state }),
      ...(sample !== undefined && { sample }),
      ...(meanFreePath !== undefined && { meanFreePath }),
    });
    // What the user gave is the joint's, not the material's: `bonds: residual resistivity ratio`.
    const assumed = options.meanFreePath === undefined;
    return {
      ...conductivity,
      provenance: conductivity.provenance.map((each) => {
        if (each.source !== "given") return each;
        const quantity = each.quantity.replace(`${material.name}:`, `${field}:`);
        return assumed && quantity.includes("mean free path")
          ? { ...each, quantity, note: "the smallest dimension, since none was given" }
          : { ...each, quantity };
      }),
    };
  } catch (error) {
    // The material names its option `gold.sample`; the user wrote it as `bonds.sample`.
    if (!(error instanceof FieldError) || !error.field.startsWith(`${material.name}.`)) throw error;
    const option = error.field.slice(material.name.length + 1);
    throw new FieldError(`${field}.${option}`, `${error.wanted} (${material.name})`, error.value);
  }
}
