/**
 * Huber's errors: normal ones, but for a share of them that may lie anywhere. What lies further off than k
 * standard deviations counts by its distance and no longer by the square of it, so a few glitches do not
 * move a fit.
 * Source: P. J. Huber, Robust Statistics (1981), chapter 7: equation 7.8.11 for the weights and section 7.6
 * for the covariance.
 * @module
 */

/** Standard deviations at which a residual begins to count for less: 95 % as efficient as least squares on normal errors. */
const k = 1.345;
/** Median of |z| of a standard normal variable. */
const quartile = 0.674489750196082;

/** What the square of each residual is multiplied with: 1 within k standard deviations, less beyond. */
export function huberWeights(residuals: ArrayLike<number>, scale: number): Float64Array {
  return Float64Array.from(residuals, (r) => Math.min(1, (k * scale) / Math.abs(r)));
}

/** Standard deviation of residuals of which less than half lie far off, by the median of their sizes. */
export function medianScale(residuals: ArrayLike<number>): number {
  const sizes = Float64Array.from(residuals, Math.abs).sort();
  const half = sizes.length / 2;
  const median = (sizes[Math.ceil(half) - 1]! + sizes[Math.floor(half)]!) / 2;
  return median / quartile;
}

/** What (JᵀJ)⁻¹ of the unweighted residuals is multiplied with for the covariance of so many parameters. */
export function huberVariance(
  residuals: ArrayLike<number>,
  scale: number,
  parameters: number,
): number {
  const n = residuals.length;
  let [squares, inside] = [0, 0];
  huberWeights(residuals, scale).forEach((weight, i) => {
    squares += (weight * residuals[i]!) ** 2;
    if (weight === 1) inside++;
  });
  const mean = inside / n;
  const correction = 1 + ((parameters / n) * (1 - mean)) / mean;
  return (correction ** 2 * squares) / (n - parameters) / mean ** 2;
}
