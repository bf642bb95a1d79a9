/** Tests of drawn numbers against a law, by Kolmogorov and Smirnov. */

/**
 * √n times the largest distance of a sample's cumulative share from a law's. For a true sample it
 * exceeds 1.63 in 1 % of cases and 1.95 in 0.1 % (N. Smirnov, Table for estimating the goodness of fit of
 * empirical distributions, Ann. Math. Stat. 19, 279 (1948)).
 */
export function kolmogorovSmirnov(
  sample: readonly number[],
  cumulative: (x: number) => number,
): number {
  const sorted = [...sample].sort((a, b) => a - b);
  const n = sorted.length;
  let largest = 0;
  sorted.forEach((x, i) => {
    const law = cumulative(x);
    largest = Math.max(largest, Math.abs(law - i / n), Math.abs((i + 1) / n - law));
  });
  return largest * Math.sqrt(n);
}

/** Mean and variance of a sample. */
export function moments(sample: readonly number[]): { mean: number; variance: number } {
  const mean = sample.reduce((sum, x) => sum + x, 0) / sample.length;
  const variance = sample.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (sample.length - 1);
  return { mean, variance };
}

/** Cumulative share of the normal law, by the series of G. Marsaglia, J. Stat. Softw. 11, 4 (2004). */
export function normalShare(x: number): number {
  if (x < -7) return 0;
  if (x > 7) return 1;
  let [sum, term] = [x, x];
  for (let k = 3; Math.abs(term) > 1e-17; k += 2) {
    term *= (x * x) / k;
    sum += term;
  }
  return 0.5 + (sum * Math.exp((-x * x) / 2)) / Math.sqrt(2 * Math.PI);
}
