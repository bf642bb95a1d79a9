/**
 * Cholesky's factor of a symmetric positive definite matrix A = LLᵀ, inverted; and the factor itself, of a
 * matrix that may be singular.
 * @module
 */

/** Part of a diagonal element of A⁻¹ below which what is left of it is rounding. */
const rounding = 1e-11;
/** The same for matrices written down with twelve digits. */
const semidefinite = 1e-10;

/** Σ of products of two rows, in four sums that need not wait for one another. */
function product(numbers: Float64Array, a: number, b: number, count: number): number {
  let [s0, s1, s2, s3] = [0, 0, 0, 0];
  let k = 0;
  for (; k + 3 < count; k += 4) {
    s0 += numbers[a + k]! * numbers[b + k]!;
    s1 += numbers[a + k + 1]! * numbers[b + k + 1]!;
    s2 += numbers[a + k + 2]! * numbers[b + k + 2]!;
    s3 += numbers[a + k + 3]! * numbers[b + k + 3]!;
  }
  for (; k < count; k++) s0 += numbers[a + k]! * numbers[b + k]!;
  return s0 + s1 + (s2 + s3);
}

/**
 * L⁻¹, row by row; or the first row that depends on those before it.
 * @param matrix - A, row by row; kept
 * @param dependent - part of a diagonal element from which on its row is independent
 */
function inverseFactor(
  matrix: ArrayLike<number>,
  n: number,
  dependent: number,
): Float64Array | number {
  const lower = Float64Array.from(matrix);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      const sum = lower[i * n + j]! - product(lower, i * n, j * n, j);
      if (j < i) lower[i * n + j] = sum / lower[j * n + j]!;
      else if (sum > dependent * matrix[i * n + i]!) lower[i * n + i] = Math.sqrt(sum);
      else return i;
    }
  }
  // Row i is (eᵢ − Σ Lᵢₖ row k)/Lᵢᵢ.
  const rows = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const at = i * n;
    let k = 0;
    // Rows go two at a time, so that each sum is fetched once for both.
    for (; k + 1 < i; k += 2) {
      const [one, two] = [lower[at + k]!, lower[at + k + 1]!];
      if (one === 0 && two === 0) continue;
      const [a, b] = [k * n, (k + 1) * n];
      for (let j = 0; j <= k + 1; j++) {
        rows[at + j] = rows[at + j]! - (one * rows[a + j]! + two * rows[b + j]!);
      }
    }
    for (; k < i; k++) {
      const factor = lower[at + k]!;
      for (let j = 0; j <= k; j++) rows[at + j] = rows[at + j]! - factor * rows[k * n + j]!;
    }
    const inverse = 1 / lower[at + i]!;
    for (let j = 0; j < i; j++) rows[at + j] = rows[at + j]! * inverse;
    rows[at + i] = inverse;
  }
  return rows;
}

/**
 * L⁻¹ of a covariance, by rows: residuals r with this covariance become L⁻¹r, independent and of variance 1.
 * @throws RangeError when the matrix is no covariance
 */
export function whitening(covariance: readonly (readonly number[])[]): readonly Float64Array[] {
  const n = covariance.length;
  const rows = inverseFactor(covariance.flat(), n, 0);
  if (typeof rows === "number") throw new RangeError("whitening: not a covariance");
  return covariance.map((_, i) => rows.subarray(i * n, (i + 1) * n));
}

/**
 * A⁻¹ = L⁻ᵀL⁻¹, row by row.
 * @returns the inverse, or the first row that depends on those before it
 */
export function inverseOfPositive(matrix: Float64Array, n: number): Float64Array | number {
  const rows = inverseFactor(matrix, n, rounding);
  if (typeof rows === "number") return rows;
  const inverse = new Float64Array(n * n);
  for (let k = 0; k < n; k += 2) {
    // Beyond the last row there is nothing to add.
    const [a, b] = [k * n, k + 1 < n ? (k + 1) * n : k * n];
    for (let i = 0; i <= k + 1 && i < n; i++) {
      const one = rows[a + i]!;
      const two = b === a ? 0 : rows[b + i]!;
      for (let j = 0; j <= i; j++) {
        inverse[i * n + j] = inverse[i * n + j]! + (one * rows[a + j]! + two * rows[b + j]!);
      }
    }
  }
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) inverse[j * n + i] = inverse[i * n + j]!;
  return inverse;
}

/**
 * L of A = LLᵀ by rows, for a covariance that may be singular: a row that depends on those before it has 0
 * on its diagonal (N. J. Higham, Accuracy and Stability of Numerical Algorithms (2002), section 10.3).
 * @returns undefined when the matrix is no covariance: not symmetric, or not positive semidefinite
 */
export function covarianceFactor(
  covariance: readonly ArrayLike<number>[],
): readonly Float64Array[] | undefined {
  const n = covariance.length;
  const at = (i: number, j: number) => covariance[i]![j]!;
  const scale = (i: number, j: number) => Math.sqrt(Math.abs(at(i, i) * at(j, j)));
  const lower = covariance.map(() => new Float64Array(n));
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      if (!(Math.abs(at(i, j) - at(j, i)) <= 1e-9 * scale(i, j))) return undefined;
      let left = at(i, j);
      for (let k = 0; k < j; k++) left -= lower[i]![k]! * lower[j]![k]!;
      const isNothing = Math.abs(left) <= semidefinite * scale(i, j);
      if (j < i) {
        const pivot = lower[j]![j]!;
        if (pivot > 0) lower[i]![j] = left / pivot;
        // What moves with a row that has nothing of its own must be nothing, too.
        else if (!(Math.abs(left) <= Math.sqrt(semidefinite) * scale(i, j))) return undefined;
      } else if (isNothing) lower[i]![i] = 0;
      else if (left > 0) lower[i]![i] = Math.sqrt(left);
      else return undefined;
    }
  }
  return lower;
}
