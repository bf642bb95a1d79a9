/**
 * Inverse of a symmetric positive definite matrix.
 * @module
 */

/**
 * Inverse by A = LLᵀ, row by row; A is kept.
 * @returns the inverse, or the first row that depends on those before it
 */
export function inverseOfPositive(matrix: Float64Array, n: number): Float64Array | number {
  const lower = Float64Array.from(matrix);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = lower[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= lower[i * n + k]! * lower[j * n + k]!;
      if (j < i) lower[i * n + j] = sum / lower[j * n + j]!;
      else if (sum > dependent * matrix[i * n + i]!) lower[i * n + i] = Math.sqrt(sum);
      else return i;
    }
  }
  // L⁻¹ by rows: row i is (eᵢ − Σ Lᵢₖ row k)/Lᵢᵢ.
  const rows = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const at = i * n;
    for (let k = 0; k < i; k++) {
      const factor = lower[at + k]!;
      if (factor === 0) continue;
      for (let j = 0; j <= k; j++) rows[at + j] = rows[at + j]! - factor * rows[k * n + j]!;
    }
    const inverse = 1 / lower[at + i]!;
    for (let j = 0; j < i; j++) rows[at + j] = rows[at + j]! * inverse;
    rows[at + i] = inverse;
  }
  // A⁻¹ = L⁻ᵀL⁻¹, one row of L⁻¹ after the other.
  const inverse = new Float64Array(n * n);
  for (let k = 0; k < n; k++) {
    for (let i = 0; i <= k; i++) {
      const factor = rows[k * n + i]!;
      for (let j = 0; j <= i; j++) {
        inverse[i * n + j] = inverse[i * n + j]! + factor * rows[k * n + j]!;
      }
    }
  }
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) inverse[j * n + i] = inverse[i * n + j]!;
  return inverse;
}

/** Part of a diagonal element below which what is left of it is rounding. */
const dependent = 1e-11;
