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
 * Rows need no exchange, so the order is chosen once from the pattern and the numeric work runs down
 * one list of indices with no search and no allocation. A tree of nodes is eliminated with no fill. Where nearly
 * every node left is a neighbour of every other, as the contacts of a die are, the rest is a dense
 * triangle of couplings that needs no list (dense-rest.ts).
 * @module
 */
import { DenseRest } from "./dense-rest.js";
import { eliminationOrder } from "./elimination-order.js";

/** Couplings changed for each one kept, from which on a factorisation is expensive. */
const expensiveFrom = 5;

/** The elimination of one pattern, planned once and run with many matrices. */
export class Elimination {
  /** Couplings kept, fill included. */
  readonly couplings: number;
  /** Whether a factorisation takes so much longer than a solution by it that using it again pays. */
  readonly isExpensive: boolean;

  private readonly sumsAt: number;
  private readonly couplingsAt: number;
  private readonly vectorAt: number;
  /**
   * By unknown, a number that makes what the unknowns of a clique receive from each other symmetric, when each column
   * is divided by its own; 0 where there is none.
   */
  readonly scales: Float64Array;
  /** Where the couplings of the dense rest start. */
  private readonly restAt: number;
  /** Place of each unknown in the order of elimination. */
  private readonly turns: Int32Array;
  /**
   * Later neighbours of each pivot before the dense rest in the order of elimination; and where the couplings
   * of every pivot start.
   */
  private readonly around: readonly Int32Array[];
  private readonly starts: Int32Array;
  /**
   * For each pivot before the dense rest: itself, how many neighbours, the neighbours in the order of
   * elimination, and for each pair of them where their couplings are.
   */
  private readonly forward: Int32Array;
  /** The same without the pairs, for passes that need none. */
  private readonly rows: Int32Array;
  /** For each pivot, last first: itself, how many neighbours, and the neighbours. */
  private readonly backward: Int32Array;
  /** The dense rest, which comes after all others. */
  private readonly rest: DenseRest;

  /**
   * Matrix and right-hand side are kept in one array of numbers.
   * @param size - number of unknowns
   * @param pairs - pairs of unknowns that are coupled
   * @param sumsAt - where the sums of the columns start
   * @param couplingsAt - where the couplings start
   * @param vectorAt - where the right-hand side starts
   * @param cliques - unknowns that are all coupled with each other
   */
  constructor(
    size: number,
    pairs: readonly (readonly [number, number])[],
    sumsAt: number,
    couplingsAt: number,
    vectorAt: number,
    cliques: readonly (readonly number[])[] = [],
  ) {
    this.sumsAt = sumsAt;
    this.couplingsAt = couplingsAt;
    this.vectorAt = vectorAt;
    const { steps, rest: last } = eliminationOrder(size, pairs, cliques);
    const symmetric = symmetricOf(last, pairs, cliques, steps);
    const rest = [...symmetric, ...last.filter((node) => !symmetric.has(node))];
    this.turns = new Int32Array(size);
    this.starts = new Int32Array(size + 1);
    this.starts[0] = couplingsAt;
    // Pivot by pivot, what a neighbour receives from the pivot and then what it gives to it: the
    // elimination goes along the couplings in order and looks up none but those it changes.
    const take = (pivot: number, turn: number, neighbours: number) => {
      this.turns[pivot] = turn;
      this.starts[turn + 1] = this.starts[turn]! + 2 * neighbours;
    };
    steps.forEach(({ pivot, around }, turn) => {
      take(pivot, turn, around.length);
    });
    rest.forEach((pivot, p) => {
      take(pivot, steps.length + p, rest.length - 1 - p);
    });
    const inOrder = (a: number, b: number) => this.turns[a]! - this.turns[b]!;
    this.around = steps.map(({ around }) => new Int32Array(around).sort(inOrder));
    this.restAt = this.starts[steps.length]!;
    this.couplings = this.starts[size]! - couplingsAt;
    this.scales = new Float64Array(size);
    this.rest = new DenseRest(
      new Int32Array(rest),
      symmetric.size,
      sumsAt,
      this.restAt,
      vectorAt,
      this.scales,
    );
    let indices = 0;
    for (const { around } of steps) indices += 2 + (around.length * (around.length + 1)) / 2;
    const products = indices + rest.length ** 3 / 6;
    this.isExpensive = products > expensiveFrom * this.couplings;
    this.forward = new Int32Array(indices);
    this.rows = new Int32Array(2 * steps.length + (this.restAt - couplingsAt) / 2);
    this.backward = new Int32Array(this.rows.length);
    let row = 0;
    let at = 0;
    steps.forEach(({ pivot }, step) => {
      const around = this.around[step]!;
      const { rows, backward } = this;
      const end = row + 2 + around.length;
      rows[row] = pivot;
      rows[row + 1] = around.length;
      rows.set(around, row + 2);
      backward.set(rows.subarray(row, end), backward.length - end);
      row = end;
      this.forward[at++] = pivot;
      this.forward[at++] = around.length;
      this.forward.set(around, at);
      at += around.length;
      for (let i = 0; i < around.length; i++) {
        const turn = this.turns[around[i]!]!;
        const start = this.starts[turn]!;
        const its = this.around[turn];
        // All that come after it here are among its own neighbours, in the same order; of the dense
        // rest all are its neighbours.
        for (let j = i + 1, k = 0; j < around.length; j++) {
          if (its === undefined) k = this.turns[around[j]!]! - turn - 1;
          else while (its[k] !== around[j]) k++;
          this.forward[at++] = start + 2 * k;
        }
      }
    });
  }

  /** Where the coupling (row, column) or the sum of a column is stored; −1 when it is not. */
  position(row: number, column: number): number {
    if (row === column) return this.sumsAt + column;
    const turns = this.turns;
    const gives = turns[row]! < turns[column]!;
    const [first, later] = gives ? [turns[row]!, column] : [turns[column]!, row];
    // In the dense rest all that come later are neighbours.
    const place = this.around[first]?.indexOf(later) ?? turns[later]! - first - 1;
    return place < 0 ? -1 : this.starts[first]! + 2 * place + (gives ? 1 : 0);
  }

  /**
   * Solves; the right-hand side becomes the solution and the matrix its factors. Most pivots of a small
   * network have one neighbour or two; they are written out because a loop costs more to start and end.
   * @returns −1, or the unknown of the first pivot that is not positive
   */
  solve(numbers: Float64Array): number {
    const forward = this.forward;
    const sums = this.sumsAt;
    const vector = this.vectorAt;
    let entry = this.couplingsAt;
    for (let at = 0; at < forward.length; ) {
      const pivot = forward[at]!;
      const count = forward[at + 1]!;
      const neighbours = at + 2;
      const first = entry;
      const last = entry + 2 * count;
      const lost = numbers[sums + pivot]!;
      let sum = lost;
      if (count === 1) sum += numbers[first]!;
      else if (count === 2) sum = sum + numbers[first]! + numbers[first + 2]!;
      else for (let a = first; a < last; a += 2) sum += numbers[a]!;
      if (!(sum > 0 && sum < Number.POSITIVE_INFINITY)) return pivot;
      const inverse = 1 / sum;
      const value = numbers[vector + pivot]! * inverse;
      const share = lost * inverse;
      numbers[vector + pivot] = value;
      // The sum of this column is done with; its place keeps what the way back needs.
      numbers[sums + pivot] = inverse;
      entry = last;
      at = neighbours + count;
      if (count === 1) {
        const node = forward[neighbours]!;
        numbers[vector + node]! += numbers[first]! * value;
        numbers[sums + node]! += numbers[first + 1]! * share;
        continue;
      }
      if (count === 2) {
        const one = forward[neighbours]!;
        const two = forward[neighbours + 1]!;
        const between = forward[at++]!;
        const received = numbers[first]!;
        const given = numbers[first + 1]!;
        const received2 = numbers[first + 2]!;
        const given2 = numbers[first + 3]!;
        numbers[vector + one]! += received * value;
        numbers[sums + one]! += given * share;
        numbers[vector + two]! += received2 * value;
        numbers[sums + two]! += given2 * share;
        numbers[between]! += received2 * (given * inverse);
        numbers[between + 1]! += received * inverse * given2;
        continue;
      }
      for (let n = neighbours, a = first; a < last; n++, a += 2) {
        const node = forward[n]!;
        const received = numbers[a]!;
        const given = numbers[a + 1]!;
        numbers[vector + node]! += received * value;
        numbers[sums + node]! += given * share;
        const receivedPart = received * inverse;
        const givenPart = given * inverse;
        for (let b = a + 2; b < last; b += 2) {
          const between = forward[at++]!;
          numbers[between]! += numbers[b]! * givenPart;
          numbers[between + 1]! += receivedPart * numbers[b + 1]!;
        }
      }
    }
    const unstable = this.rest.count > 0 ? this.rest.solve(numbers) : -1;
    if (unstable < 0) this.#goBack(numbers, 1);
    return unstable;
  }

  /**
   * Solves for another right-hand side by the factors that `solve` left. A right-hand side without a
   * negative keeps all its digits, as in `solve`.
   * @param transposed - by the transposed matrix: what a neighbour gives and receives changes places
   */
  solveAgain(numbers: Float64Array, transposed = false): void {
    const rows = this.rows;
    const sums = this.sumsAt;
    const vector = this.vectorAt;
    let entry = this.couplingsAt + (transposed ? 1 : 0);
    for (let at = 0; at < rows.length; ) {
      const pivot = rows[at]!;
      const neighbours = rows[at + 1]!;
      const value = numbers[vector + pivot]! * numbers[sums + pivot]!;
      numbers[vector + pivot] = value;
      for (let n = at + 2; n < at + 2 + neighbours; n++, entry += 2) {
        numbers[vector + rows[n]!]! += numbers[entry]! * value;
      }
      at += 2 + neighbours;
    }
    if (this.rest.count > 0) this.rest.solveAgain(numbers, transposed);
    this.#goBack(numbers, transposed ? 0 : 1);
  }

  /**
   * From the last pivot to the first: each unknown from those that were eliminated after it.
   * @param part - 1 for the couplings by which the pivot receives, 0 for those by which it gives
   */
  #goBack(numbers: Float64Array, part: 0 | 1): void {
    const backward = this.backward;
    const sums = this.sumsAt;
    const vector = this.vectorAt;
    let entry = this.restAt + part;
    for (let at = 0; at < backward.length; ) {
      const pivot = backward[at]!;
      const count = backward[at + 1]!;
      const neighbours = at + 2;
      const first = entry - 2 * count;
      let sum = 0;
      if (count === 1) sum = numbers[first]! * numbers[vector + backward[neighbours]!]!;
      else if (count === 2) {
        sum =
          numbers[first]! * numbers[vector + backward[neighbours]!]! +
          numbers[first + 2]! * numbers[vector + backward[neighbours + 1]!]!;
      } else {
        for (let n = neighbours, a = first; a < entry; n++, a += 2) {
          sum += numbers[a]! * numbers[vector + backward[n]!]!;
        }
      }
      numbers[vector + pivot]! += numbers[sums + pivot]! * sum;
      entry = first;
      at = neighbours + count;
    }
  }
}

/**
 * Unknowns of the dense rest whose couplings come from one clique alone, symmetric when their columns are
 * scaled: no two of them are coupled by a pair, or by a pivot that goes before.
 */
function symmetricOf(
  rest: readonly number[],
  pairs: readonly (readonly [number, number])[],
  cliques: readonly (readonly number[])[],
  steps: readonly { readonly around: readonly number[] }[],
): Set<number> {
  const [largest = []] = [...cliques].sort((a, b) => b.length - a.length);
  const left = new Set(rest);
  const found = new Set(largest.filter((node) => left.has(node)));
  const others = cliques.filter((clique) => clique !== largest);
  for (const nodes of [...pairs, ...steps.map(({ around }) => around), ...others]) {
    for (const node of nodes.filter((each) => found.has(each)).slice(1)) found.delete(node);
  }
  return found;
}
