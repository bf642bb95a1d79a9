/**
 * Eigenvalues of real matrices whose eigenvalues are real, or nearly so, with the parts that each row
 * has in them.
 * @module
 */
import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { squares } from "./jacobian.js";

/** Residual of an eigenvalue in parts of it at which it is taken as found. */
const residualTolerance = 1e-10;

/** Eigenvalues of a matrix, largest first. */
export interface Modes {
  /** Of a pair that oscillates, the real part. */
  readonly values: readonly number[];
  /** Squares of the entries of eigenvector k, in parts of their sum. */
  squares(k: number): readonly number[];
}

/** All eigenvalues of a square matrix, row by row. */
export function eigenModes(rows: readonly (readonly number[])[]): Modes {
  const matrix = new Matrix(rows as number[][]);
  // Of a matrix that is symmetric but for rounding the lower half is as good as the upper.
  const balanced = symmetric(matrix) ? Matrix.add(matrix, matrix.transpose()).mul(0.5) : matrix;
  const { values, columns, found } = decomposed(balanced);
  return {
    values,
    squares(k) {
      // The vectors of a pair that oscillates are the sum and difference of two columns.
      const column = columns[k]!;
      const imaginary = found.imaginaryEigenvalues[column]!;
      const partner = column + Math.sign(imaginary);
      const vectors = found.eigenvectorMatrix;
      return parts(
        vectors
          .getColumn(column)
          .map((x, i) => x * x + (imaginary === 0 ? 0 : vectors.get(i, partner) ** 2)),
      );
    },
  };
}

/** Eigenvalues of a matrix, largest first, and the columns that their vectors are in. */
function decomposed(matrix: Matrix) {
  const found = new EigenvalueDecomposition(matrix);
  const real = found.realEigenvalues;
  const columns = real.map((_, k) => k).sort((a, b) => real[b]! - real[a]!);
  return { values: columns.map((k) => real[k]!), columns, found };
}

function symmetric(matrix: Matrix): boolean {
  for (let i = 0; i < matrix.rows; i++) {
    for (let j = 0; j < i; j++) {
      const [a, b] = [matrix.get(i, j), matrix.get(j, i)];
      if (Math.abs(a - b) > 1e-13 * Math.abs(a)) return false;
    }
  }
  return true;
}

/**
 * The largest eigenvalues of a matrix that is known by its products, and more as they come, from a
 * Krylov space that grows until they stand.
 * Source: Arnoldi, The principle of minimized iterations in the solution of the matrix eigenvalue
 * problem, Q. Appl. Math. 9, 17 (1951).
 * @param start - with a part of every vector that is wanted
 */
export function largestModes(
  apply: (vector: Float64Array) => Float64Array,
  start: Float64Array,
  wanted: number,
): Modes {
  const n = start.length;
  const basis: Float64Array[] = [];
  const projected: number[][] = [];
  let next: Float64Array = start;
  let size = norm(next);
  // Dimension at which the eigenvalues are next looked at: each look takes its cube.
  let check = 2 * wanted + 10;
  for (;;) {
    const unit = next.map((x) => x / size);
    basis.push(unit);
    next = apply(unit);
    const column: number[] = new Array(basis.length).fill(0);
    // Twice, for what rounding leaves the first time.
    for (let pass = 0; pass < 2; pass++) {
      basis.forEach((vector, i) => {
        const share = dot(vector, next);
        column[i]! += share;
        for (let k = 0; k < n; k++) next[k]! -= share * vector[k]!;
      });
    }
    size = norm(next);
    projected.push([...column, size]);
    const m = basis.length;
    const last = m === n || !(size > 1e-14 * column[m - 1]!);
    if (!last && m < check) continue;
    check = Math.ceil(1.3 * m);
    const small = Matrix.zeros(m, m);
    projected.forEach((entries, j) => {
      for (let i = 0; i < Math.min(m, entries.length); i++) small.set(i, j, entries[i]!);
    });
    const { values, columns, found } = decomposed(small);
    const shapes = columns.map((k) => found.eigenvectorMatrix.getColumn(k));
    const hasConverged = shapes
      .slice(0, wanted)
      .every(
        (shape, k) =>
          Math.abs(size * shape[m - 1]!) <= residualTolerance * values[k]! * norm(shape),
      );
    if (!hasConverged && !last) continue;
    return {
      values,
      squares(k) {
        return parts(
          Array.from({ length: n }, (_, i) => {
            const x = basis.reduce((sum, vector, j) => sum + shapes[k]![j]! * vector[i]!, 0);
            return x * x;
          }),
        );
      },
    };
  }
}

function parts(squares: readonly number[]): number[] {
  const sum = squares.reduce((total, x) => total + x, 0);
  return squares.map((x) => x / sum);
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

function norm(vector: ArrayLike<number>): number {
  return Math.sqrt(squares(vector));
}
