/**
 * Derivatives for the tests, by differences of whole solves: what the library itself never does.
 * @module
 */

/** Weights of the central difference of eighth order (B. Fornberg, Math. Comp. 51, 699 (1988), table 1). */
const weights = [4 / 5, -1 / 5, 4 / 105, -1 / 280];

/** df/d ln x at x. */
export function logarithmicDerivative(f: (x: number) => number, x: number, step = 0.01): number {
  let sum = 0;
  weights.forEach((weight, k) => {
    const factor = Math.exp((k + 1) * step);
    sum += (weight * (f(x * factor) - f(x / factor))) / step;
  });
  return sum;
}
