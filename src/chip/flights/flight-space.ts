/**
 * What phonons fly through, laid out for the loop that flies them.
 * @module
 */
import type { Grid } from "../grid.js";
import type { DieBox } from "./box.js";
import type { Lookup } from "./face-contacts.js";

/** What the tracer flies through. */
export interface FlightSpace {
  readonly box: DieBox;
  /** Whose cells are marked. */
  readonly grid: Grid;
  /** Length flown from one mark to the next [m]. */
  readonly spacing: number;
  /**
   * Whole numbers, in one array so that its kind is checked once. Four for each face: where its lookup begins
   * (−1 for none), cells across, the limit below which a random number reflects like a mirror, and 0. Then the
   * cells of the grid along x, and heads and tiles of the lookup, which point into this array.
   */
  readonly numbers: Int32Array;
  /**
   * Real numbers. Two for each face: cells of the lookup per metre. Then width, length and thickness [m], cells
   * of the grid per metre along x and y, length between marks and mean length between scatterings [m].
   */
  readonly reals: Float64Array;
  /** Left, right, bottom and top of zones [m]. */
  readonly ends: Float64Array;
  /** Most marks of one flight. */
  readonly mostMarks: number;
}

/** Limits of a face that reflects all phonons like a mirror, and none. */
const [mirror, diffuse] = [2 ** 31 - 1, -(2 ** 31)] as const;

/** Numbers before the lookup: four for each face, and one of the grid. */
const beforeHeads = 25;

/**
 * Lays out a die, its zones and its grid.
 * @param lookup - zones at which a flight is noted
 * @param grid - whose cells are marked
 * @param spacing - length flown from one mark to the next [m]
 */
export function flightSpace(box: DieBox, lookup: Lookup, grid: Grid, spacing: number): FlightSpace {
  const [width, length, thickness] = box.sides as unknown as [number, number, number];
  const { heads, tiles, first, cells, scale, ends } = lookup;
  const beforeTiles = beforeHeads + heads.length;
  const numbers = new Int32Array(beforeTiles + tiles.length);
  box.specularity.forEach((share, face) => {
    const mixed = Math.round(share * 2 ** 32) - 2 ** 31;
    const within = Math.max(diffuse + 1, Math.min(mirror - 1, mixed));
    const limit = share === 0 ? diffuse : share === 1 ? mirror : within;
    const begin = first[face]! < 0 ? -1 : beforeHeads + first[face]!;
    numbers.set([begin, cells[2 * face]!, limit, 0], 4 * face);
  });
  numbers[beforeHeads - 1] = grid.cellsX;
  heads.forEach((head, i) => {
    numbers[beforeHeads + i] = head < 0 ? -1 : beforeTiles + head;
  });
  numbers.set(tiles, beforeTiles);
  // A place on the far rim stays in the last cell.
  const within = 1 - 2 ** -48;
  const perX = (grid.cellsX / width) * within;
  const perY = (grid.cellsY / length) * within;
  return {
    box,
    grid,
    spacing,
    numbers,
    reals: Float64Array.of(...scale, width, length, thickness, perX, perY, spacing, box.bulkLength),
    ends,
    mostMarks: Math.ceil(Math.hypot(width, length, thickness) / spacing) + 1,
  };
}
