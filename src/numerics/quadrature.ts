/**
 * Integrals of smooth functions: by Gauss and Legendre, and by the trapezoidal rule where it converges
 * faster than any power of its step.
 * @module
 */

/** Nodes and weights of a quadrature rule on [−1, 1]. */
export interface QuadratureRule {
  readonly nodes: readonly number[];
  readonly weights: readonly number[];
}

const rules = new Map<number, QuadratureRule>();

/**
 * Gauss-Legendre rule of n points, exact for polynomials up to degree 2n − 1.
 * The nodes are the roots of the Legendre polynomial Pₙ, found by Newton's method from Tricomi's
 * estimate. Source: Press, Teukolsky, Vetterling & Flannery, Numerical Recipes (2007), section 4.6.
 * @param n - number of points, 1 or more
 */
export function gaussLegendre(n: number): QuadratureRule {
  const known = rules.get(n);
  if (known) return known;
  if (!Number.isInteger(n) || n < 1) {
    throw new RangeError(`gaussLegendre: expected a whole number of points from 1, got ${n}`);
  }
  const nodes: number[] = [];
  const weights: number[] = [];
  for (let i = 0; i < n; i++) {
    let x = -Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    for (let step = 0; step < 50; step++) {
      const [value, slope] = legendre(n, x);
      const change = value / slope;
      x -= change;
      if (Math.abs(change) < 1e-16) break;
    }
    const slope = legendre(n, x)[1];
    nodes.push(x);
    weights.push(2 / ((1 - x * x) * slope * slope));
  }
  const rule = { nodes, weights };
  rules.set(n, rule);
  return rule;
}

/** Pₙ(x) and its derivative. */
function legendre(n: number, x: number): [number, number] {
  let [before, value] = [1, x];
  for (let k = 2; k <= n; k++) {
    [before, value] = [value, ((2 * k - 1) * x * value - (k - 1) * before) / k];
  }
  return [value, (n * (x * value - before)) / (x * x - 1)];
}

/** ∫ f dx from a to b by one Gauss-Legendre rule of n points. */
export function integrateBy(f: (x: number) => number, a: number, b: number, n: number): number {
  const { nodes, weights } = gaussLegendre(n);
  const [centre, half] = [(a + b) / 2, (b - a) / 2];
  let sum = 0;
  for (let i = 0; i < n; i++) sum += weights[i]! * f(centre + half * nodes[i]!);
  return half * sum;
}

/**
 * ∫ f dx from a to b, halving intervals until rules of 10 and 21 points agree.
 * @param tolerance - relative to the integral of |f|, 1e-10 by default
 * @throws RangeError when f is not finite, or when 2000 intervals do not suffice
 */
export function integrate(
  f: (x: number) => number,
  a: number,
  b: number,
  tolerance = 1e-10,
): number {
  if (a === b) return 0;
  const magnitude = Math.abs(integrateBy((x) => Math.abs(f(x)), a, b, 21));
  let total = 0;
  let intervals = 0;
  let scale = magnitude;
  const open: [number, number][] = [[a, b]];
  while (open.length > 0) {
    const [from, to] = open.pop()!;
    const rough = integrateBy(f, from, to, 10);
    const fine = integrateBy(f, from, to, 21);
    if (!Number.isFinite(fine)) {
      throw new RangeError(`integrate: the function is not finite between ${from} and ${to}`);
    }
    scale = Math.max(scale, Math.abs(fine));
    const allowed = tolerance * scale * Math.max(1e-3, Math.abs((to - from) / (b - a)));
    const centre = (from + to) / 2;
    if (Math.abs(fine - rough) <= allowed || centre === from || centre === to) {
      total += fine;
    } else {
      open.push([centre, to], [from, centre]);
    }
    if (++intervals > 4000) {
      throw new RangeError(
        `integrate: no agreement to ${tolerance} between ${a} and ${b} after 2000 intervals`,
      );
    }
  }
  return total;
}

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
