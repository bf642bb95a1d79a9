/**
 * The named laws of measured heat capacity. T is the temperature as a number in kelvin, c is in
 * J/(kg K).
 * @module
 */
import { FieldError } from "../units/errors.js";
import { type Curve, type FormSpec, optional, type ParameterSpec, pure } from "./form.js";

/** A law by name. */
export interface HeatCapacityForm {
  readonly spec: FormSpec;
  /** @param p - value of a parameter in SI; 0 for an optional one that is absent */
  build(p: (name: string) => number): Curve;
}

const coefficient: ParameterSpec = { unit: "J/(kg K)", least: 1e-9, most: 1e4 };
const exponent = pure(0.5, 6);

/** c = Σ coefficient_i · T^exponent_i, of one to three terms: glasses, and metals per mass. */
const powerSum: HeatCapacityForm = {
  spec: {
    parameters: new Map([
      ["coefficient_1", coefficient],
      ["exponent_1", exponent],
      ["coefficient_2", optional(coefficient)],
      ["exponent_2", optional(exponent)],
      ["coefficient_3", optional(coefficient)],
      ["exponent_3", optional(exponent)],
    ]),
  },
  build(p) {
    const powers = [1, 2, 3]
      .map((i) => ({ c: p(`coefficient_${i}`), n: p(`exponent_${i}`) }))
      .filter(({ c }) => c > 0)
      .filter(({ c, n }) => {
        if (n > 0) return true;
        throw new FieldError("heat_capacity", "an exponent beside each coefficient", c);
      })
      .map(({ c, n }) => ({ coefficient: c / (n + 1), exponent: n + 1 }));
    return sumOfPowers(powers);
  },
};

/** The curve whose integral is this sum of powers. */
export function sumOfPowers(powers: NonNullable<Curve["powers"]>) {
  return {
    value: (T: number) =>
      powers.reduce((sum, p) => sum + p.coefficient * p.exponent * T ** (p.exponent - 1), 0),
    integral: (T: number) => powers.reduce((sum, p) => sum + p.coefficient * T ** p.exponent, 0),
    powers,
  };
}

/** Laws of heat capacity by the name used in the form column. */
export const heatCapacityForms: ReadonlyMap<string, HeatCapacityForm> = new Map([
  ["power-sum", powerSum],
]);
