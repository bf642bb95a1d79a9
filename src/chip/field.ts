/**
 * The temperature of every place on the die.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { conductionLaw, type TemperatureLaw } from "../numerics/temperature-law.js";
import type { Grid } from "./grid.js";

/** A place on the die and its temperature. */
export interface Spot {
  /** Along the width [m]. */
  readonly x: number;
  /** Along the length [m]. */
  readonly y: number;
  /** Temperature there [K]. */
  readonly temperature: number;
  /** Of an extreme: how many places have it, where it is more than one; this is the nearest to the middle. */
  readonly places?: number;
}

/** Equal to rounding: parts of the span of Θ, and of Θ itself. */
const equalSpan = 1e-9;
const equalLevel = 4e-15;

/** Temperatures along a straight line. */
export interface Cut {
  /** From the start of the line [m]. */
  readonly distance: Float64Array;
  /** Temperature there [K]. */
  readonly temperature: Float64Array;
}

/**
 * The temperatures of a die, computed from Θ when asked for. Throws an error that names the place where
 * no temperature above 0 has its Θ.
 */
export class SheetField {
  /** Θ of every cell [W], row by row from the lower left. Differences have a meaning. */
  readonly theta: Float64Array;
  /**
   * Largest |Θ of a contact − mean of the field over it|, over the span of Θ, or over a billionth of Θ
   * where the die is more even than that: rounding, if all is well.
   */
  readonly mismatch: number;
  /** Lowest and highest Θ of a cell [W]. */
  readonly span: readonly [low: number, high: number];
  readonly #law: TemperatureLaw;
  /** Start of searches for a temperature [K]. */
  readonly #near: number;
  #temperatures: Float64Array | undefined;

  /**
   * @internal Made by `fieldOf` of a die.
   * @param theta - of every cell [W]; becomes the field's own
   * @param span - its lowest and highest
   * @param near - a temperature of the die, from which searches start [K]
   */
  constructor(
    /** Cells of the sheet. */
    readonly grid: Grid,
    law: Conductor,
    theta: Float64Array,
    mismatch: number,
    near: number,
    span = spanOf(theta),
  ) {
    this.theta = theta;
    this.span = span;
    this.mismatch = mismatch;
    this.#law = conductionLaw(law);
    this.#near = near;
  }

  /**
   * The field of Θ that is known up to a constant, which the contacts' temperatures tell.
   * @internal
   * @param potential - Θ of every cell up to a constant [W]; becomes the field's own
   * @param means - of the potential over each contact [W]
   * @param temperatures - of the contacts [K]
   */
  static levelled(
    grid: Grid,
    law: Conductor,
    potential: Float64Array,
    means: Float64Array,
    temperatures: ArrayLike<number>,
  ): SheetField {
    const inverted = conductionLaw(law);
    const levels = means.map((_, p) => inverted.value(temperatures[p]!));
    const above = levels.map((level, p) => level - means[p]!);
    const constant = above.reduce((sum, each) => sum + each, 0) / above.length;
    const apart = Math.max(...above.map((each) => Math.abs(each - constant)));
    const level = Math.max(...levels.map(Math.abs));
    const [low, high] = spanOf(potential, constant);
    const mismatch = apart / (Math.max(high - low, 1e-9 * level) || 1);
    const span = [low + constant, high + constant] as const;
    return new SheetField(grid, law, potential, mismatch, temperatures[0]!, span);
  }

  /** T of every cell [K], row by row from the lower left: cell (i, j) is number j · cellsX + i. */
  get temperatures(): Float64Array {
    if (this.#temperatures === undefined) {
      const { grid, theta } = this;
      const temperatures = new Float64Array(theta.length);
      // A cell's neighbour is the best place to search from.
      const law = this.#law;
      let T = this.#near;
      for (let cell = 0; cell < theta.length; cell++) {
        T = law.temperature(theta[cell]!, T);
        if (!(T > 0))
          throw tooCold(grid.x(cell % grid.cellsX), grid.y(Math.floor(cell / grid.cellsX)));
        temperatures[cell] = T;
      }
      this.#temperatures = temperatures;
    }
    return this.#temperatures;
  }

  /** Mean over the die [K]. */
  get mean(): number {
    const { temperatures } = this;
    let sum = 0;
    for (let i = 0; i < temperatures.length; i++) sum += temperatures[i]!;
    return sum / temperatures.length;
  }

  /** The hottest point; between the middles of the cells by a parabola through the nearest. */
  get hottest(): Spot {
    const { theta, grid } = this;
    const { cell: found, places } = this.#extremeCells(1);
    const i = found % grid.cellsX;
    const j = (found - i) / grid.cellsX;
    const here = theta[found]!;
    // Beyond an insulated rim the field is its mirror image.
    const beside = (column: number, row: number) => theta[grid.nearestCell(column, row)]!;
    const alongX = vertex(here, beside(i - 1, j), beside(i + 1, j));
    const alongY = vertex(here, beside(i, j - 1), beside(i, j + 1));
    const x = grid.x(i) + alongX.shift * grid.cellWidth;
    const y = grid.y(j) + alongY.shift * grid.cellLength;
    const temperature = this.#temperature(here + alongX.rise + alongY.rise, x, y);
    return { x, y, temperature, ...(places > 1 && { places }) };
  }

  /**
   * The middle of the coldest cell. It mostly lies at a contact, where the field has a kink: a parabola
   * would lead below all that cools the die.
   */
  get coldest(): Spot {
    const { theta, grid } = this;
    const { cell, places } = this.#extremeCells(-1);
    const i = cell % grid.cellsX;
    const [x, y] = [grid.x(i), grid.y((cell - i) / grid.cellsX)];
    const temperature = this.#temperature(theta[cell]!, x, y);
    return { x, y, temperature, ...(places > 1 && { places }) };
  }

  /**
   * Θ of the hottest point as weights of the cells, which sum to 1. Near an extreme a shift of the
   * place changes Θ in second order only, so they also serve a field that differs a little.
   */
  get hottestWeights(): Float64Array {
    const { grid } = this;
    const { x, y } = this.hottest;
    const weights = new Float64Array(grid.cells);
    const cell = grid.cellAt(x, y);
    const i = cell % grid.cellsX;
    const j = (cell - i) / grid.cellsX;
    const put = (column: number, row: number, weight: number) => {
      weights[grid.nearestCell(column, row)]! += weight;
    };
    // The parabola through three cells takes its value from them in these parts.
    const [atX, atY] = [x / grid.cellWidth - 0.5 - i, y / grid.cellLength - 0.5 - j];
    put(i, j, 1 - atX ** 2 - atY ** 2);
    for (const side of [-1, 1]) {
      put(i + side, j, (atX ** 2 + side * atX) / 2);
      put(i, j + side, (atY ** 2 + side * atY) / 2);
    }
    return weights;
  }

  /**
   * Of the cells that are the hottest (or coldest) to rounding, the nearest to the middle of the die, so
   * that a symmetric die has the same one each time; and how many places such cells are.
   */
  #extremeCells(sign: 1 | -1): { readonly cell: number; readonly places: number } {
    const { theta, grid } = this;
    const [low, high] = this.span;
    const [least, most] = sign > 0 ? [low, high] : [-high, -low];
    const from = most - Math.max(equalSpan * (most - least), equalLevel * Math.abs(most));
    const equal = new Set<number>();
    for (let c = 0; c < theta.length; c++) if (sign * theta[c]! >= from) equal.add(c);
    const offMiddle = (cell: number) => {
      const i = cell % grid.cellsX;
      const j = (cell - i) / grid.cellsX;
      // In whole half cells, which mirror images share to the last digit.
      const [x, y] = [2 * i + 1 - grid.cellsX, 2 * j + 1 - grid.cellsY];
      return (x * grid.cellWidth) ** 2 + (y * grid.cellLength) ** 2;
    };
    let cell = -1;
    for (const each of equal) if (cell < 0 || offMiddle(each) < offMiddle(cell)) cell = each;
    // Cells that touch are one place.
    let places = 0;
    for (const first of equal) {
      places++;
      const left = [first];
      for (let c = left.pop(); c !== undefined; c = left.pop()) {
        if (!equal.delete(c)) continue;
        const i = c % grid.cellsX;
        const j = (c - i) / grid.cellsX;
        for (let dj = -1; dj <= 1; dj++)
          for (let di = -1; di <= 1; di++) left.push(grid.nearestCell(i + di, j + dj));
      }
    }
    return { cell, places };
  }

  /** T at a place on the die [K], by linear interpolation of Θ between the middles of the cells. */
  at(x: number, y: number): number {
    const { grid, theta } = this;
    const [i, right] = between(x / grid.cellWidth - 0.5, grid.cellsX);
    const [j, above] = between(y / grid.cellLength - 0.5, grid.cellsY);
    const row = (at: number) => {
      const first = theta[at]!;
      return right > 0 ? first + right * (theta[at + 1]! - first) : first;
    };
    const lower = row(j * grid.cellsX + i);
    const value = above > 0 ? lower + above * (row((j + 1) * grid.cellsX + i) - lower) : lower;
    return this.#temperature(value, x, y);
  }

  /** Temperatures at evenly spaced places from one end of a line to the other. */
  cut(
    from: { readonly x: number; readonly y: number },
    to: { readonly x: number; readonly y: number },
    points = 201,
  ): Cut {
    const length = Math.hypot(to.x - from.x, to.y - from.y);
    const share = (k: number) => (points === 1 ? 0 : k / (points - 1));
    return {
      distance: Float64Array.from({ length: points }, (_, k) => length * share(k)),
      temperature: Float64Array.from({ length: points }, (_, k) =>
        this.at(from.x + share(k) * (to.x - from.x), from.y + share(k) * (to.y - from.y)),
      ),
    };
  }

  #temperature(theta: number, x: number, y: number): number {
    const T = this.#law.temperature(theta, this.#near);
    if (T > 0) return T;
    throw tooCold(x, y);
  }
}

function tooCold(x: number, y: number): Error {
  return new Error(
    `chip: no temperature above 0 K at x ${millimetres(x)}, y ${millimetres(y)}: a contact ` +
      "there takes more heat, evenly over its area, than reaches it. Cut it into tiles.",
  );
}

/** Lowest and highest of some numbers, to each of which a constant is added then. */
function spanOf(numbers: Float64Array, constant = 0): readonly [low: number, high: number] {
  let low = numbers[0]!;
  let high = low;
  for (let i = 0; i < numbers.length; i++) {
    const value = numbers[i]!;
    if (value < low) low = value;
    else if (value > high) high = value;
    numbers[i] = value + constant;
  }
  return [low, high];
}

/** Top (or bottom) of the parabola through three equally spaced values, from the middle one. */
export function vertex(here: number, before: number, after: number) {
  const slope = (after - before) / 2;
  const curvature = before - here + (after - here);
  if (curvature === 0) return { shift: 0, rise: 0 };
  const shift = -slope / curvature;
  return { shift, rise: (shift * slope) / 2 };
}

/** Whole and broken part of a place among n points; at an end beyond them. */
function between(place: number, n: number): [number, number] {
  const inside = Math.min(n - 1, Math.max(0, place));
  const whole = Math.min(Math.max(0, n - 2), Math.floor(inside));
  return [whole, inside - whole];
}

function millimetres(metres: number): string {
  return `${Number((metres * 1e3).toPrecision(4))} mm`;
}
