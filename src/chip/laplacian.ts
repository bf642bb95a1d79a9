/**
 * Steady conduction along a sheet of equal cells with insulated rims, solved directly.
 *
 * In Θ = t ∫κ dT [W] what a cell passes to its right neighbour is (Θ − Θ′) · cellLength/cellWidth and
 * to its upper one (Θ − Θ′) · cellWidth/cellLength: second order in the cell. A cosine transform along y
 * decouples the rows into modes, and each mode is a chain along x, solved by elimination (R. W. Hockney,
 * A fast direct solution of Poisson's equation using Fourier analysis, J. ACM 12, 95 (1965)).
 * @module
 */
import { CosineTransform } from "./cosine-transform.js";
import type { CellRange, Grid, Rectangle } from "./grid.js";

/** A rectangle with even heat: shares in the cells along x, cosine modes along y. */
export interface Patch {
  readonly columns: CellRange;
  /** Cosine modes of the shares in the rows. */
  readonly modes: Float64Array;
}

/** Conduction on one grid, factored once. */
export class Laplacian {
  readonly #transform: CosineTransform;
  /** cellLength/cellWidth: what Θ drives along x. */
  readonly #along: number;
  /** 1/pivot of each mode's chain; unused in row 0, the mean over y. */
  readonly #inverses: Float64Array;

  constructor(readonly grid: Grid) {
    const { cellsX, cellsY, cellWidth, cellLength } = grid;
    this.#transform = new CosineTransform(cellsY);
    const along = cellLength / cellWidth;
    this.#along = along;
    this.#inverses = new Float64Array(grid.cells);
    for (let mode = 1; mode < cellsY; mode++) {
      const loss = this.#loss(mode);
      const lost = this.#lossBefore(mode);
      for (let i = 0; i < cellsX; i++) {
        const before = i > 0 ? loss + lost[i - 1]! : loss;
        this.#inverses[mode * cellsX + i] = 1 / (i < cellsX - 1 ? before + along : before);
      }
    }
  }

  /** Conductance of a cell of a mode's chain to the neighbouring rows. */
  #loss(mode: number): number {
    return (4 / this.#along) * Math.sin((Math.PI * mode) / (2 * this.grid.cellsY)) ** 2;
  }

  /** The same of each cell with all before it, as the next cell has it; sums only, which lose no digits. */
  #lossBefore(mode: number): Float64Array {
    const along = this.#along;
    const loss = this.#loss(mode);
    const lost = new Float64Array(this.grid.cellsX);
    let sum = loss;
    for (let i = 0; i < lost.length; i++) {
      lost[i] = (along * sum) / (along + sum);
      sum = loss + lost[i]!;
    }
    return lost;
  }

  /**
   * Θ of every cell, of mean 0, in place of the power that goes into it [W]. A total that is not 0 is
   * taken out evenly over the whole sheet.
   */
  solve(power: Float64Array): void {
    this.toModes(power);
    this.solveModes(power);
    this.toCells(power);
  }

  /** Forward transform: cosine modes along y in place of the numbers of the cells; row k is mode k. */
  toModes(cells: Float64Array): void {
    this.#transform.forward(cells, this.grid.cellsX);
  }

  /** Inverse transform. */
  toCells(modes: Float64Array): void {
    this.#transform.inverse(modes, this.grid.cellsX);
  }

  /** The modes of Θ in place of those of the power. */
  solveModes(modes: Float64Array): void {
    const { cellsX, cellsY } = this.grid;
    for (let mode = 0; mode < cellsY; mode++) this.#solveMode(mode, modes, mode * cellsX);
  }

  patch(rectangle: Rectangle): Patch {
    const { first, shares } = this.grid.rows(rectangle);
    const modes = new Float64Array(this.grid.cellsY);
    modes.set(shares, first);
    this.#transform.forward(modes, 1);
    return { columns: this.grid.columns(rectangle), modes };
  }

  /** Adds the heat of a patch to the modes of the power. */
  addHeat({ columns: { first, shares }, modes }: Patch, power: Float64Array): void {
    const { cellsX, cellsY } = this.grid;
    // Two modes at a time; of an odd number the last stands alone.
    for (let mode = 0; mode < cellsY; mode += 2) {
      const row = mode * cellsX + first;
      const next = mode + 1 < cellsY ? row + cellsX : row;
      const ofMode = modes[mode]!;
      const ofNext = mode + 1 < cellsY ? modes[mode + 1]! : 0;
      for (let i = 0; i < shares.length; i++) {
        const share = shares[i]!;
        power[row + i] = power[row + i]! + ofMode * share;
        power[next + i] = power[next + i]! + ofNext * share;
      }
    }
  }

  /**
   * Means over columns, mode by mode. The sum of their products with a patch's own modes is the mean over
   * the patch.
   */
  meansOfModes({ first, shares }: CellRange, of: Float64Array, into: Float64Array): void {
    const { cellsX, cellsY } = this.grid;
    for (let mode = 0; mode < cellsY; mode += 2) {
      const row = mode * cellsX + first;
      const next = mode + 1 < cellsY ? row + cellsX : row;
      let sum = 0;
      let sum2 = 0;
      for (let i = 0; i < shares.length; i++) {
        const share = shares[i]!;
        sum += share * of[row + i]!;
        sum2 += share * of[next + i]!;
      }
      into[mode] = ((mode === 0 ? 1 : 2) / cellsY) * sum;
      if (next > row) into[mode + 1] = (2 / cellsY) * sum2;
    }
  }

  /** Θ along x of one mode, in place of its power; from `at` on, `cellsX` numbers. */
  #solveMode(mode: number, power: Float64Array, at: number): void {
    const { cellsX } = this.grid;
    const along = this.#along;
    if (mode === 0) {
      this.#solveMean(power, at);
      return;
    }
    const inverses = this.#inverses;
    const row = mode * cellsX;
    let value = power[at]! * inverses[row]!;
    power[at] = value;
    // In this form each value depends on the one before by one product and one sum only.
    for (let i = 1; i < cellsX; i++) {
      const inverse = inverses[row + i]!;
      value = power[at + i]! * inverse + along * inverse * value;
      power[at + i] = value;
    }
    for (let i = cellsX - 2; i >= 0; i--) {
      value = power[at + i]! + along * inverses[row + i]! * value;
      power[at + i] = value;
    }
  }

  /** The chain of mode 0, without losses: the heat up to a cell drives the next step of Θ. */
  #solveMean(power: Float64Array, at: number): void {
    const { cellsX } = this.grid;
    let mean = 0;
    for (let i = 0; i < cellsX; i++) mean += power[at + i]! / cellsX;
    let passing = 0;
    let value = 0;
    let sum = 0;
    for (let i = 0; i < cellsX; i++) {
      const next = power[at + i]! - mean;
      power[at + i] = value;
      sum += value;
      passing += next;
      value -= passing / this.#along;
    }
    for (let i = 0; i < cellsX; i++) power[at + i] = power[at + i]! - sum / cellsX;
  }

  /**
   * Θ averaged over patch i for 1 W on patch j, row by row. Patches that share their columns share
   * most of the work, and of a mode that decays from one to the other only what is left counts.
   */
  coupling(patches: readonly Patch[]): Float64Array {
    const { cellsX, cellsY } = this.grid;
    const n = patches.length;
    // From left to right; those that overlap come last.
    const { apart, others } = sortedOut(stacked(patches));
    const stacks = [...apart, ...others];
    const ranges = stacks.map(({ columns }) => columns);
    const kindOf = Int32Array.from(stacks.flatMap(({ pieces }, k) => pieces.map(() => k)));
    const sorted = stacks.flatMap(({ pieces }) => pieces);
    const m = stacks.length;
    const between = new Float64Array(m * m);
    const put = (a: number, b: number, value: number) => {
      between[a * m + b] = value;
      between[b * m + a] = value;
    };
    const chain = new Float64Array(cellsX);
    const solveChain = (mode: number, a: number) => {
      chain.fill(0);
      chain.set(ranges[a]!.shares, ranges[a]!.first);
      this.#solveMode(mode, chain, 0);
      ranges.forEach((range, b) => {
        put(a, b, meanOver(range, chain));
      });
    };
    /** The first patch of a stack; the first stack that a mode couples a stack with. */
    const firstOf = new Int32Array(m);
    for (let r = n - 1; r >= 0; r--) firstOf[kindOf[r]!] = r;
    const reach = new Int32Array(m);
    const coupling = new Float64Array(n * n);
    const ofMode = new Float64Array(n);
    for (let mode = 0; mode < cellsY; mode++) {
      for (let a = mode === 0 ? 0 : apart.length; a < m; a++) solveChain(mode, a);
      if (mode > 0) this.#coupleAlong(mode, ranges.slice(0, apart.length), put, reach);
      const weight = (mode === 0 ? 1 : 2) / cellsY;
      for (let r = 0; r < n; r++) ofMode[r] = sorted[r]!.modes[mode]!;
      for (let r = 0; r < n; r++) {
        const own = weight * ofMode[r]!;
        const kind = kindOf[r]!;
        const row = kind * m;
        for (let s = firstOf[reach[kind]!]!; s <= r; s++) {
          const place = r * n + s;
          coupling[place] = coupling[place]! + own * ofMode[s]! * between[row + kindOf[s]!]!;
        }
      }
    }
    const places = new Map(patches.map((patch, i) => [patch, i]));
    const placeOf = Int32Array.from(sorted, (patch) => places.get(patch)!);
    const inOrder = new Float64Array(n * n);
    for (let r = 0; r < n; r++) {
      for (let s = 0; s <= r; s++) {
        const value = coupling[r * n + s]!;
        inOrder[placeOf[r]! * n + placeOf[s]!] = value;
        inOrder[placeOf[s]! * n + placeOf[r]!] = value;
      }
    }
    return inOrder;
  }

  /**
   * Coupling by one mode between ranges side by side. Θ of a cell is a part of Θ of its right neighbour,
   * the same part wherever on the right the heat enters, so from one range to the next on its left Θ is a
   * product of these parts.
   * @param ranges - from left to right
   * @param reach - is given for each range the first that it is coupled with by more than rounding
   */
  #coupleAlong(
    mode: number,
    ranges: readonly CellRange[],
    put: (a: number, b: number, value: number) => void,
    reach: Int32Array,
  ): void {
    const { cellsX } = this.grid;
    const row = mode * cellsX;
    const [along, inverses] = [this.#along, this.#inverses];
    const loss = this.#loss(mode);
    const lost = this.#lossBefore(mode);
    const part = (i: number) => along * inverses[row + i]!;
    /** Θ of a cell for 1 W in it: 1 over its conductance to the rows and by either neighbour. */
    const own = (i: number) =>
      1 / (loss + (i > 0 ? lost[i - 1]! : 0) + (i < cellsX - 1 ? lost[cellsX - 2 - i]! : 0));
    /** By place in the order: product of the parts up to the first cell of a range, and over the range. */
    const gaps: number[] = [];
    const spans: number[] = [];
    /** Mean over a range for Θ = 1 in its last cell and heat from the right. */
    const means: number[] = [];
    let cell = 0;
    for (const [p, { first, shares }] of ranges.entries()) {
      const last = first + shares.length - 1;
      gaps[p] = 1;
      for (; cell < first; cell++) gaps[p]! *= part(cell);
      spans[p] = 1;
      means[p] = shares[0]!;
      for (; cell < last; cell++) {
        spans[p]! *= part(cell);
        means[p] = means[p]! * part(cell) + shares[cell + 1 - first]!;
      }
      let theta = 0;
      let mean = 0;
      for (let i = last; i >= first; i--) {
        const share = shares[i - first]!;
        if (i < last) theta *= part(i);
        mean += share * (2 * theta + share * own(i));
        theta += share * own(i);
      }
      put(p, p, mean);
      let q = p - 1;
      for (; q >= 0; q--) {
        theta *= gaps[q + 1]!;
        if (theta < negligible * mean) break;
        put(p, q, theta * means[q]!);
        theta *= spans[q]!;
      }
      reach[p] = q + 1;
    }
  }
}

/** Part of what a mode does at its own place that is rounding in the sum of the modes. */
const negligible = 1e-19;

/** Patches by their columns of cells: those with the same, such as along a rim, are together. */
export function stacked<P extends Patch>(patches: readonly P[]) {
  const stacks = new Map<string, { readonly columns: CellRange; readonly pieces: P[] }>();
  for (const patch of patches) {
    const { columns } = patch;
    const key = `${columns.first} ${columns.shares.join(" ")}`;
    const stack = stacks.get(key) ?? { columns, pieces: [] };
    stack.pieces.push(patch);
    stacks.set(key, stack);
  }
  return [...stacks.values()];
}

function meanOver({ first, shares }: CellRange, of: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < shares.length; i++) sum += shares[i]! * of[first + i]!;
  return sum;
}

/**
 * Stacks from left to right that overlap by one cell at most, the last of one and the first of the next;
 * and the others. Of two that overlap more, the one that ends further right is among the others.
 */
function sortedOut<S extends { readonly columns: CellRange }>(stacks: readonly S[]) {
  const end = ({ columns: { first, shares } }: S) => first + shares.length;
  const apart: S[] = [];
  const others: S[] = [];
  for (const next of [...stacks].sort((a, b) => a.columns.first - b.columns.first)) {
    const before = apart.at(-1);
    if (before === undefined || end(before) <= next.columns.first + 1) apart.push(next);
    else if (end(next) < end(before)) others.push(apart.splice(-1, 1, next)[0]!);
    else others.push(next);
  }
  return { apart, others };
}
