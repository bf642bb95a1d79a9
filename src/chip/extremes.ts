/**
 * The hottest and the coldest point of a condensed sheet for many states of the same contacts and maps of heat.
 *
 * Θ of a cell is linear in the heat at the contacts and the power of the maps, so where these are few the
 * fields of each by itself are made once, those of contacts that are alike together. No heat is taken out
 * between the contacts, so the coldest cell is one that a contact covers. The hottest is climbed up to from
 * every top of a coarse lattice and from the tops of the maps by themselves. Of many contacts that are
 * not alike the whole field is made in every state.
 * @module
 */
import type { CondensedSheet, SheetBody } from "./condensed-sheet.js";
import { addTimes } from "./contact-means.js";
import { vertex } from "./field.js";
import type { Grid } from "./grid.js";

/** Most fields by themselves: to make one takes as long as to make the whole, and more take longer to read. */
const mostFields = 48;
/** Points of the lattice along the longer side. */
const latticePoints = 32;
/** Tops of the lattice so near to the highest, in parts of the span, are climbed from. */
const worthClimbing = 0.3;

/** Extremes of Θ on a condensed sheet. */
export class SheetExtremes {
  /** Of the last state [W]. */
  highest = Number.NaN;
  /** Of the last state [W]. */
  lowest = Number.NaN;
  readonly #grid: Grid;
  /** For each cell the numbers of the classes, then of the maps; empty where the whole field is made. */
  readonly #fields: Float64Array;
  readonly #isWhole: boolean;
  /** The whole field. */
  #cells: Float64Array = new Float64Array(0);
  readonly #width: number;
  readonly #across: Int32Array;
  readonly #up: Int32Array;
  readonly #onLattice: Float64Array;
  readonly #covered: Int32Array;
  readonly #starts: readonly number[];

  /**
   * @param classes - of each contact, the class of those that are alike
   * @param maps - the body with each map of heat by itself
   */
  constructor(
    private readonly condensed: CondensedSheet,
    private readonly classes: readonly number[],
    private readonly maps: readonly Pick<SheetBody, "modes">[],
  ) {
    const { grid, contacts } = condensed;
    const count = Math.max(...classes) + 1;
    const width = count + maps.length;
    this.#grid = grid;
    this.#width = width;
    this.#isWhole = width > mostFields;
    this.#fields = new Float64Array(this.#isWhole ? 0 : grid.cells * width);
    const starts = new Set<number>();
    for (let field = 0; field < width && !this.#isWhole; field++) {
      const only = Float64Array.from({ length: width }, (_, k) => Number(k === field));
      const cells = this.#made(only);
      let top = 0;
      for (let c = 0; c < cells.length; c++) {
        this.#fields[c * width + field] = cells[c]!;
        if (cells[c]! > cells[top]!) top = c;
      }
      if (field >= count) starts.add(top);
    }
    this.#starts = [...starts];
    const stride = Math.max(1, Math.floor(Math.max(grid.cellsX, grid.cellsY) / latticePoints));
    const along = (cells: number) =>
      Int32Array.from({ length: Math.ceil(cells / stride) }, (_, k) =>
        Math.min(cells - 1, k * stride + (stride >> 1)),
      );
    this.#across = along(grid.cellsX);
    this.#up = along(grid.cellsY);
    this.#onLattice = new Float64Array(this.#across.length * this.#up.length);
    this.#covered = Int32Array.from(
      new Set(contacts.flatMap(({ pieces }) => grid.cellsUnder(pieces).map(({ cell }) => cell))),
    );
  }

  /**
   * Finds both.
   * @param level - mean Θ of the contacts [W]
   * @param sources - heat into the sheet at each contact of a class, by class; then the power of each map [W]
   */
  find(level: number, sources: Float64Array): void {
    if (this.#isWhole) {
      this.#cells = this.#made(sources);
      let [top, bottom] = [0, 0];
      for (let c = 0; c < this.#cells.length; c++) {
        if (this.#cells[c]! > this.#cells[top]!) top = c;
        if (this.#cells[c]! < this.#cells[bottom]!) bottom = c;
      }
      this.highest = level + this.#between(top, sources);
      this.lowest = level + this.#cells[bottom]!;
      return;
    }
    const lattice = this.#onLattice;
    const [across, up] = [this.#across, this.#up];
    const { cellsX } = this.#grid;
    let [high, low] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
    for (let j = 0, at = 0; j < up.length; j++) {
      for (let i = 0; i < across.length; i++, at++) {
        const value = this.#above(up[j]! * cellsX + across[i]!, sources);
        lattice[at] = value;
        if (value > high) high = value;
        if (value < low) low = value;
      }
    }
    let best = Number.NEGATIVE_INFINITY;
    let hottest = 0;
    const climb = (from: number) => {
      const top = this.#top(from, sources);
      const value = this.#above(top, sources);
      if (value > best) [best, hottest] = [value, top];
    };
    for (const start of this.#starts) climb(start);
    const least = high - worthClimbing * (high - low);
    for (let j = 0, at = 0; j < up.length; j++) {
      for (let i = 0; i < across.length; i++, at++) {
        if (lattice[at]! < least || !this.#isTop(i, j)) continue;
        climb(up[j]! * cellsX + across[i]!);
      }
    }
    this.highest = level + this.#between(hottest, sources);
    let coldest = Number.POSITIVE_INFINITY;
    for (let k = 0; k < this.#covered.length; k++) {
      coldest = Math.min(coldest, this.#above(this.#covered[k]!, sources));
    }
    this.lowest = level + coldest;
  }

  /** Θ of every cell above the mean of the contacts. */
  #made(sources: Float64Array): Float64Array {
    const modes = new Float64Array(this.#grid.cells);
    this.maps.forEach((map, m) => {
      addTimes(modes, map.modes, sources[this.#width - this.maps.length + m]!);
    });
    const heat = this.classes.map((own) => sources[own]!);
    const { cells, means } = this.condensed.potential({ modes }, heat);
    const mean = means.reduce((sum, each) => sum + each / means.length, 0);
    for (let c = 0; c < cells.length; c++) cells[c]! -= mean;
    return cells;
  }

  /** The same of a cell. */
  #above(cell: number, sources: Float64Array): number {
    if (this.#isWhole) return this.#cells[cell]!;
    const fields = this.#fields;
    const width = this.#width;
    let sum = 0;
    for (let k = 0, at = cell * width; k < width; k++, at++) sum += fields[at]! * sources[k]!;
    return sum;
  }

  /** Whether no neighbour on the lattice is higher. */
  #isTop(i: number, j: number): boolean {
    const [across, up, lattice] = [this.#across.length, this.#up.length, this.#onLattice];
    const own = lattice[j * across + i]!;
    for (let dj = -1; dj <= 1; dj++) {
      for (let di = -1; di <= 1; di++) {
        const [x, y] = [i + di, j + dj];
        if (x < 0 || y < 0 || x >= across || y >= up) continue;
        if (lattice[y * across + x]! > own) return false;
      }
    }
    return true;
  }

  /** The cell from which no neighbour is higher, uphill from one. */
  #top(from: number, sources: Float64Array): number {
    const grid = this.#grid;
    let cell = from;
    let value = this.#above(cell, sources);
    for (;;) {
      const i = cell % grid.cellsX;
      const j = (cell - i) / grid.cellsX;
      let next = cell;
      for (let dj = -1; dj <= 1; dj++) {
        for (let di = -1; di <= 1; di++) {
          const beside = grid.nearestCell(i + di, j + dj);
          const other = this.#above(beside, sources);
          if (other > value) [next, value] = [beside, other];
        }
      }
      if (next === cell) return cell;
      cell = next;
    }
  }

  /** Highest Θ near a cell that is higher than its neighbours, as `SheetField.hottest` has it. */
  #between(cell: number, sources: Float64Array): number {
    const grid = this.#grid;
    const i = cell % grid.cellsX;
    const j = (cell - i) / grid.cellsX;
    const here = this.#above(cell, sources);
    const beside = (x: number, y: number) => this.#above(grid.nearestCell(x, y), sources);
    const alongX = vertex(here, beside(i - 1, j), beside(i + 1, j));
    const alongY = vertex(here, beside(i, j - 1), beside(i, j + 1));
    return here + alongX.rise + alongY.rise;
  }
}
