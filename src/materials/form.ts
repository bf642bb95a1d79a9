/**
 * What a form of law is: the parameters that it takes, and the curve that it makes of them.
 * @module
 */
import type { PowerTerm } from "../conductor.js";

/** Unit and plausible span of one parameter, in SI. */
export interface ParameterSpec {
  readonly unit: string;
  readonly least: number;
  readonly most: number;
  readonly optional?: boolean;
}

/** Which parameters a form takes. */
export interface FormSpec {
  readonly parameters: ReadonlyMap<string, ParameterSpec>;
  /** Further parameters by pattern of name, such as c0, c1, c2. */
  readonly series?: { readonly name: RegExp; readonly spec: ParameterSpec };
}

/** A law f(T), its integral where that is known in closed form, and that integral as powers where it is. */
export interface Curve {
  value(temperature: number): number;
  integral?(temperature: number): number;
  readonly powers?: readonly PowerTerm[];
}

/** A pure number. */
export const pure = (least = -1e6, most = 1e6): ParameterSpec => ({ unit: "", least, most });

export const optional = (spec: ParameterSpec): ParameterSpec => ({ ...spec, optional: true });

/** A law given as a table over temperature: the parameter column holds `295 K`. */
export const tableOf = (unit: string, least: number, most: number): FormSpec => ({
  parameters: new Map([["continues_below_as_power", optional(pure(0, 6))]]),
  series: { name: /^\d+\.?\d* K$/, spec: { unit, least, most } },
});
