/**
 * The times in which small changes of temperature die away, and which nodes take part in each.
 *
 * Near given temperatures C dθ/dt = −A θ, with A the Jacobian of the flows less the loads and no C at
 * nodes that store nothing, which are eliminated: S = A_ss − A_sa A_aa⁻¹ A_as. The eigenvalues of
 * C^½ S⁻¹ C^½ are the times, those of C^−½ S C^−½ the rates. Rounding takes its part of the largest of
 * either, so slow times are taken from the first and fast ones from the second; both matrices are made
 * without subtractions (elimination.ts), so that times 14 decades apart each keep seven digits or more.
 * Large networks give their slowest few, by the method of Arnoldi, The principle of minimized iterations
 * in the solution of the matrix eigenvalue problem, Q. Appl. Math. 9, 17 (1951).
 * @module
 */
import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { FieldError } from "../units/errors.js";
import type { NetworkDescription } from "./description.js";
import { TransientNetwork } from "./transient.js";

/** One way in which a network settles. */
export interface EigenTime {
  /** Time in which a change of this shape falls to 1/e [s]. */
  readonly time: number;
  /**
   * Part that each node that stores heat has in it: its C θ² over the sum of all, the share of the free
   * energy of the change.
   */
  readonly weights: ReadonlyMap<string, number>;
}

/** Where to look, and how many times to find. */
export interface EigenTimesOptions {
  /** Of every node that stores heat [K]; the steady state when absent. */
  readonly temperatures?: ReadonlyMap<string, number>;
  /** How many, slowest first; all up to 300 storing nodes, and 6 above. */
  readonly count?: number;
}

/** More storing nodes than these give their slowest times only. */
const mostAtOnce = 300;
const fewest = 6;
/** Residual of a slow time in parts of it at which it is taken as found. */
const residualTolerance = 1e-10;

/** What settles one after the other, by eigenvalue. */
interface Modes {
  readonly values: readonly number[];
  /** Shape of mode k in √C θ, squared, by storing node. */
  shape(k: number): readonly number[];
}

/** A network that can be linearised. */
class LinearNetwork extends TransientNetwork {
  /** Free nodes that store heat, and the square roots of their heat capacities. */
  readonly storing: readonly number[];
  readonly roots: Float64Array;

  constructor(description: NetworkDescription, temperatures?: ReadonlyMap<string, number>) {
    super(description);
    this.prepare(temperatures ?? "steady");
    const free = Array.from({ length: this.freeCount }, (_, i) => i);
    this.storing = free.filter((i) => this.storeOf(i) !== undefined);
    this.roots = Float64Array.from(this.storing, (i) =>
      Math.sqrt(this.storeOf(i)!.heatCapacity(this.temperatures[i]!)),
    );
  }

  /** C^−½ S C^−½, whose eigenvalues are rates [1/s]. */
  rates(): Matrix {
    this.evaluate();
    const { freeCount: n, numbers, storing, roots } = this;
    const received = Matrix.zeros(n, n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        const at = i === j ? -1 : this.elimination.position(i, j);
        if (at >= 0) received.set(i, j, numbers[at]!);
      }
    }
    const lost = Array.from({ length: n }, (_, i) => numbers[this.sumsAt + i]!);
    const left = new Set(lost.keys());
    const conductance = (node: number) => {
      let sum = lost[node]!;
      for (const i of left) if (i !== node) sum += received.get(i, node);
      return sum;
    };
    for (let p = 0; p < n; p++) {
      if (this.storeOf(p) !== undefined) continue;
      const pivot = conductance(p);
      left.delete(p);
      for (const j of left) {
        const part = received.get(p, j) / pivot;
        if (part === 0) continue;
        lost[j]! += part * lost[p]!;
        for (const i of left) {
          if (i !== j) received.set(i, j, received.get(i, j) + part * received.get(i, p));
        }
      }
    }
    return new Matrix(
      storing.map((i, row) =>
        storing.map((j, column) => {
          const entry = i === j ? conductance(i) : -received.get(i, j);
          return entry / (roots[row]! * roots[column]!);
        }),
      ),
    );
  }

  /** Makes `apply` ready. @throws Error where a change would grow */
  factor(): void {
    this.evaluate();
    this.numbers.fill(0, this.imbalanceAt, this.imbalanceAt + this.freeCount);
    const unstable = this.elimination.solve(this.numbers);
    if (unstable >= 0) {
      throw new Error(
        `eigenTimes: at these temperatures a change grows at node "${this.nodeNames[unstable]}" ` +
          "instead of dying away. Its load rises faster than its paths carry.",
      );
    }
  }

  /** C^½ S⁻¹ C^½ x, whose eigenvalues are times [s]. */
  apply(x: ArrayLike<number>): Float64Array {
    const { numbers, imbalanceAt, storing, roots } = this;
    numbers.fill(0, imbalanceAt, imbalanceAt + this.freeCount);
    storing.forEach((node, s) => {
      numbers[imbalanceAt + node] = roots[s]! * x[s]!;
    });
    this.elimination.solveAgain(numbers);
    return Float64Array.from(storing, (node, s) => roots[s]! * numbers[imbalanceAt + node]!);
  }
}

/**
 * Times in which small changes die away, slowest first, each with the nodes that take part in it.
 * @throws FieldError, UnknownNameError for a wrong field; SolveError without a steady state; Error
 * where a change grows instead
 */
export function eigenTimes(
  description: NetworkDescription,
  { temperatures, count }: EigenTimesOptions = {},
): EigenTime[] {
  const network = new LinearNetwork(description, temperatures);
  const { storing } = network;
  const n = storing.length;
  const all = n <= mostAtOnce;
  if (count !== undefined && !(Number.isInteger(count) && count > 0 && (all || count <= 100))) {
    throw new FieldError("count", `a whole number from 1${all ? "" : " to 100"}`, count);
  }
  const wanted = Math.min(n, count ?? (all ? n : fewest));
  network.factor();
  const result = ({ shape }: Modes, k: number, time: number): EigenTime => {
    const squares = shape(k);
    const sum = squares.reduce((total, x) => total + x, 0);
    return {
      time,
      weights: new Map(storing.map((node, s) => [network.nodeNames[node]!, squares[s]! / sum])),
    };
  };
  if (!all) {
    const slow = slowest(network, wanted);
    return slow.values.slice(0, wanted).map((time, k) => result(slow, k, time));
  }
  const columns = Array.from({ length: n }, (_, s) => {
    const unit = new Float64Array(n);
    unit[s] = 1;
    return Array.from(network.apply(unit));
  });
  const slow = modes(new Matrix(columns).transpose());
  const fast = modes(network.rates());
  // Rates come largest first.
  const shortest = 1 / fast.values[0]!;
  const between = Math.sqrt(slow.values[0]! * shortest);
  return Array.from({ length: wanted }, (_, k) => {
    const time = slow.values[k]!;
    if (time > between) return result(slow, k, time);
    return result(fast, n - 1 - k, 1 / fast.values[n - 1 - k]!);
  });
}

/** Eigenvalues, largest first, with their shapes; of a pair that oscillates the real part. */
function modes(matrix: Matrix): Modes {
  // Of a matrix that is symmetric but for rounding the lower half is as good as the upper.
  const balanced = symmetric(matrix) ? Matrix.add(matrix, matrix.transpose()).mul(0.5) : matrix;
  const found = new EigenvalueDecomposition(balanced);
  const real = found.realEigenvalues;
  const imaginary = found.imaginaryEigenvalues;
  const vectors = found.eigenvectorMatrix;
  const order = real.map((_, k) => k).sort((a, b) => real[b]! - real[a]!);
  return {
    values: order.map((k) => real[k]!),
    shape(k) {
      const column = order[k]!;
      const partner =
        imaginary[column] === 0 ? undefined : imaginary[column]! > 0 ? column + 1 : column - 1;
      return vectors.getColumn(column).map((x, i) => {
        const other = partner === undefined ? 0 : vectors.get(i, partner);
        return x * x + other * other;
      });
    },
  };
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

/** The largest eigenvalues of C^½ S⁻¹ C^½, from a Krylov space that grows until they stand. */
function slowest(network: LinearNetwork, wanted: number): Modes {
  const n = network.storing.length;
  const basis: Float64Array[] = [];
  const projected: number[][] = [];
  // Heat everywhere, a little uneven, so that no shape is missed for its symmetry.
  let next: Float64Array = network.roots.map((root, i) => root * (1 + 0.5 * Math.sin(1 + 7 * i)));
  let size = norm(next);
  for (;;) {
    const unit = next.map((x) => x / size);
    basis.push(unit);
    next = network.apply(unit);
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
    if (!last && (m < 2 * wanted + 10 || m % 10 !== 0)) continue;
    const small = Matrix.zeros(m, m);
    projected.forEach((entries, j) => {
      for (let i = 0; i < Math.min(m, entries.length); i++) small.set(i, j, entries[i]!);
    });
    const decomposition = new EigenvalueDecomposition(small);
    const real = decomposition.realEigenvalues;
    const vectors = decomposition.eigenvectorMatrix;
    const order = real.map((_, k) => k).sort((a, b) => real[b]! - real[a]!);
    const settled = order.slice(0, wanted).every((k) => {
      const shape = vectors.getColumn(k);
      return Math.abs(size * shape[m - 1]!) <= residualTolerance * real[k]! * norm(shape);
    });
    if (!settled && !last) continue;
    return {
      values: order.map((k) => real[k]!),
      shape(k) {
        const weights = vectors.getColumn(order[k]!);
        return Array.from({ length: n }, (_, i) => {
          const x = basis.reduce((sum, vector, j) => sum + weights[j]! * vector[i]!, 0);
          return x * x;
        });
      },
    };
  }
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

function norm(vector: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < vector.length; i++) sum += vector[i]! * vector[i]!;
  return Math.sqrt(sum);
}
