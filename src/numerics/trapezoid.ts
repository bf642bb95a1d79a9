/**
 * The trapezoidal rule where it converges faster than any power of its step.
 * @module
 */

/**
 * Half of the integral of an even function that is analytic near the real axis, and that either
 * vanishes from `end` on or is periodic in 2·end: ∫ f dx from 0 to end.
 *
 * The error falls as e^(−c/h) in the step h, so halving the step until two sums agree to the square
 * root of what is wanted is enough, and one more halving is the answer.
 * Source: Trefethen & Weideman, The exponentially convergent trapezoidal rule, SIAM Rev. 56, 385 (2014).
 * @param steps - steps of the first sum, 8 by default
 * @throws RangeError when f is not finite or does not converge in 2¹⁸ steps
 */
export function trapezoid(f: (x: number) => number, end: number, steps = 8): number {
  let n = steps;
  let sum = (f(0) + f(end)) / 2;
  for (let i = 1; i < n; i++) sum += f((end * i) / n);
  let before = (sum * end) / n;
  while (n <= 1 << 17) {
    for (let i = 0; i < n; i++) sum += f((end * (i + 0.5)) / n);
    n *= 2;
    const now = (sum * end) / n;
    if (!Number.isFinite(now)) {
      throw new RangeError(`trapezoid: the function is not finite between 0 and ${end}`);
    }
    // Two sums that differ by d are followed by one whose error is about d².
    if (Math.abs(now - before) <= 1e-9 * Math.abs(now)) return now;
    before = now;
  }
  throw new RangeError(`trapezoid: no agreement between 0 and ${end} after ${n} steps`);
}
