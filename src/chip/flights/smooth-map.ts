/**
 * A map without what is only scatter of the phonons that it was counted from.
 * @module
 */
import { CosineTransform } from "../cosine-transform.js";
import type { Grid } from "../grid.js";

/** Variances of the mean of a cosine mode that it must exceed to stay; half of it stays at twice as many. */
const threshold = 4;

/** Transforms of maps on a grid of cells along both sides. */
class PlaneCosines {
  readonly #alongX: CosineTransform;
  readonly #alongY: CosineTransform;

  constructor(readonly grid: Grid) {
    this.#alongX = new CosineTransform(grid.cellsX);
    this.#alongY = new CosineTransform(grid.cellsY);
  }

  forward(cells: Float64Array): Float64Array {
    const { cellsX, cellsY } = this.grid;
    const first = cells.slice();
    this.#alongY.forward(first, cellsX);
    const modes = transposed(first, cellsY, cellsX);
    this.#alongX.forward(modes, cellsY);
    return modes;
  }

  inverse(modes: Float64Array): Float64Array {
    const { cellsX, cellsY } = this.grid;
    const first = modes.slice();
    this.#alongX.inverse(first, cellsY);
    const cells = transposed(first, cellsX, cellsY);
    this.#alongY.inverse(cells, cellsX);
    return cells;
  }
}

function transposed(data: Float64Array, rows: number, columns: number): Float64Array {
  const other = new Float64Array(data.length);
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < columns; j++) other[j * rows + i] = data[i * columns + j]!;
  }
  return other;
}

/** A smooth map and how well it is known. */
export interface SmoothMap {
  /** Row by row from the lower left. */
  readonly cells: Float64Array;
  /**
   * How a weighted sum of the cells scatters with the maps, one number for each: the standard error of their
   * mean is that of the sum, to first order in the maps.
   */
  scatterOf(weights: Float64Array): number[];
  /** Standard error of a weighted sum of the cells. */
  errorOf(weights: Float64Array): number;
}

/**
 * The mean of several maps of the same. Of each cosine mode stays the part 1 − 4v/m², with m its mean and
 * v the variance of that, from the maps' scatter, or nothing; the mean over the map always stays.
 * A detail that the scatter hides is lost, not moved.
 * @param maps - at least two, counted independently
 */
export function smoothMap(grid: Grid, maps: readonly Float64Array[]): SmoothMap {
  const plane = new PlaneCosines(grid);
  const each = maps.map((map) => plane.forward(map));
  const n = maps.length;
  const modes = new Float64Array(grid.cells);
  const kept = new Float64Array(grid.cells);
  for (let k = 0; k < modes.length; k++) {
    let mean = 0;
    for (const own of each) mean += own[k]! / n;
    let variance = 0;
    for (const own of each) variance += (own[k]! - mean) ** 2 / (n * (n - 1));
    kept[k] =
      k === 0 ? 1 : Math.max(0, 1 - (threshold * variance) / (mean * mean || variance || 1));
    modes[k] = kept[k]! * mean;
  }
  // Of a mode m there stays m − 4v/m, which scatters by 1 + 4v/m² times as much as m.
  const slopes = kept.map((part, k) => (k === 0 || part === 0 ? part : 2 - part));
  let smooth: Float64Array[] | undefined;
  const scatterOf = (weights: Float64Array) => {
    smooth ??= each.map((own) => plane.inverse(own.map((mode, k) => mode * slopes[k]!)));
    return smooth.map((cells) => {
      let sum = 0;
      for (let c = 0; c < cells.length; c++) sum += weights[c]! * cells[c]!;
      return sum;
    });
  };
  return {
    cells: plane.inverse(modes),
    scatterOf,
    errorOf: (weights) => standardError(scatterOf(weights)),
  };
}

/** Of the mean of independent values. */
export function standardError(values: readonly number[]): number {
  const n = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const square = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return Math.sqrt(square / (n * (n - 1)));
}
