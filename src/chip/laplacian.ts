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
import type { Grid, Stretch } from "./grid.js";

/** Conduction on one grid, factored once. */
export class Laplacian {
  readonly transform: CosineTransform;
  /** cellLength/cellWidth: what Θ drives along x. */
  readonly #along: number;
  /** 1/pivot of each wave's chain; row 0, the mean over y, has no use for it. */
  readonly #inverses: Float64Array;

  constructor(readonly grid: Grid) {
    const { cellsX, cellsY, cellWidth, cellLength } = grid;
    this.transform = new CosineTransform(cellsY);
    const along = cellLength / cellWidth;
    this.#along = along;
    this.#inverses = new Float64Array(grid.cells);
    for (let wave = 1; wave < cellsY; wave++) {
      const loss = (4 / along) * Math.sin((Math.PI * wave) / (2 * cellsY)) ** 2;
      // What a cell and all before it lose, seen from the next: only sums, so no digit is lost.
      let seen = loss;
      for (let i = 0; i < cellsX; i++) {
        if (i > 0) seen = loss + (along * seen) / (along + seen);
        this.#inverses[wave * cellsX + i] = 1 / (i < cellsX - 1 ? seen + along : seen);
      }
    }
  }

  /**
   * Θ of every cell, of mean 0, in place of the power that goes into it [W]. A total that is not 0 is
   * taken out evenly over the whole sheet.
   */
  solve(power: Float64Array): void {
    const { cellsX, cellsY } = this.grid;
    this.transform.forward(power, cellsX);
    for (let wave = 0; wave < cellsY; wave++) this.solveWave(wave, power, wave * cellsX);
    this.transform.inverse(power, cellsX);
  }

  /** Θ along x of one wave, in place of its power; from `at` on, `cellsX` numbers. */
  solveWave(wave: number, power: Float64Array, at = 0): void {
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
    for (let i = 1; i < cellsX; i++) {
      value = (power[at + i]! + along * value) * inverses[row + i]!;
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
   * Θ averaged over rectangle i for 1 W spread evenly over rectangle j, row by row. Rectangles that
   * share their columns share most of the work.
   */
  coupling(rectangles: readonly { columns: Stretch; rows: Stretch }[]): Float64Array {
    const { cellsX, cellsY } = this.grid;
    const n = rectangles.length;
    const kinds = new Map<string, number>();
    const stretches: Stretch[] = [];
    const kindOf = rectangles.map(({ columns }) => {
      const key = `${columns.first} ${columns.shares.join(" ")}`;
      const known = kinds.get(key);
      if (known !== undefined) return known;
      kinds.set(key, stretches.length);
      return stretches.push(columns) - 1;
    });
    // Columns of shares over y, one for each rectangle, become columns of waves.
    const waves = new Float64Array(cellsY * n);
    rectangles.forEach(({ rows }, r) => {
      rows.shares.forEach((share, i) => {
        waves[(rows.first + i) * n + r] = share;
      });
    });
    this.transform.forward(waves, n);

    const m = stretches.length;
    const between = new Float64Array(m * m);
    const chain = new Float64Array(cellsX);
    const coupling = new Float64Array(n * n);
    for (let wave = 0; wave < cellsY; wave++) {
      for (let a = 0; a < m; a++) {
        chain.fill(0);
        chain.set(stretches[a]!.shares, stretches[a]!.first);
        this.solveWave(wave, chain);
        for (let b = 0; b <= a; b++) {
          const { first, shares } = stretches[b]!;
          let sum = 0;
          for (let i = 0; i < shares.length; i++) sum += shares[i]! * chain[first + i]!;
          between[a * m + b] = sum;
          between[b * m + a] = sum;
        }
      }
      const weight = (wave === 0 ? 1 : 2) / cellsY;
      for (let r = 0; r < n; r++) {
        const own = weight * waves[wave * n + r]!;
        const row = kindOf[r]! * m;
        for (let s = 0; s <= r; s++) {
          const place = r * n + s;
          coupling[place] =
            coupling[place]! + own * waves[wave * n + s]! * between[row + kindOf[s]!]!;
        }
      }
    }
    for (let r = 0; r < n; r++) {
      for (let s = 0; s < r; s++) coupling[s * n + r] = coupling[r * n + s]!;
    }
    return coupling;
  }
}
