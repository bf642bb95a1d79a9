/**
 * A mean over many points where the number asked for is expensive, and a cheap one stays close to it: the
 * cheap one at every point, and the difference at a few that are drawn with known chances π,
 *   mean f ≈ (1/n) Σ g_k + (1/n) Σ_drawn (f_k − g_k)/π_k,
 * which has no bias however far g is from f (C.-E. Särndal, B. Swensson and J. Wretman, Model Assisted
 * Survey Sampling (1992), section 6.3). With all π alike it is two levels of the multilevel method
 * (M. B. Giles, Acta Numerica 24, 259 (2015)) or a control variate. The best chances go as the root of
 * the mean square of f_k − g_k.
 * @module
 */
import { inverseOfPositive } from "./cholesky.js";
import type { Random } from "./random.js";

/** What the expensive number says of a point that was drawn. */
export interface DrawnDifference {
  /** 1/π. */
  readonly weight: number;
  /** Expensive less cheap number, f − g. */
  readonly difference: number;
}

/**
 * The estimate.
 * @param cheap - g at every point
 * @param drawn - of the points that were drawn
 */
export function twoPhaseMean(cheap: ArrayLike<number>, drawn: Iterable<DrawnDifference>): number {
  let sum = 0;
  for (let k = 0; k < cheap.length; k++) sum += cheap[k]!;
  // The sum of few numbers is kept apart from that of many.
  let more = 0;
  for (const { weight, difference } of drawn) if (difference !== 0) more += weight * difference;
  return sum / cheap.length + more / cheap.length;
}

/** A linear formula of several variables, fitted. */
export interface LinearFit {
  /** Where every variable is 0. */
  readonly constant: number;
  /** By variable. */
  readonly slopes: Float64Array;
  /** Standard deviation of what it leaves. */
  readonly scatter: number;
  /** Standard error of the fitted value at a point like those of the fit. */
  readonly error: number;
}

/**
 * Least squares with slopes drawn towards 0 by a hundredth of the points' own weight, so that it holds
 * where variables are many; `scatter` counts every variable as fitted.
 * @param points - values of the variables, row by row, each of variance 1 or so
 * @param values - more than there are variables, and one
 */
export function fitLinear(
  points: readonly ArrayLike<number>[],
  values: ArrayLike<number>,
): LinearFit {
  const n = values.length;
  const d = points[0]?.length ?? 0;
  const mean = (of: (k: number) => number) => {
    let sum = 0;
    for (let k = 0; k < n; k++) sum += of(k) / n;
    return sum;
  };
  const middle = mean((k) => values[k]!);
  const middles = Float64Array.from({ length: d }, (_, i) => mean((k) => points[k]![i]!));
  const matrix = new Float64Array(d * d);
  const right = new Float64Array(d);
  for (let k = 0; k < n; k++) {
    for (let i = 0; i < d; i++) {
      const x = points[k]![i]! - middles[i]!;
      right[i]! += x * (values[k]! - middle);
      for (let j = 0; j < d; j++) matrix[i * d + j]! += x * (points[k]![j]! - middles[j]!);
    }
  }
  for (let i = 0; i < d; i++) matrix[i * d + i]! += 0.01 * n;
  const inverse = inverseOfPositive(matrix, d) as Float64Array;
  const slopes = right.map((_, i) => right.reduce((sum, r, j) => sum + inverse[i * d + j]! * r, 0));
  const constant = middle - slopes.reduce((sum, slope, i) => sum + slope * middles[i]!, 0);
  const square = mean((k) => (values[k]! - fitted({ constant, slopes }, points[k]!)) ** 2);
  const scatter = Math.sqrt((square * n) / (n - d - 1));
  return { constant, slopes, scatter, error: scatter * Math.sqrt((d + 1) / n) };
}

/** The value of a fitted formula. */
export function fitted(
  { constant, slopes }: Pick<LinearFit, "constant" | "slopes">,
  point: ArrayLike<number>,
): number {
  let sum = constant;
  for (let i = 0; i < slopes.length; i++) sum += slopes[i]! * point[i]!;
  return sum;
}

/**
 * Chances with which points are drawn: in proportion to weights, so many in all on average, none above 1.
 * @param weights - not negative, not all 0
 */
export function drawChances(weights: Float64Array, count: number): Float64Array {
  const chances = weights.slice();
  const isSure = new Uint8Array(weights.length);
  for (;;) {
    let [sum, left] = [0, count];
    for (let k = 0; k < weights.length; k++) {
      if (isSure[k]) left--;
      else sum += weights[k]!;
    }
    let more = false;
    for (let k = 0; k < weights.length; k++) {
      if (isSure[k]) continue;
      chances[k] = sum > 0 ? (Math.max(0, left) * weights[k]!) / sum : 0;
      if (chances[k]! < 1) continue;
      chances[k] = 1;
      isSure[k] = 1;
      more = true;
    }
    if (!more) return chances;
  }
}

/**
 * Draws points with given chances, evenly along an order: neighbours in it are seldom drawn together.
 * @returns their indices
 */
export function drawAlong(
  order: Iterable<number>,
  chances: ArrayLike<number>,
  random: Pick<Random, "uniform">,
): number[] {
  const drawn: number[] = [];
  let next = random.uniform();
  let sum = 0;
  for (const k of order) {
    sum += chances[k]!;
    if (sum <= next) continue;
    drawn.push(k);
    next++;
  }
  return drawn;
}
