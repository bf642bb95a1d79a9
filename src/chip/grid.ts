/**
 * Equal cells over a rectangular die, and how rectangles anywhere on it overlap them.
 *
 * Places on the die are in metres from its lower left corner: x along the width, y along the length.
 * @module
 */
import { FieldError } from "../units/errors.js";

/** Part of the die between two values of x and two of y [m]. */
export interface Rectangle {
  /** Smallest x [m]. */
  readonly left: number;
  /** Largest x [m]. */
  readonly right: number;
  /** Smallest y [m]. */
  readonly bottom: number;
  /** Largest y [m]. */
  readonly top: number;
}

/** Cells of an interval of one side, from `first` on, and the share of the interval in each. */
export interface CellRange {
  /** The first cell, from 0. */
  readonly first: number;
  /** Sum to 1. */
  readonly shares: Float64Array;
}

/** Part of a side below which a difference of two ends is rounding. */
const rounding = 1e-9;

/** The rectangle around several. */
export function boundsOf(all: readonly Rectangle[]): Rectangle {
  return {
    left: Math.min(...all.map(({ left }) => left)),
    right: Math.max(...all.map(({ right }) => right)),
    bottom: Math.min(...all.map(({ bottom }) => bottom)),
    top: Math.max(...all.map(({ top }) => top)),
  };
}

/** What a rectangle has farther than a distance from its sides. */
export function within({ left, right, bottom, top }: Rectangle, edge: number): Rectangle {
  return { left: left + edge, right: right - edge, bottom: bottom + edge, top: top - edge };
}

/** The cells of a die; cell (i, j) is number j · cellsX + i, i along x and j along y. */
export class Grid {
  /** Side of one cell along x [m]. */
  readonly cellWidth: number;
  /** Side of one cell along y [m]. */
  readonly cellLength: number;

  /**
   * @throws FieldError for a side that is not greater than 0, or less than one cell
   */
  constructor(
    /** Of the die, along x [m]. */
    readonly width: number,
    /** Of the die, along y [m]. */
    readonly length: number,
    /** Cells along x. */
    readonly cellsX: number,
    /** Cells along y. */
    readonly cellsY: number,
    field = "sheet",
  ) {
    for (const [name, side] of Object.entries({ width, length })) {
      if (!(side > 0 && side < Number.POSITIVE_INFINITY)) {
        throw new FieldError(`${field}.${name}`, "a length in metres, greater than 0", side);
      }
    }
    for (const [name, cells] of Object.entries({ cellsX, cellsY })) {
      if (!(Number.isInteger(cells) && cells >= 1 && cells <= 4096)) {
        throw new FieldError(`${field}.${name}`, "a whole number of cells from 1 to 4096", cells);
      }
    }
    this.cellWidth = width / cellsX;
    this.cellLength = length / cellsY;
  }

  /** How many there are. */
  get cells(): number {
    return this.cellsX * this.cellsY;
  }

  /** Middle of a column of cells [m]. */
  x(i: number): number {
    return (i + 0.5) * this.cellWidth;
  }

  /** Middle of a row of cells [m]. */
  y(j: number): number {
    return (j + 0.5) * this.cellLength;
  }

  /** The whole die. */
  get whole(): Rectangle {
    return { left: 0, right: this.width, bottom: 0, top: this.length };
  }

  /**
   * A rectangle that lies on the die, ends that miss the rim by rounding set onto it.
   * @throws FieldError naming the place when it reaches off the die, or has no area
   */
  onDie({ left, right, bottom, top }: Rectangle, field: string): Rectangle {
    const { width, length } = this;
    const inside =
      left >= -rounding * width &&
      bottom >= -rounding * length &&
      right <= (1 + rounding) * width &&
      top <= (1 + rounding) * length;
    if (!inside) {
      const die = `a place on the die (${millimetres(width)} by ${millimetres(length)})`;
      throw new FieldError(field, die, span({ left, right, bottom, top }));
    }
    if (!(right > left && top > bottom)) {
      const wanted = "a rectangle whose right is above its left and top above its bottom";
      throw new FieldError(field, wanted, span({ left, right, bottom, top }));
    }
    return {
      left: Math.max(0, left),
      right: Math.min(width, right),
      bottom: Math.max(0, bottom),
      top: Math.min(length, top),
    };
  }

  /** Whether a place [m] is on the die. */
  isOn(x: number, y: number): boolean {
    return x >= 0 && x <= this.width && y >= 0 && y <= this.length;
  }

  /** Number of the cell at a place of the die [m]. */
  cellAt(x: number, y: number): number {
    return this.nearestCell(Math.floor(x / this.cellWidth), Math.floor(y / this.cellLength));
  }

  /** Number of cell (i, j), or of the nearest where that is beyond a rim. */
  nearestCell(i: number, j: number): number {
    const inside = (at: number, cells: number) => Math.min(cells - 1, Math.max(0, at));
    return inside(j, this.cellsY) * this.cellsX + inside(i, this.cellsX);
  }

  /** Columns of cells under a rectangle. */
  columns({ left, right }: Rectangle): CellRange {
    return sharesOf(left, right, this.cellWidth, this.cellsX);
  }

  /** Rows of cells under a rectangle. */
  rows({ bottom, top }: Rectangle): CellRange {
    return sharesOf(bottom, top, this.cellLength, this.cellsY);
  }

  /**
   * Every pair of neighbours, row by row, for runs in time; the condensation to contacts holds in the
   * steady state only. In Θ = t ∫κ dT the heat between two of them is (Θ₁ − Θ₂)·b/d, with b the length of
   * their common side and d from middle to middle: the usual finite volumes, of second order in the cell.
   * @returns their numbers, and d/b
   */
  links() {
    const { cellsX, cellsY, cellWidth, cellLength } = this;
    const links: { from: number; to: number; squares: number }[] = [];
    for (let j = 0; j < cellsY; j++) {
      for (let i = 0; i < cellsX; i++) {
        const from = j * cellsX + i;
        if (i + 1 < cellsX) links.push({ from, to: from + 1, squares: cellWidth / cellLength });
        if (j + 1 < cellsY)
          links.push({ from, to: from + cellsX, squares: cellLength / cellWidth });
      }
    }
    return links;
  }

  /** The cells under an area, in pieces that do not overlap; shares sum to 1. */
  cellsUnder(pieces: readonly Rectangle[]) {
    const size = pieces.reduce((sum, piece) => sum + areaOf(piece), 0);
    const shares = new Map<number, number>();
    for (const piece of pieces) {
      const [columns, rows] = [this.columns(piece), this.rows(piece)];
      rows.shares.forEach((along, j) => {
        columns.shares.forEach((across, i) => {
          const cell = (rows.first + j) * this.cellsX + columns.first + i;
          const share = (areaOf(piece) / size) * along * across;
          if (share > 0) shares.set(cell, (shares.get(cell) ?? 0) + share);
        });
      });
    }
    return [...shares].map(([cell, share]) => ({ cell, share }));
  }
}

/** Shares of an interval in the cells of a side; by overlap, so exact for any ends. */
function sharesOf(from: number, to: number, cell: number, cells: number): CellRange {
  const first = Math.min(cells - 1, Math.floor(from / cell));
  const last = Math.max(first, Math.min(cells - 1, Math.ceil(to / cell) - 1));
  const shares = new Float64Array(last - first + 1);
  let sum = 0;
  for (let i = first; i <= last; i++) {
    const overlap = Math.max(0, Math.min(to, (i + 1) * cell) - Math.max(from, i * cell));
    shares[i - first] = overlap;
    sum += overlap;
  }
  for (let i = 0; i < shares.length; i++) shares[i] = shares[i]! / sum;
  return { first, shares };
}

/** Area of a rectangle [m²]. */
export function areaOf({ left, right, bottom, top }: Rectangle): number {
  return (right - left) * (top - bottom);
}

/** What two rectangles share, or undefined when they do not meet by more than rounding. */
export function overlapOf(a: Rectangle, b: Rectangle): Rectangle | undefined {
  const left = Math.max(a.left, b.left);
  const right = Math.min(a.right, b.right);
  const bottom = Math.max(a.bottom, b.bottom);
  const top = Math.min(a.top, b.top);
  const wide = right - left > rounding * Math.min(a.right - a.left, b.right - b.left);
  const long = top - bottom > rounding * Math.min(a.top - a.bottom, b.top - b.bottom);
  return wide && long ? { left, right, bottom, top } : undefined;
}

/** A rectangle as an error shows it. */
export function span({ left, right, bottom, top }: Rectangle): string {
  const ends = (a: number, b: number) => `${millimetres(a, "")} to ${millimetres(b)}`;
  return `x ${ends(left, right)}, y ${ends(bottom, top)}`;
}

function millimetres(metres: number, unit = " mm"): string {
  return `${Number((metres * 1e3).toPrecision(6))}${unit}`;
}
