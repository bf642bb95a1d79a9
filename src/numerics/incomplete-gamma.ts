/**
 * The incomplete gamma function, and how probable a χ² is.
 * @module
 */

/**
 * ln Γ(x) for x > 0, to 1e-14 of the larger of it and 1.
 * Stirling's series after steps up to x ≥ 15. Source: M. Abramowitz and I. A. Stegun, Handbook of
 * Mathematical Functions (1964), equations 6.1.15 and 6.1.41.
 */
export function logGamma(x: number): number {
  if (!(x > 0)) throw new RangeError(`logGamma: expected a number greater than 0, got ${x}`);
  let shift = 1;
  let z = x;
  while (z < 15) shift *= z++;
  const inverse = 1 / (z * z);
  const series =
    (1 / 12 -
      inverse * (1 / 360 - inverse * (1 / 1260 - inverse * (1 / 1680 - inverse * (1 / 1188))))) /
    z;
  return (z - 0.5) * Math.log(z) - z + 0.5 * Math.log(2 * Math.PI) + series - Math.log(shift);
}

const mostTerms = 100_000;

/**
 * Q(a, x) = Γ(a, x)/Γ(a), from 1 at x = 0 to 0.
 * Below x = a + 1 by the series of P = 1 − Q, above by the continued fraction, with Lentz's method.
 * Source: M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions (1964), equations 6.5.29
 * and 6.5.31; W. J. Lentz, Generating Bessel functions in Mie scattering calculations using continued
 * fractions, Appl. Opt. 15, 668 (1976).
 * @param a - greater than 0
 * @param x - 0 or more
 * @throws RangeError
 */
export function upperGamma(a: number, x: number): number {
  if (!(a > 0 && x >= 0)) {
    throw new RangeError(`upperGamma: expected a above 0 and x of 0 or more, got ${a}, ${x}`);
  }
  if (x === 0) return 1;
  if (x === Number.POSITIVE_INFINITY) return 0;
  const front = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < mostTerms && term > sum * 1e-17; n++) {
      term *= x / (a + n);
      sum += term;
    }
    return 1 - front * sum;
  }
  const least = 1e-300;
  let b = x + 1 - a;
  let c = 1 / least;
  let d = 1 / b;
  let fraction = d;
  for (let n = 1; n < mostTerms; n++) {
    const numerator = n * (a - n);
    b += 2;
    d = b + numerator * d;
    if (Math.abs(d) < least) d = least;
    c = b + numerator / c;
    if (Math.abs(c) < least) c = least;
    d = 1 / d;
    const change = c * d;
    fraction *= change;
    if (Math.abs(change - 1) < 1e-16) break;
  }
  return front * fraction;
}

/**
 * How probable it is that a true model's χ² is at least so large, Q(ν/2, χ²/2).
 * @param degreesOfFreedom - ν, 1 or more
 */
export function chiSquaredProbability(chiSquared: number, degreesOfFreedom: number): number {
  return upperGamma(degreesOfFreedom / 2, chiSquared / 2);
}
