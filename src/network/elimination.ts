/**
 * Sparse elimination for the Jacobian of a thermal network.
 *
 * Column j of the Jacobian holds −G of node j's links off the diagonal; what its column sums to is
 * the conductance of the node to fixed temperatures, less the slope of its load. The matrix is kept
 * as these couplings G and column sums, and each pivot is built by adding them up. So nothing is ever
 * subtracted, and the step keeps all its digits however far apart the conductances are (Grassmann,
 * Taksar and Heyman, Regenerative analysis and steady state distributions for Markov chains,
 * Oper. Res. 33, 1107 (1985)). All pivots are positive exactly when the state is stable against
 * thermal runaway.
 *
 * Rows need no exchange, so the order is chosen once from the pattern (fewest neighbours first,
 * after Tinney and Walker, Direct solutions of sparse network equations by optimally ordered
 * triangular factorization, Proc. IEEE 55, 1801 (1967)) and the numeric work runs down one list of
 * indices with no search and no allocation. A tree of nodes is eliminated with no fill.
 * @module
 */

/** The elimination of one pattern, planned once and run with many matrices. */
export class Elimination {
  /** Number of stored entries: a column sum for each node, then the couplings, fill included. */
  readonly entries: number;

  readonly #size: number;
  readonly #positions = new Map<number, number>();
  /**
   * For each pivot: itself, its number of neighbours; for each neighbour its node and the positions
   * of (neighbour, pivot) and (pivot, neighbour); then, row by row, the positions of what couples
   * each neighbour to each other one.
   */
  readonly #plan: Int32Array;
  /** Where each pivot starts in the plan. */
  readonly #starts: Int32Array;
  readonly #inverses: Float64Array;

  /**
   * @param size - number of nodes
   * @param unknowns - the nodes to solve for
   * @param pairs - pairs of unknown nodes that are coupled
   */
  constructor(
    size: number,
    unknowns: Iterable<number>,
    pairs: Iterable<readonly [number, number]>,
  ) {
    this.#size = size;
    this.#inverses = new Float64Array(size);
    const neighbours = Array.from({ length: size }, () => new Set<number>());
    const couple = (a: number, b: number) => {
      neighbours[a]!.add(b);
      neighbours[b]!.add(a);
      for (const key of [a * size + b, b * size + a]) {
        if (!this.#positions.has(key)) this.#positions.set(key, size + this.#positions.size);
      }
    };
    for (const [a, b] of pairs) if (a !== b) couple(a, b);

    const plan: number[] = [];
    const starts: number[] = [];
    const waiting = new Set(unknowns);
    while (waiting.size > 0) {
      let pivot = -1;
      for (const i of waiting) {
        if (pivot < 0 || neighbours[i]!.size < neighbours[pivot]!.size) pivot = i;
      }
      const around = [...neighbours[pivot]!];
      for (const a of around) neighbours[a]!.delete(pivot);
      for (const a of around) for (const b of around) if (a < b) couple(a, b);
      waiting.delete(pivot);
      starts.push(plan.length);
      plan.push(pivot, around.length);
      for (const a of around) plan.push(a, this.position(a, pivot), this.position(pivot, a));
      for (const a of around) for (const b of around) if (a !== b) plan.push(this.position(a, b));
    }
    this.entries = size + this.#positions.size;
    this.#plan = Int32Array.from(plan);
    this.#starts = Int32Array.from(starts);
  }

  /** Where the coupling (row, column) is stored; −1 when it is not. */
  position(row: number, column: number): number {
    return this.#positions.get(row * this.#size + column) ?? -1;
  }

  /**
   * Solves; the right-hand side becomes the solution and the matrix is used up.
   * @returns −1, or the node of the first pivot that is not positive
   */
  solve(matrix: Float64Array, x: Float64Array): number {
    const plan = this.#plan;
    const starts = this.#starts;
    const inverses = this.#inverses;
    let at = 0;
    for (let s = 0; s < starts.length; s++) {
      const pivot = plan[at]!;
      const first = at + 2;
      const last = first + 3 * plan[at + 1]!;
      let sum = matrix[pivot]!;
      for (let r = first; r < last; r += 3) sum += matrix[plan[r + 1]!]!;
      if (!(sum > 0 && sum < Number.POSITIVE_INFINITY)) return pivot;
      const inverse = 1 / sum;
      inverses[pivot] = inverse;
      const value = x[pivot]! * inverse;
      x[pivot] = value;
      const out = matrix[pivot]! * inverse;
      at = last;
      for (let r = first; r < last; r += 3) {
        const row = plan[r]!;
        const coupling = matrix[plan[r + 1]!]!;
        x[row] = x[row]! + coupling * value;
        matrix[row] = matrix[row]! + out * matrix[plan[r + 2]!]!;
        const share = coupling * inverse;
        for (let c = first; c < last; c += 3) {
          if (c === r) continue;
          const target = plan[at++]!;
          matrix[target] = matrix[target]! + share * matrix[plan[c + 2]!]!;
        }
      }
    }
    for (let s = starts.length - 1; s >= 0; s--) {
      const start = starts[s]!;
      const pivot = plan[start]!;
      const last = start + 2 + 3 * plan[start + 1]!;
      let sum = 0;
      for (let r = start + 2; r < last; r += 3) sum += matrix[plan[r + 2]!]! * x[plan[r]!]!;
      x[pivot] = x[pivot]! + inverses[pivot]! * sum;
    }
    return -1;
  }
}
