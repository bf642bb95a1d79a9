/**
 * A joint whose conductance was measured.
 * @module
 */
import { type Conductor, powerConductor } from "../conductor.js";
import { anObject, positive, temperatureExponent } from "../units/checks.js";
import type { Conductance, Temperature } from "../units/quantity.js";
import { alike } from "./alike.js";

/** A conductance at one temperature, and how it varies. */
export interface GivenJoint {
  /** G₀ of one joint [W/K]. */
  readonly conductance: Conductance;
  /** T₀, where it was measured [K]. */
  readonly at: Temperature;
  /** n of G ∝ Tⁿ: 1 for electrons in a metal (default), 3 for phonons through a boundary. */
  readonly exponent?: number;
  /** How many alike side by side, 1 by default. */
  readonly count?: number;
}

/**
 * Heat path of a joint that was measured: G = G₀ (T/T₀)ⁿ.
 * @param field - path of the joint in the user's description, for errors
 * @throws FieldError
 * @example givenJoint({ conductance: "20 nW/K", at: "100 mK", exponent: 3 }).conductance(0.2) // 1.6e-7
 */
export function givenJoint(options: GivenJoint, field = "givenJoint"): Conductor {
  anObject(field, options);
  const conductance = positive(`${field}.conductance`, options.conductance, "conductance");
  const at = positive(`${field}.at`, options.at, "temperature");
  const exponent = temperatureExponent(`${field}.exponent`, options.exponent ?? 1);
  const coefficient = givenCoefficient(conductance, at, exponent);
  return alike(field, options.count, powerConductor(coefficient, exponent + 1), [
    ["conductance", conductance, "W/K", `at ${at} K`],
    ["exponent of the temperature", exponent, ""],
  ]);
}

/** c of Θ = cTⁿ⁺¹: G₀/((n + 1) T₀ⁿ). */
export function givenCoefficient(conductance: number, at: number, exponent: number): number {
  return conductance / ((exponent + 1) * at ** exponent);
}
