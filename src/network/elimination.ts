/**
 * Sparse elimination for the Jacobian of a thermal network.
 *
 * Every column of the Jacobian holds −G of a node's links off the diagonal and at least their sum on
 * it: an M-matrix dominated by its columns. Elimination without exchange of rows is then stable, so
 * the order can be chosen once from the pattern alone (fewest neighbours first, after Tinney and
 * Walker, Proc. IEEE 55, 1801 (1967)) and the numeric work runs through flat lists, with no search
 * and no allocation. A tree of nodes is eliminated with no fill at all.
 * @module
 */

/** Lists that drive the elimination of one pattern. */
export interface Elimination {
  readonly size: number;
  /** Number of stored entries, fill included; entries 0 to size−1 are the diagonal. */
  readonly entries: number;
  /** Position in storage of the entry (row, column); −1 when it is not stored. */
  position(row: number, column: number): number;
  /** Factors the matrix in place. Returns the row of the first pivot that is not positive, or −1. */
  factor(matrix: Float64Array): number;
  /** Solves with the factored matrix; the right-hand side becomes the solution. */
  solve(matrix: Float64Array, rightHandSide: Float64Array): void;
}

/**
 * Plans the elimination of a structurally symmetric matrix.
 * @param size - number of unknowns
 * @param pairs - pairs of unknowns that are coupled
 */
export function planElimination(
  size: number,
  pairs: Iterable<readonly [number, number]>,
): Elimination {
  const neighbours = Array.from({ length: size }, () => new Set<number>());
  const positions = new Map<number, number>();
  let entries = size;
  const store = (row: number, column: number) => {
    const key = row * size + column;
    if (!positions.has(key)) positions.set(key, entries++);
  };
  const couple = (a: number, b: number) => {
    neighbours[a]!.add(b);
    neighbours[b]!.add(a);
    store(a, b);
    store(b, a);
  };
  for (const [a, b] of pairs) if (a !== b) couple(a, b);
  const position = (row: number, column: number) =>
    row === column ? row : (positions.get(row * size + column) ?? -1);

  // One step eliminates one pivot from the rows of its neighbours that are still there.
  const order: number[] = [];
  const stepRows: number[][] = [];
  const waiting = new Set(Array.from({ length: size }, (_, i) => i));
  while (waiting.size > 0) {
    let pivot = -1;
    for (const i of waiting) {
      if (pivot < 0 || neighbours[i]!.size < neighbours[pivot]!.size) pivot = i;
    }
    const around = [...neighbours[pivot]!];
    for (const a of around) neighbours[a]!.delete(pivot);
    for (const a of around) for (const b of around) if (a < b) couple(a, b);
    waiting.delete(pivot);
    order.push(pivot);
    stepRows.push(around);
  }

  // rows: pivot, row, position of (row, pivot), and the stretch of updates that belongs to it
  const rows: number[] = [];
  const updates: number[] = [];
  const pivotStart: number[] = [];
  order.forEach((pivot, step) => {
    pivotStart.push(rows.length / 4);
    for (const row of stepRows[step]!) {
      rows.push(row, position(row, pivot), position(pivot, row), updates.length / 2);
      for (const column of stepRows[step]!) {
        updates.push(position(row, column), position(pivot, column));
      }
    }
  });
  pivotStart.push(rows.length / 4);
  rows.push(0, 0, 0, updates.length / 2);
  const pivots = Int32Array.from(order);
  const starts = Int32Array.from(pivotStart);
  const rowList = Int32Array.from(rows);
  const updateList = Int32Array.from(updates);

  return {
    size,
    entries,
    position,
    factor(matrix) {
      for (let step = 0; step < size; step++) {
        const pivot = pivots[step]!;
        const diagonal = matrix[pivot]!;
        if (!(diagonal > 0) || diagonal === Number.POSITIVE_INFINITY) return pivot;
        const inverse = 1 / diagonal;
        for (let r = starts[step]!; r < starts[step + 1]!; r++) {
          const lower = rowList[4 * r + 1]!;
          const multiple = matrix[lower]! * inverse;
          matrix[lower] = multiple;
          const end = rowList[4 * r + 7]!;
          for (let u = rowList[4 * r + 3]!; u < end; u++) {
            const target = updateList[2 * u]!;
            matrix[target] = matrix[target]! - multiple * matrix[updateList[2 * u + 1]!]!;
          }
        }
      }
      return -1;
    },
    solve(matrix, rightHandSide) {
      for (let step = 0; step < size; step++) {
        const value = rightHandSide[pivots[step]!]!;
        if (value === 0) continue;
        for (let r = starts[step]!; r < starts[step + 1]!; r++) {
          const row = rowList[4 * r]!;
          rightHandSide[row] = rightHandSide[row]! - matrix[rowList[4 * r + 1]!]! * value;
        }
      }
      for (let step = size - 1; step >= 0; step--) {
        const pivot = pivots[step]!;
        let sum = rightHandSide[pivot]!;
        for (let r = starts[step]!; r < starts[step + 1]!; r++) {
          sum -= matrix[rowList[4 * r + 2]!]! * rightHandSide[rowList[4 * r]!]!;
        }
        rightHandSide[pivot] = sum / matrix[pivot]!;
      }
    },
  };
}
