/**
 * Residuals with a covariance turned into independent ones of variance 1.
 * @module
 */

/**
 * L⁻¹, row by row, of the Cholesky factor L of a covariance C = LLᵀ: L⁻¹r of residuals r with that
 * covariance are independent and of variance 1.
 * @throws RangeError when the matrix is no covariance
 */
export function whitening(covariance: readonly (readonly number[])[]): readonly Float64Array[] {
  const n = covariance.length;
  const lower = covariance.map(() => new Float64Array(n));
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = covariance[i]![j]!;
      for (let k = 0; k < j; k++) sum -= lower[i]![k]! * lower[j]![k]!;
      if (i === j && !(sum > 0)) throw new RangeError("whitening: not a covariance");
      lower[i]![j] = i === j ? Math.sqrt(sum) : sum / lower[j]![j]!;
    }
  }
  const inverse = covariance.map(() => new Float64Array(n));
  for (let column = 0; column < n; column++) {
    for (let i = column; i < n; i++) {
      let sum = i === column ? 1 : 0;
      for (let k = column; k < i; k++) sum -= lower[i]![k]! * inverse[k]![column]!;
      inverse[i]![column] = sum / lower[i]![i]!;
    }
  }
  return inverse;
}
