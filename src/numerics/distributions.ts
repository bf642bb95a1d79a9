/**
 * Probability distributions: the standard normal one and that of χ², with the gamma functions it needs.
 * @module
 */

const inner = [
  3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987,
  67265.7709270087, 33430.57558358813, 2509.0809287301227,
];
const innerUnder = [
  1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271,
  28729.085735721943, 5226.495278852854,
];
const middle = [
  1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684,
  0.2417807251774506, 0.022723844989269184, 0.0007745450142783414,
];
const middleUnder = [
  1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008,
  0.015198666563616457, 0.0005475938084995345, 1.0507500716444169e-9,
];
const outer = [
  6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487,
  0.026532189526576124, 0.0012426609473880784, 2.7115555687434876e-5, 2.0103343992922881e-7,
];
const outerUnder = [
  1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133,
  1.8463183175100548e-5, 1.421511758316446e-7, 2.0442631033899397e-15,
];

/**
 * The value that a share p of all lies below, to 16 digits.
 * Source: Wichura, Algorithm AS 241, Applied Statistics 37, 477 (1988), PPND16.
 * @param p - between 0 and 1; ∓∞ at the ends
 */
export function normalQuantile(p: number): number {
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (q * horner(inner, r)) / horner(innerUnder, r);
  }
  const tail = q < 0 ? p : 1 - p;
  if (tail <= 0) return q < 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  const r = Math.sqrt(-Math.log(tail));
  const x =
    r <= 5
      ? horner(middle, r - 1.6) / horner(middleUnder, r - 1.6)
      : horner(outer, r - 5) / horner(outerUnder, r - 5);
  return q < 0 ? -x : x;
}

/** c₀ + c₁x + c₂x² + … */
export function horner(c: readonly number[], x: number): number {
  let sum = 0;
  for (let i = c.length - 1; i >= 0; i--) sum = sum * x + c[i]!;
  return sum;
}

/**
 * The share Φ(x) of all values that lies below x, to 16 digits of 1.
 * Source: G. Marsaglia, Evaluating the normal distribution, J. Stat. Softw. 11(4), 1 (2004): the series
 * ½ + φ(x)(x + x³/3 + x⁵/(3·5) + …).
 */
export function normalShare(x: number): number {
  // The series of NaN would not end.
  if (!(Math.abs(x) <= 8.3)) return x < 0 ? 0 : x > 0 ? 1 : Number.NaN;
  let term = x;
  let sum = x;
  for (let i = 3, before = 0; sum !== before; i += 2) {
    before = sum;
    term *= (x * x) / i;
    sum += term;
  }
  return 0.5 + sum * Math.exp(-0.5 * x * x - 0.5 * Math.log(2 * Math.PI));
}

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
  const series = horner([1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188], inverse) / z;
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
