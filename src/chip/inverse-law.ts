/**
 * From Θ back to the temperature.
 * @module
 */
import type { Conductor } from "../conductor.js";

/** One form of a law Θ(T), both ways. Forms of the same law may differ by a constant in Θ. */
export interface TwoWayLaw {
  /** Θ at a temperature [W] */
  theta(temperature: number): number;
  /** T at Θ [K]; NaN when there is none above 0. `near` is a temperature to search from. */
  temperature(theta: number, near: number): number;
  /** T in place of every Θ; −1, or the first for which there is none above 0. */
  temperaturesOf(thetas: Float64Array, near: number): number;
  /** The form holds up to this temperature [K]. */
  readonly upTo: number;
}

/** The forms of a law, the quickest first; the last holds at every temperature. */
export function twoWayForms(law: Conductor): readonly TwoWayLaw[] {
  const { powers, powersUpTo = Number.POSITIVE_INFINITY } = law;
  const functions: TwoWayLaw = {
    theta: (T) => law.integral(T),
    temperature: (theta, near) => search(law, theta, near),
    temperaturesOf(thetas, near) {
      // A cell's neighbour is the best place to search from.
      let T = near;
      for (let i = 0; i < thetas.length; i++) {
        T = search(law, thetas[i]!, T);
        if (!(T > 0)) return i;
        thetas[i] = T;
      }
      return -1;
    },
    upTo: Number.POSITIVE_INFINITY,
  };
  if (powers?.length !== 1) return [functions];
  const { coefficient, exponent } = powers[0]!;
  const inverse = 1 / coefficient;
  const temperature = (theta: number) => {
    if (!(theta > 0)) return Number.NaN;
    if (exponent === 4) return Math.sqrt(Math.sqrt(inverse * theta));
    if (exponent === 2) return Math.sqrt(inverse * theta);
    return (inverse * theta) ** (1 / exponent);
  };
  const power: TwoWayLaw = {
    theta: (T) => coefficient * T ** exponent,
    temperature,
    temperaturesOf(thetas) {
      for (let i = 0; i < thetas.length; i++) {
        const T = temperature(thetas[i]!);
        if (!(T > 0)) return i;
        thetas[i] = T;
      }
      return -1;
    },
    upTo: powersUpTo,
  };
  return [power, functions];
}

/** Newton's method; Θ rises with T, and a step at most halves or doubles the temperature. */
function search(law: Conductor, theta: number, near: number): number {
  let T = near;
  for (let step = 0; step < 200; step++) {
    const change = (theta - law.integral(T)) / law.conductance(T);
    const next = Math.min(2 * T, Math.max(T / 2, T + change));
    // The error that is left is about the square of the step.
    if (Math.abs(next - T) <= 1e-8 * T) return next;
    T = next;
    if (!(T > lowest)) return Number.NaN;
  }
  return T;
}

/** Below this nothing on a die is ever cooled [K]. */
const lowest = 1e-9;
