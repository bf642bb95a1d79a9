/**
 * A joint whose conductance was measured.
 * @module
 */
import { type Conductor, powerConductor } from "../conductor.js";
import { count, number, object, optional, quantity } from "../units/fields.js";
import { type Conductance, occursAboveZero, type Temperature } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { alike } from "./combine.js";

/** A conductance at one temperature, and how it varies. */
export interface GivenJoint {
  /** G₀ of one joint [W/K]. */
  readonly conductance: Uncertain<Conductance>;
  /** T₀, where it was measured [K]. */
  readonly at: Uncertain<Temperature>;
  /** n of G ∝ Tⁿ: 1 for electrons in a metal (default), 3 for phonons through a boundary. */
  readonly exponent?: Uncertain<number>;
  /** How many alike side by side, 1 by default. */
  readonly count?: number;
}

/** n of a law that goes as Tⁿ; no law of solids comes near 20. */
export const temperatureExponent = number(
  "an exponent of the temperature, greater than 0, at most 20",
  (n) => occursAboveZero(n) && n <= 20,
);

/** Reads a measured joint. */
export const givenJointField = object<GivenJoint>({
  conductance: quantity("conductance"),
  at: quantity("temperature"),
  exponent: optional(temperatureExponent),
  count: optional(count),
});

/**
 * Heat path of a joint that was measured: G = G₀ (T/T₀)ⁿ.
 * @param field - path of the joint in the user's description, for errors
 * @throws FieldError
 * @example givenJoint({ conductance: "20 nW/K", at: "100 mK", exponent: 3 }).conductance(0.2) // 1.6e-7
 */
export function givenJoint(options: GivenJoint, field = "givenJoint"): Conductor {
  const { conductance, at, exponent = 1, count } = givenJointField.read(options, field);
  const coefficient = conductance / ((exponent + 1) * at ** exponent);
  return alike(field, count, powerConductor(coefficient, exponent + 1), [
    ["conductance", conductance, "W/K", `at ${at} K`],
    ["exponent of the temperature", exponent, ""],
  ]);
}
