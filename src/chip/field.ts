/**
 * The temperature of every place on the die.
 * @module
 */
import type { Conductor } from "../conductor.js";
import type { Grid } from "./grid.js";
import { type TwoWayLaw, twoWayForms } from "./inverse-law.js";

/** A place on the die and its temperature. */
export interface Spot {
  /** Along the width [m]. */
  readonly x: number;
  /** Along the length [m]. */
  readonly y: number;
  /** Temperature there [K]. */
  readonly temperature: number;
}

/** Temperatures along a straight line. */
export interface Cut {
  /** From the start of the line [m]. */
  readonly distance: Float64Array;
  /** Temperature there [K]. */
  readonly temperature: Float64Array;
}

/** The field at a contact: its mean potential and its temperature [K]. */
export interface Anchor {
  readonly mean: number;
  readonly temperature: number;
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
  readonly #form: TwoWayLaw;
  /** Start of searches for a temperature [K]. */
  readonly #near: number;
  #temperatures: Float64Array | undefined;

  /**
   * @internal Made by `CondensedSheet.fieldOf`.
   * @param potential - Θ of every cell up to a constant [W]; becomes the field's own
   */
  constructor(
    /** Cells of the sheet. */
    readonly grid: Grid,
    law: Conductor,
    potential: Float64Array,
    anchors: readonly Anchor[],
  ) {
    let low = potential[0]!;
    let high = low;
    for (let i = 1; i < potential.length; i++) {
      const value = potential[i]!;
      if (value < low) low = value;
      else if (value > high) high = value;
    }
    this.#near = anchors[0]!.temperature;
    const warmest = anchors.reduce((T, anchor) => Math.max(T, anchor.temperature), 0);
    let constant = 0;
    const form = twoWayForms(law).find((each) => {
      if (warmest > each.upTo) return false;
      constant = 0;
      for (const { mean, temperature } of anchors) constant += each.theta(temperature) - mean;
      constant /= anchors.length;
      return !(each.temperature(high + constant, warmest) > each.upTo);
    })!;
    this.#form = form;
    const apart = anchors.map(({ mean, temperature }) =>
      Math.abs(form.theta(temperature) - mean - constant),
    );
    const level = Math.max(...anchors.map(({ temperature }) => Math.abs(form.theta(temperature))));
    this.mismatch = Math.max(...apart) / (Math.max(high - low, 1e-9 * level) || 1);
    for (let i = 0; i < potential.length; i++) potential[i]! += constant;
    this.theta = potential;
  }

  /** T of every cell [K], row by row from the lower left: cell (i, j) is number j · cellsX + i. */
  get temperatures(): Float64Array {
    if (this.#temperatures === undefined) {
      const temperatures = this.theta.slice();
      const cold = this.#form.temperaturesOf(temperatures, this.#near);
      if (cold >= 0) throw this.#tooCold(this.#place(cold));
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

  /** The hottest place; between the middles of the cells by a parabola through the nearest. */
  get hottest(): Spot {
    return this.#extreme(1);
  }

  /** The coldest place. */
  get coldest(): Spot {
    return this.#extreme(-1);
  }

  /**
   * Θ of the hottest place as weights of the cells, which sum to 1. Near an extreme a shift of the
   * place changes Θ in second order only, so they also serve a field that differs a little.
   */
  get hottestWeights(): Float64Array {
    const { grid, theta } = this;
    const { x, y } = this.hottest;
    const weights = new Float64Array(theta.length);
    const i = Math.min(grid.cellsX - 1, Math.floor(x / grid.cellWidth));
    const j = Math.min(grid.cellsY - 1, Math.floor(y / grid.cellLength));
    const put = (column: number, row: number, weight: number) => {
      // Beyond an insulated rim the field is its mirror image.
      const inside = (at: number, n: number) => Math.min(n - 1, Math.max(0, at));
      const cell = inside(row, grid.cellsY) * grid.cellsX + inside(column, grid.cellsX);
      weights[cell] = weights[cell]! + weight;
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

  #extreme(sign: 1 | -1): Spot {
    const { theta, grid } = this;
    const { cellsX, cellsY } = grid;
    let found = 0;
    for (let c = 1; c < theta.length; c++) {
      if (sign * theta[c]! > sign * theta[found]!) found = c;
    }
    const i = found % cellsX;
    const j = (found - i) / cellsX;
    // Beyond an insulated rim the field is its mirror image.
    const here = theta[found]!;
    const alongX = vertex(
      here,
      i > 0 ? theta[found - 1]! : here,
      i < cellsX - 1 ? theta[found + 1]! : here,
    );
    const alongY = vertex(
      here,
      j > 0 ? theta[found - cellsX]! : here,
      j < cellsY - 1 ? theta[found + cellsX]! : here,
    );
    const x = grid.x(i) + alongX.shift * grid.cellWidth;
    const y = grid.y(j) + alongY.shift * grid.cellLength;
    return { x, y, temperature: this.#temperature(here + alongX.rise + alongY.rise, x, y) };
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
    const T = this.#form.temperature(theta, this.#near);
    if (T > 0) return T;
    throw this.#tooCold({ x, y });
  }

  #tooCold({ x, y }: { x: number; y: number }): Error {
    return new Error(
      `chip: no temperature above 0 K at x ${millimetres(x)}, y ${millimetres(y)}: a contact ` +
        "there takes more heat, evenly over its area, than reaches it. Cut it into tiles.",
    );
  }

  #place(cell: number) {
    const i = cell % this.grid.cellsX;
    return { x: this.grid.x(i), y: this.grid.y((cell - i) / this.grid.cellsX) };
  }
}

/** Top (or bottom) of the parabola through three equally spaced values, from the middle one. */
function vertex(here: number, before: number, after: number) {
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
