/**
 * A strip, rod, wire or trace of any material, from end to end; and the conductor of any body of one
 * material.
 * @module
 */
import { type Conductor, scaledPowers } from "../conductor.js";
import { type ConductivityOptions, conductivityFields } from "../materials/options.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, Conductivity } from "../materials/types.js";
import { positive } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import type { Area, Length } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { alike } from "./combine.js";

/** A cross-section: round (`diameter`), rectangular (`width` and `thickness`), or just its `area`. */
export interface CrossSection {
  /** Of a round one [m]. */
  readonly diameter?: Uncertain<Length>;
  /** Of a rectangular one, such as a ribbon [m]. */
  readonly width?: Uncertain<Length>;
  /** Of a rectangular one, such as a ribbon [m]. */
  readonly thickness?: Uncertain<Length>;
  /** Of one of any shape [m²]. */
  readonly area?: Uncertain<Area>;
}

/** A strip of a material of the catalogue; what its κ depends on stands beside its shape. */
export interface Strip extends CrossSection, ConductivityOptions {
  /** Name in the catalogue. */
  readonly material: string;
  /** From end to end [m]. */
  readonly length: Uncertain<Length>;
  /** How many alike side by side, 1 by default. */
  readonly count?: number;
}

const length = read.optional(read.quantity("length"));

/** Fields of a strip. */
export const stripFields: read.FieldsOf<Strip> = {
  material: read.text,
  diameter: length,
  width: length,
  thickness: length,
  area: read.optional(read.quantity("area")),
  length: read.quantity("length"),
  count: read.optional(read.count),
  ...conductivityFields,
};
const stripField = read.object<Strip>(stripFields);

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
  const plain = stripField.read(options, field);
  const { area, smallest } = crossSection(field, plain);
  const conductivity = materialConductivity("material", plain, catalogue, field, smallest);
  return alike(field, plain.count, stripConductor(conductivity, area / plain.length), [
    ["cross-section", area, "m^2"],
    ["length", plain.length, "m"],
  ]);
}

/**
 * A cross-section in SI.
 * @returns its area [m²], and where its shape is given the smallest of its dimensions [m]
 * @throws FieldError when it is given in none or in more than one of the three ways
 */
export function crossSection(
  field: string,
  { diameter, width, thickness, area }: read.Plain<CrossSection>,
): { readonly area: number; readonly smallest?: number } {
  const rectangular = width !== undefined || thickness !== undefined;
  const ways = [diameter !== undefined, rectangular, area !== undefined].filter(Boolean).length;
  if (ways !== 1) {
    const named = Object.entries({ diameter, width, thickness, area })
      .filter(([, value]) => value !== undefined)
      .map(([name]) => name);
    const wanted = "one cross-section: diameter, or width and thickness, or area";
    throw new FieldError(field, wanted, named.join(", ") || "none of them");
  }
  if (area !== undefined) return { area };
  if (diameter !== undefined) return { area: (Math.PI * diameter ** 2) / 4, smallest: diameter };
  const [w, t] = [
    positive(`${field}.width`, width, "length"),
    positive(`${field}.thickness`, thickness, "length"),
  ];
  return { area: w * t, smallest: Math.min(w, t) };
}

/**
 * Conductor of a body of conductivity κ whose shape carries Θ = s ∫κ dT.
 * @param shape - s [m]: area over length for a strip
 */
export function stripConductor(conductivity: Conductivity, shape: number): Conductor {
  const { law } = conductivity;
  return {
    conductance: (T) => shape * law.value(T),
    integral: (T) => shape * law.integral(T),
    ...scaledPowers(conductivity, shape),
  };
}

/**
 * κ of a joint's material, with the options that stand beside its shape.
 * @param key - the user's field that names the material
 * @param smallest - smallest dimension [m], the mean free path of phonons unless one is given
 * @throws UnknownNameError; FieldError for an option, by the user's path of it
 */
export function materialConductivity(
  key: "material" | "metal",
  options: read.Plain<ConductivityOptions> & {
    readonly material?: string;
    readonly metal?: string;
  },
  catalogue: Catalogue,
  field: string,
  smallest?: number,
): Conductivity {
  const { residualResistivityRatio, state, sample, meanFreePath = smallest } = options;
  const material = catalogue.material(options[key]!, `${field}.${key}`);
  try {
    const own: { -readonly [K in keyof ConductivityOptions]: ConductivityOptions[K] } = {};
    if (residualResistivityRatio !== undefined)
      own.residualResistivityRatio = residualResistivityRatio;
    if (state !== undefined) own.state = state;
    if (sample !== undefined) own.sample = sample;
    if (meanFreePath !== undefined) own.meanFreePath = meanFreePath;
    const assumed = options.meanFreePath === undefined;
    return asJoints(material.thermalConductivity(own), material.name, field, assumed);
  } catch (error) {
    // The material names its option `gold.sample`; the user wrote it as `bonds.sample`.
    if (!(error instanceof FieldError) || !error.field.startsWith(`${material.name}.`)) throw error;
    const option = error.field.slice(material.name.length + 1);
    throw new FieldError(`${field}.${option}`, `${error.wanted} (${material.name})`, error.value);
  }
}

/** Conductivities by the paths of the joints that use them. */
const named = new WeakMap<Conductivity, Map<string, Conductivity>>();

/**
 * What the user gave is the joint's, not the material's: `bonds: residual resistivity ratio`.
 * @param assumed - whether the mean free path was not given
 */
function asJoints(of: Conductivity, material: string, field: string, assumed: boolean) {
  const byPath = named.get(of) ?? new Map<string, Conductivity>();
  if (byPath.size === 0) named.set(of, byPath);
  const key = assumed ? field : `${field}, given`;
  let made = byPath.get(key);
  if (!made) {
    const provenance = of.provenance.map((each) => {
      if (each.source !== "given") return each;
      const quantity = each.quantity.replace(`${material}:`, `${field}:`);
      return assumed && quantity.includes("mean free path")
        ? { ...each, quantity, note: "the smallest dimension, since none was given" }
        : { ...each, quantity };
    });
    made = { ...of, provenance };
    byPath.set(key, made);
  }
  return made;
}
