/**
 * Sums of power laws Σ c·Tᵖ: Θ(T) of a conductor, H(T) of a heat store.
 * @module
 */
import type { PowerTerm } from "../conductor.js";

/** Tᵖ; integer exponents up to 4 are multiplied out. */
export function power(T: number, p: number): number {
  if (p === 1) return T;
  if (p === 3) return T * T * T;
  if (p === 4) return T * T * (T * T);
  if (p === 2) return T * T;
  if (p === 0) return 1;
  return T ** p;
}

/** Writes `count` times Σ c·Tᵖ and its derivative by T into the first two places of `into`. */
export function sumOfPowers(
  powers: readonly PowerTerm[],
  count: number,
  T: number,
  into: Float64Array,
): void {
  let sum = 0;
  let slope = 0;
  for (let i = 0; i < powers.length; i++) {
    const { coefficient, exponent } = powers[i]!;
    const part = count * coefficient * power(T, exponent - 1);
    sum += part * T;
    slope += exponent * part;
  }
  into[0] = sum;
  into[1] = slope;
}
