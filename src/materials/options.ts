/**
 * What the properties of a material may depend on beside the temperature, as fields of a description.
 * @module
 */
import * as read from "../units/fields.js";
import type { Length, Temperature } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";

/**
 * How pure a metal is: its residual resistivity ratio ρ(295 K)/ρ(residual), greater than 1, or one with the
 * warm temperature it was measured from (ρ(273 K) and ρ(300 K) of copper differ by 11 %). The warm metal has
 * its residual resistivity in it: with that of the pure metal, ρ(residual) = ρ(295 K, pure)/(ratio − 1).
 */
export type UncertainPurity = Uncertain<number> | PurityFrom;

/** A residual resistivity ratio with the warm temperature it was measured from. */
export interface PurityFrom {
  /** ρ(warm)/ρ(residual), greater than 1. */
  readonly value: Uncertain<number>;
  /** Where ρ(warm) was measured [K]. */
  readonly warm: Uncertain<Temperature>;
}

const ratio = read.number("a residual resistivity ratio greater than 1", (r) => r > 1, 1);

export const purity: read.Field<UncertainPurity> = read.either<Uncertain<number>, PurityFrom>(
  (written) => written === null || read.isOneValue(written),
  ratio,
  read.object<PurityFrom>({ value: ratio, warm: read.quantity("temperature") }),
);

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

const state = read.optional(read.oneOf("superconducting", "normal"));

/** Fields of the options of a conductivity, for descriptions that hold them beside others. */
export const conductivityFields: read.FieldsOf<ConductivityOptions> = {
  residualResistivityRatio: read.optional(purity),
  state,
  meanFreePath: read.optional(read.quantity("length")),
  sample: read.optional(read.text),
};

/** Fields of the options of a heat capacity, likewise. */
export const heatCapacityFields: read.FieldsOf<HeatCapacityOptions> = {
  part: read.optional(read.oneOf("all", "electrons", "phonons", "nuclei")),
  state,
  criticalTemperature: read.optional(read.quantity("temperature")),
  sample: read.optional(read.text),
};

export const conductivityOptions = read.object<ConductivityOptions>(conductivityFields);
export const heatCapacityOptions = read.object<HeatCapacityOptions>(heatCapacityFields);
