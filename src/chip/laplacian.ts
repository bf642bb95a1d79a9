/**
 * Steady conduction along a sheet of equal cells with insulated rims, solved directly.
 *
 * In Θ = t ∫κ dT [W] what a cell passes to its right neighbour is (Θ − Θ′) · cellLength/cellWidth and
 * to its upper one (Θ − Θ′) · cellWidth/cellLength: second order in the cell. Cosines along y take the
 * rows apart, and each wave is then a chain along x, solved by elimination (R. W. Hockney, A fast
 * direct solution of Poisson's equation using Fourier analysis, J. ACM 12, 95 (1965)).
 * @module
 */
import { CosineTransform } from "./cosine-transform.js";
import type { CellRange, Grid, Rectangle } from "./grid.js";

/** A rectangle with heat spread evenly over it, along x as shares in cells and along y as waves. */
export interface Patch {
  readonly columns: CellRange;
  /** The shares in the rows, transformed. */
  readonly waves: Float64Array;
}

/** Conduction on one grid, factored once. */
export class Laplacian {
  readonly #transform: CosineTransform;
  /** cellLength/cellWidth: what Θ drives along x. */
  readonly #along: number;
  /** 1/pivot of each wave's chain; row 0, the mean over y, has no use for it. */
  readonly #inverses: Float64Array;

  constructor(readonly grid: Grid) {
    const { cellsX, cellsY, cellWidth, cellLength } = grid;
    this.#transform = new CosineTransform(cellsY);
    const along = cellLength / cellWidth;
    this.#along = along;
    this.#inverses = new Float64Array(grid.cells);
    for (let wave = 1; wave < cellsY; wave++) {
      const loss = this.#loss(wave);
      const lost = this.#lossBefore(wave);
      for (let i = 0; i < cellsX; i++) {
        const seen = i > 0 ? loss + lost[i - 1]! : loss;
        this.#inverses[wave * cellsX + i] = 1 / (i < cellsX - 1 ? seen + along : seen);
      }
    }
  }

  /** What a cell of a wave's chain loses to the rows beside it. */
  #loss(wave: number): number {
    return (4 / this.#along) * Math.sin((Math.PI * wave) / (2 * this.grid.cellsY)) ** 2;
  }

  /** What each cell and all before it lose, seen from the next: only sums, so no digit is lost. */
  #lossBefore(wave: number): Float64Array {
    const along = this.#along;
    const loss = this.#loss(wave);
    const lost = new Float64Array(this.grid.cellsX);
    let seen = loss;
    for (let i = 0; i < lost.length; i++) {
      const before = (along * seen) / (along + seen);
      lost[i] = before;
      seen = loss + before;
    }
    return lost;
  }

  /**
   * Θ of every cell, of mean 0, in place of the power that goes into it [W]. A total that is not 0 is
   * taken out evenly over the whole sheet.
   */
  solve(power: Float64Array): void {
    this.toWaves(power);
    this.solveWaves(power);
    this.toCells(power);
  }

  /** Waves along y in place of the numbers of the cells: row k is wave k. */
  toWaves(cells: Float64Array): void {
    this.#transform.forward(cells, this.grid.cellsX);
  }

  toCells(waves: Float64Array): void {
    this.#transform.inverse(waves, this.grid.cellsX);
  }

  /** The waves of Θ in place of those of the power. */
  solveWaves(waves: Float64Array): void {
    const { cellsX, cellsY } = this.grid;
    for (let wave = 0; wave < cellsY; wave++) this.#solveWave(wave, waves, wave * cellsX);
  }

  patch(rectangle: Rectangle): Patch {
    const { first, shares } = this.grid.rows(rectangle);
    const waves = new Float64Array(this.grid.cellsY);
    waves.set(shares, first);
    this.#transform.forward(waves, 1);
    return { columns: this.grid.columns(rectangle), waves };
  }

  /** Adds heat to the waves of the power: of each wave so much, spread over columns. */
  addHeat({ columns: { first, shares }, waves }: Patch, power: Float64Array): void {
    const { cellsX, cellsY } = this.grid;
    for (let wave = 0; wave < cellsY; wave++) {
      const row = wave * cellsX + first;
      const ofWave = waves[wave]!;
      for (let i = 0; i < shares.length; i++) {
        power[row + i] = power[row + i]! + ofWave * shares[i]!;
      }
    }
  }

  /**
   * Means over columns of what the waves stand for, wave by wave: times a patch's own waves and added up
   * they are the mean over it.
   */
  meansOfWaves({ first, shares }: CellRange, of: Float64Array, into: Float64Array): void {
    const { cellsX, cellsY } = this.grid;
    for (let wave = 0; wave < cellsY; wave++) {
      const row = wave * cellsX + first;
      let sum = 0;
      for (let i = 0; i < shares.length; i++) sum += shares[i]! * of[row + i]!;
      into[wave] = ((wave === 0 ? 1 : 2) / cellsY) * sum;
    }
  }

  /** Θ along x of one wave, in place of its power; from `at` on, `cellsX` numbers. */
  #solveWave(wave: number, power: Float64Array, at: number): void {
    const { cellsX } = this.grid;
    const along = this.#along;
    if (wave === 0) {
      this.#solveMean(power, at);
      return;
    }
    const inverses = this.#inverses;
    const row = wave * cellsX;
    let value = power[at]! * inverses[row]!;
    power[at] = value;
    // Each value waits for the one before by one product and one sum, and no longer.
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

  /** The chain without losses: heat that has come in so far drives the next step of Θ. */
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
   * most of the work.
   */
  coupling(patches: readonly Patch[]): Float64Array {
    const { cellsX, cellsY } = this.grid;
    const n = patches.length;
    const kinds = new Map<string, number>();
    const stretches: CellRange[] = [];
    const kindOf = patches.map(({ columns }) => {
      const key = keyOf(columns);
      const known = kinds.get(key);
      if (known !== undefined) return known;
      kinds.set(key, stretches.length);
      return stretches.push(columns) - 1;
    });

    const m = stretches.length;
    const between = new Float64Array(m * m);
    const put = (a: number, b: number, value: number) => {
      between[a * m + b] = value;
      between[b * m + a] = value;
    };
    const chain = new Float64Array(cellsX);
    const solveChain = (wave: number, a: number) => {
      chain.fill(0);
      chain.set(stretches[a]!.shares, stretches[a]!.first);
      this.#solveWave(wave, chain, 0);
      stretches.forEach((stretch, b) => {
        put(a, b, meanOver(stretch, chain));
      });
    };
    const { apart, others } = sortedOut(stretches);
    const coupling = new Float64Array(n * n);
    const ofWave = new Float64Array(n);
    for (let wave = 0; wave < cellsY; wave++) {
      for (const a of wave === 0 ? stretches.keys() : others) solveChain(wave, a);
      if (wave > 0) this.#coupleAlong(wave, stretches, apart, put);
      const weight = (wave === 0 ? 1 : 2) / cellsY;
      for (let r = 0; r < n; r++) ofWave[r] = patches[r]!.waves[wave]!;
      for (let r = 0; r < n; r++) {
        const own = weight * ofWave[r]!;
        const row = kindOf[r]! * m;
        for (let s = 0; s <= r; s++) {
          const place = r * n + s;
          coupling[place] = coupling[place]! + own * ofWave[s]! * between[row + kindOf[s]!]!;
        }
      }
    }
    for (let r = 0; r < n; r++) {
      for (let s = 0; s < r; s++) coupling[s * n + r] = coupling[r * n + s]!;
    }
    return coupling;
  }

  /**
   * What one wave couples between stretches that stand side by side. In a chain each cell takes on a part
   * of its right neighbour's Θ that is the same wherever on the right the heat comes in, so from one
   * stretch to the next on its left Θ is a product of these parts.
   */
  #coupleAlong(
    wave: number,
    stretches: readonly CellRange[],
    order: readonly number[],
    put: (a: number, b: number, value: number) => void,
  ): void {
    const { cellsX } = this.grid;
    const row = wave * cellsX;
    const [along, inverses] = [this.#along, this.#inverses];
    const loss = this.#loss(wave);
    const lost = this.#lossBefore(wave);
    const part = (i: number) => along * inverses[row + i]!;
    /** Θ of a cell for 1 W in it: over what it loses by itself and by way of either neighbour. */
    const own = (i: number) =>
      1 / (loss + (i > 0 ? lost[i - 1]! : 0) + (i < cellsX - 1 ? lost[cellsX - 2 - i]! : 0));
    /** By place in the order: from the last cell of the one before to its first, and from there to its last. */
    const gaps: number[] = [];
    const spans: number[] = [];
    /** Mean over a stretch where Θ is 1 in its last cell and all heat comes from the right. */
    const means: number[] = [];
    let cell = 0;
    for (const [p, a] of order.entries()) {
      const { first, shares } = stretches[a]!;
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
      put(a, a, mean);
      for (let q = p - 1; q >= 0; q--) {
        theta *= gaps[q + 1]!;
        put(a, order[q]!, theta * means[q]!);
        theta *= spans[q]!;
      }
    }
  }
}

/** The same for stretches of the same shares in the same cells. */
export function keyOf({ first, shares }: CellRange): string {
  return `${first} ${shares.join(" ")}`;
}

function meanOver({ first, shares }: CellRange, of: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < shares.length; i++) sum += shares[i]! * of[first + i]!;
  return sum;
}

/**
 * Stretches from left to right of which two share one cell at most, the last of one and the first of the
 * next; and the others, wide ones rather.
 */
function sortedOut(stretches: readonly CellRange[]): {
  readonly apart: readonly number[];
  readonly others: readonly number[];
} {
  const end = (a: number) => stretches[a]!.first + stretches[a]!.shares.length;
  const apart: number[] = [];
  const others: number[] = [];
  for (const next of [...stretches.keys()].sort(
    (a, b) => stretches[a]!.first - stretches[b]!.first,
  )) {
    const before = apart.at(-1);
    if (before === undefined || end(before) <= stretches[next]!.first + 1) apart.push(next);
    else if (end(next) < end(before)) others.push(apart.splice(-1, 1, next)[0]!);
    else others.push(next);
  }
  return { apart, others };
}
