/**
 * What the properties of a material may depend on beside the temperature, as fields of a description.
 * @module
 */
import { type FieldsOf, object, oneOf, optional, quantity, text } from "../units/fields.js";
import type { Length, Temperature } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { purity, type UncertainPurity } from "./purity.js";

/** What a conductivity may depend on beside the temperature. Of a spread the median counts. */
export interface ConductivityOptions {
  /** Metals: how clean. */
  readonly residualResistivityRatio?: UncertainPurity;
  /** Superconductors: `superconducting` (default, below T_c and in no field) or `normal`. */
  readonly state?: "superconducting" | "normal";
  /** Mean free path of phonons [m]: of dielectric crystals, and of superconductors. */
  readonly meanFreePath?: Uncertain<Length>;
  /** Which sample, where the catalogue has more than one that fits. */
  readonly sample?: string;
}

/** Which of a material's heat capacity. Of a spread the median counts. */
export interface HeatCapacityOptions {
  /**
   * `all` (default): electrons and phonons. `electrons` or `phonons` where they have temperatures of
   * their own, as in a small metal film. `nuclei` only when asked for: they follow too slowly to be counted
   * with the others.
   */
  readonly part?: "all" | "electrons" | "phonons" | "nuclei";
  /** Superconductors: `superconducting` (default, below T_c and in no field) or `normal`. */
  readonly state?: "superconducting" | "normal";
  /** T_c of your film in place of the catalogue's [K]; of superconductors. */
  readonly criticalTemperature?: Uncertain<Temperature>;
  /** Which measured law, where the catalogue has more than one. */
  readonly sample?: string;
}

const state = optional(oneOf("superconducting", "normal"));

/** Fields of the options of a conductivity, for descriptions that hold them beside others. */
export const conductivityFields: FieldsOf<ConductivityOptions> = {
  residualResistivityRatio: optional(purity),
  state,
  meanFreePath: optional(quantity("length")),
  sample: optional(text),
};

/** Fields of the options of a heat capacity, likewise. */
export const heatCapacityFields: FieldsOf<HeatCapacityOptions> = {
  part: optional(oneOf("all", "electrons", "phonons", "nuclei")),
  state,
  criticalTemperature: optional(quantity("temperature")),
  sample: optional(text),
};

export const conductivityOptions = object<ConductivityOptions>(conductivityFields);
export const heatCapacityOptions = object<HeatCapacityOptions>(heatCapacityFields);
