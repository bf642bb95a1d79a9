/**
 * A positive function and its integral as piecewise Chebyshev series: the integral costs one short
 * sum instead of a quadrature.
 * Source of the series and its integration: Clenshaw & Curtis, Numer. Math. 2, 197 (1960).
 * @module
 */
import { pieceOf } from "./interpolation.js";

const degree = 16;

/** ∫ f dx from the low end of [from, to] to x. */
export type RunningIntegral = (x: number) => number;

interface Panel {
  readonly from: number;
  readonly to: number;
  /** Chebyshev coefficients of ∫ f du from the panel's low end, u = ln x. */
  readonly coefficients: Float64Array;
  /** Integral up to the panel's low end. */
  readonly before: number;
}

/**
 * The running integral of a positive smooth function, to about 1e-11 of each panel's share.
 * Panels are halved in ln x until the series of each has converged; a kink costs panels, not accuracy.
 * @param f - finite between from and to
 * @param from - greater than 0
 * @param to - greater than `from`
 * @throws RangeError when f is not finite
 */
export function runningIntegral(
  f: (x: number) => number,
  from: number,
  to: number,
): RunningIntegral {
  if (!(from > 0 && to > from)) {
    throw new RangeError(`runningIntegral: expected 0 < from < to, got ${from} and ${to}`);
  }
  const panels: Panel[] = [];
  const open: [number, number, number][] = [[Math.log(from), Math.log(to), 0]];
  let before = 0;
  while (open.length > 0) {
    const [low, high, depth] = open.pop()!;
    const series = chebyshevSeries((u) => f(Math.exp(u)) * Math.exp(u), low, high);
    const largest = series.reduce((most, c) => Math.max(most, Math.abs(c)), 0);
    if (!Number.isFinite(largest)) {
      throw new RangeError(
        `runningIntegral: the function is not finite between ${Math.exp(low)} and ${Math.exp(high)}`,
      );
    }
    const tail = Math.abs(series[degree]!) + Math.abs(series[degree - 1]!);
    if (tail > 1e-12 * largest && depth < 24) {
      const middle = (low + high) / 2;
      open.push([middle, high, depth + 1], [low, middle, depth + 1]);
      continue;
    }
    const coefficients = integrated(series, (high - low) / 2);
    panels.push({ from: low, to: high, coefficients, before });
    before += clenshaw(coefficients, 1);
  }
  const edges = [...panels.map((panel) => panel.from), Math.log(to)];

  return (x) => {
    const u = Math.log(x);
    const { from: a, to: b, coefficients, before: sum } = panels[pieceOf(edges, u)]!;
    return sum + clenshaw(coefficients, (2 * u - a - b) / (b - a));
  };
}

/** Coefficients of f on [a, b] from its values at the Chebyshev points; c₀ is already halved. */
export function chebyshevSeries(
  f: (x: number) => number,
  a: number,
  b: number,
  n = degree,
): Float64Array {
  const values = Array.from({ length: n + 1 }, (_, j) =>
    f((a + b) / 2 + ((b - a) / 2) * Math.cos((Math.PI * (j + 0.5)) / (n + 1))),
  );
  const series = new Float64Array(n + 1);
  for (let k = 0; k <= n; k++) {
    let sum = 0;
    for (let j = 0; j <= n; j++) sum += values[j]! * Math.cos((Math.PI * k * (j + 0.5)) / (n + 1));
    series[k] = ((k === 0 ? 1 : 2) / (n + 1)) * sum;
  }
  return series;
}

/** Value of a Chebyshev series at s in [−1, 1], by Clenshaw's recurrence. */
export function clenshaw(series: Float64Array, s: number): number {
  let b1 = 0;
  let b2 = 0;
  for (let k = series.length - 1; k > 0; k--) {
    const b = series[k]! + 2 * s * b1 - b2;
    b2 = b1;
    b1 = b;
  }
  return series[0]! + s * b1 - b2;
}

/** Series of the integral from the low end, on an interval of half-width `half`. */
function integrated(series: Float64Array, half: number): Float64Array {
  const n = series.length;
  const c = (k: number) => (k < n ? (k === 0 ? 2 : 1) * series[k]! : 0);
  const result = new Float64Array(n + 1);
  let low = 0;
  for (let k = 1; k <= n; k++) {
    result[k] = (half * (c(k - 1) - c(k + 1))) / (2 * k);
    low += result[k]! * (k % 2 === 0 ? 1 : -1);
  }
  result[0] = -low;
  return result;
}
