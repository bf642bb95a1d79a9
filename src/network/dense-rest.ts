/**
 * The dense end of an elimination: unknowns that are nearly all coupled with each other, such as the
 * contacts of a die with the box behind them.
 *
 * Columns go two at a time, and each is brought up to date only when its turn comes: what all columns
 * before add to a coupling is one scalar product of two rows, which runs over numbers side by side and
 * stores once. Columns of the contacts of one body, divided by its conductance at their temperatures, are
 * symmetric (see terminals.ts), so that of these one half is found and kept.
 * @module
 */

/** Elimination of a dense rest without subtractions (see elimination.ts), and solutions by its factors. */
export class DenseRest {
  readonly count: number;
  /**
   * Row by row, what the unknowns receive from each column; what no other receives; for each unknown whose
   * own column is not symmetric what it gives to each column; and the right-hand side. Once eliminated, a
   * column is divided by the root of its pivot.
   */
  #rows = new Float64Array(0);
  readonly #stride: number;
  /** 1 over the root of each pivot. */
  readonly #inverses: Float64Array;
  /** By what each column is divided. */
  readonly #scales: Float64Array;
  /** How many columns from the first on are symmetric; an even number. */
  #symmetric = 0;
  readonly #solution: Float64Array;

  /**
   * @param order - the unknowns, those whose columns may be symmetric first
   * @param symmetric - how many these are
   * @param couplingsAt - for each column the couplings with those after it: what they receive, what they give
   * @param scales - of the columns, by unknown; not positive where they are not symmetric
   */
  constructor(
    private readonly order: Int32Array,
    private readonly symmetric: number,
    private readonly sumsAt: number,
    private readonly couplingsAt: number,
    private readonly vectorAt: number,
    private readonly scales: Float64Array,
  ) {
    this.count = order.length;
    // Of an odd number the last column has a neighbour that counts for nothing.
    this.#stride = this.count + (this.count & 1);
    this.#inverses = new Float64Array(this.#stride);
    this.#scales = new Float64Array(this.#stride);
    this.#solution = new Float64Array(this.#stride);
  }

  /** Row of what an unknown gives. */
  #givenRow(unknown: number): number {
    return unknown < this.#symmetric ? unknown : this.count + 1 + unknown - this.#symmetric;
  }

  /**
   * Eliminates all; the right-hand side becomes the solution.
   * @returns −1, or the unknown of the first pivot that is not positive
   */
  solve(numbers: Float64Array): number {
    this.#load(numbers);
    const { count } = this;
    for (let p = 0; p < count; p += 2) {
      const received = p + 1;
      const symmetric = this.#symmetric;
      const rows = this.#rows;
      const stride = this.#stride;
      const given = this.#givenRow(p);
      const last = 2 * count + 2 - symmetric;
      // Of symmetric columns the row that an unknown receives by is the one that it gives by.
      if (p < symmetric) addProducts(rows, stride, received, last, p, p);
      else {
        addProducts(rows, stride, received, count + 1, given, p);
        addProducts(rows, stride, given + 1, last, p, p);
      }
      if (!this.#pivot(p)) return this.order[p]!;
      if (received === count) break;
      const here = received * stride + p;
      const there = this.#givenRow(received) * stride + p;
      const [fromThere, fromHere] = [rows[there]!, rows[here]!];
      for (let row = received; row < last; row++) {
        const at = row * stride + p;
        rows[at + 1]! += rows[at]! * (row <= count ? fromThere : fromHere);
      }
      if (!this.#pivot(received)) return this.order[received]!;
    }
    const y = this.#solution;
    const vector = (2 * count + 1 - this.#symmetric) * this.#stride;
    for (let p = 0; p < count; p++) y[p] = this.#rows[vector + p]!;
    this.#goBack(numbers, false);
    return -1;
  }

  /** Takes couplings, sums and the right-hand side. */
  #load(numbers: Float64Array): void {
    const { count, order, sumsAt, vectorAt } = this;
    const stride = this.#stride;
    let symmetric = this.symmetric & ~1;
    for (let p = 0; p < symmetric; p++) {
      const scale = this.scales[order[p]!]!;
      if (!(scale > 0 && 1 / scale > 0)) symmetric = 0;
    }
    this.#symmetric = symmetric;
    const size = (2 * count + 2 - symmetric) * stride;
    if (this.#rows.length < size) this.#rows = new Float64Array(size);
    const rows = this.#rows;
    let entry = this.couplingsAt;
    for (let p = 0; p < count; p++) {
      const scale = p < symmetric ? this.scales[order[p]!]! : 1;
      const inverse = 1 / scale;
      this.#scales[p] = inverse;
      const next = entry + 2 * (count - 1 - p);
      for (let j = p + 1, at = (p + 1) * stride + p; j < count; j++, at += stride, entry += 2) {
        rows[at] = numbers[entry]! * inverse;
      }
      rows[count * stride + p] = numbers[sumsAt + order[p]!]! * inverse;
      const first = Math.max(p + 1, symmetric);
      entry = next - 2 * (count - first) + 1;
      let at = this.#givenRow(first) * stride + p;
      for (; entry < next; at += stride, entry += 2) rows[at] = numbers[entry]!;
      rows[(2 * count + 1 - symmetric) * stride + p] = numbers[vectorAt + order[p]!]!;
      entry = next;
    }
  }

  /** Adds up a pivot and divides its column by the root of it. @returns false where it is not positive */
  #pivot(p: number): boolean {
    const { count } = this;
    const rows = this.#rows;
    const stride = this.#stride;
    const size = (2 * count + 2 - this.#symmetric) * stride;
    let sum = 0;
    let at = (p + 1) * stride + p;
    for (; at <= count * stride + p; at += stride) sum += rows[at]!;
    if (!(sum > 0 && sum < Number.POSITIVE_INFINITY)) return false;
    const inverse = 1 / Math.sqrt(sum);
    this.#inverses[p] = inverse;
    for (at = (p + 1) * stride + p; at < size; at += stride) rows[at]! *= inverse;
    return true;
  }

  /** Solves for another right-hand side by the factors. @param transposed - by the transposed matrix */
  solveAgain(numbers: Float64Array, transposed: boolean): void {
    const { count, order, vectorAt } = this;
    const rows = this.#rows;
    const y = this.#solution;
    for (let p = 0; p < count; p++) {
      const value = numbers[vectorAt + order[p]!]!;
      y[p] = transposed ? value * this.#scales[p]! : value;
    }
    // Two rows at a time; of an odd number the last stands alone.
    for (let p = 0; p < count; p += 2) {
      const row = (transposed ? this.#givenRow(p) : p) * this.#stride;
      const next = p + 1 < count ? row + this.#stride : row;
      let sum = y[p]!;
      let sum2 = y[p + 1]!;
      for (let q = 0; q < p; q++) {
        const value = y[q]!;
        sum += rows[row + q]! * value;
        sum2 += rows[next + q]! * value;
      }
      const value = sum * this.#inverses[p]!;
      y[p] = value;
      y[p + 1] = (sum2 + rows[next + p]! * value) * this.#inverses[p + 1]!;
    }
    this.#goBack(numbers, transposed);
  }

  /** From the last unknown to the first. */
  #goBack(numbers: Float64Array, transposed: boolean): void {
    const { count, order, vectorAt } = this;
    const rows = this.#rows;
    const y = this.#solution;
    for (let p = (count - 1) & ~1; p >= 0; p -= 2) {
      const row = (transposed ? p : this.#givenRow(p)) * this.#stride;
      const next = p + 1 < count ? row + this.#stride : row;
      const value2 = p + 1 < count ? y[p + 1]! * this.#inverses[p + 1]! : 0;
      const value = (y[p]! + rows[next + p]! * value2) * this.#inverses[p]!;
      y[p] = value;
      y[p + 1] = value2;
      for (let q = 0; q < p; q++) y[q]! += rows[row + q]! * value + rows[next + q]! * value2;
    }
    for (let p = 0; p < count; p++) {
      numbers[vectorAt + order[p]!] = transposed ? y[p]! : y[p]! * this.#scales[p]!;
    }
  }
}

/**
 * Adds to columns p and p + 1 of some rows what the columns before p bring: the products of each row with
 * two, `by` and the next.
 */
function addProducts(
  rows: Float64Array,
  stride: number,
  first: number,
  last: number,
  by: number,
  p: number,
): void {
  const x = by * stride;
  const y = x + stride;
  let row = first;
  for (; row + 3 < last; row += 4) {
    const a = row * stride;
    const b = a + stride;
    const c = b + stride;
    const d = c + stride;
    let ax = 0;
    let ay = 0;
    let bx = 0;
    let by = 0;
    let cx = 0;
    let cy = 0;
    let dx = 0;
    let dy = 0;
    for (let q = 0; q < p; q++) {
      const ofX = rows[x + q]!;
      const ofY = rows[y + q]!;
      const ofA = rows[a + q]!;
      const ofB = rows[b + q]!;
      const ofC = rows[c + q]!;
      const ofD = rows[d + q]!;
      ax += ofA * ofX;
      ay += ofA * ofY;
      bx += ofB * ofX;
      by += ofB * ofY;
      cx += ofC * ofX;
      cy += ofC * ofY;
      dx += ofD * ofX;
      dy += ofD * ofY;
    }
    rows[a + p]! += ax;
    rows[a + p + 1]! += ay;
    rows[b + p]! += bx;
    rows[b + p + 1]! += by;
    rows[c + p]! += cx;
    rows[c + p + 1]! += cy;
    rows[d + p]! += dx;
    rows[d + p + 1]! += dy;
  }
  for (; row < last; row++) {
    const a = row * stride;
    let ax = 0;
    let ay = 0;
    for (let q = 0; q < p; q++) {
      ax += rows[a + q]! * rows[x + q]!;
      ay += rows[a + q]! * rows[y + q]!;
    }
    rows[a + p]! += ax;
    rows[a + p + 1]! += ay;
  }
}
