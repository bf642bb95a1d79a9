/**
 * One step of a search for the least cost under one condition: the answer where both are taken as separable.
 * @module
 */

/** Where a search stands. Factors are by what each field is to be multiplied. */
export interface ConvexProblem {
  /** d ln(cost)/d ln(field) */
  readonly costs: readonly number[];
  /** q, to be at most the target. */
  readonly ratio: number;
  /** d ln q/d ln(field) */
  readonly slopes: readonly number[];
  readonly target: number;
  /** Least and largest factor of each field. */
  readonly bounds: readonly (readonly [least: number, largest: number])[];
}

/**
 * Factors of the fields with the least cost and q at most the target, or as near to it as the bounds let it
 * come. With u the factors both are 1 + Σ sᵢ(uᵢ − 1) over what makes them grow and 1 + Σ |sᵢ|(1/uᵢ − 1) over
 * what makes them fall, so that for a multiplier λ of q each field is by itself, u = √(λ q|s|/c); λ follows by
 * halving.
 * Source: C. Fleury and V. Braibant, Int. J. Numer. Methods Eng. 23, 409 (1986).
 */
export function convexStep({ costs, ratio, slopes, target, bounds }: ConvexProblem): number[] {
  const at = (lambda: number) =>
    costs.map((c, i) => {
      const b = lambda * ratio * slopes[i]!;
      // What grows and what falls with the factor.
      const grows = Math.max(c, 0) + Math.max(b, 0);
      const falls = Math.max(-c, 0) + Math.max(-b, 0);
      const [least, largest] = bounds[i]!;
      const best = grows > 0 ? Math.sqrt(falls / grows) : falls > 0 ? largest : 1;
      return Math.min(largest, Math.max(least, best));
    });
  const excess = (factors: readonly number[]) =>
    ratio *
      factors.reduce(
        (sum, u, i) => sum + (slopes[i]! > 0 ? slopes[i]! * (u - 1) : slopes[i]! * (1 - 1 / u)),
        1,
      ) -
    target;
  let [low, high] = [-40, 40];
  if (excess(at(Math.exp(low))) <= 0) return at(Math.exp(low));
  for (let turn = 0; turn < 80; turn++) {
    const middle = (low + high) / 2;
    if (excess(at(Math.exp(middle))) > 0) low = middle;
    else high = middle;
  }
  return at(Math.exp(high));
}
