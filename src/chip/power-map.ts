/**
 * Heat load on the die, as a map of power.
 * @module
 */
import { normalShare } from "../numerics/distributions.js";
import { FieldError } from "../units/errors.js";
import { formatGiven } from "../units/format.js";
import type { CellRange, Grid, Rectangle } from "./grid.js";

/** Distribution of a heat load; its total is kept to rounding on any grid. */
export type PowerMap =
  /** Evenly over the die. */
  | {
      readonly kind: "uniform";
      /** Power of it all [W]. */
      readonly power: number;
    }
  /** Evenly over a rectangle. */
  | {
      readonly kind: "rectangle";
      /** Power of it all [W]. */
      readonly power: number;
      /** The rectangle [m]. */
      readonly over: Rectangle;
    }
  /** A round Gaussian spot, cut off at the rims. */
  | {
      readonly kind: "spot";
      /** On the die [W]. */
      readonly power: number;
      /** Middle, along the width [m]. */
      readonly x: number;
      /** Middle, along the length [m]. */
      readonly y: number;
      /** Standard deviation [m]. */
      readonly radius: number;
    }
  /**
   * Watts of each pixel: rows from the bottom up, in each the pixels from left to right; over the
   * whole die or a rectangle of it.
   */
  | {
      readonly kind: "pixels";
      /** Power of each pixel, row by row [W]. */
      readonly rows: readonly (readonly number[])[];
      /** The rectangle [m]. */
      readonly over?: Rectangle;
    }
  /** Along straight strips, such as lines of a circuit. */
  | {
      readonly kind: "strips";
      /** The strips; they may cross. */
      readonly strips: readonly HeatedStrip[];
    }
  /** Watts of each cell of the grid. */
  | {
      readonly kind: "cells";
      /** Power of each cell, row by row [W]. */
      readonly cells: ArrayLike<number>;
    };

/** A straight strip that is heated evenly. */
export interface HeatedStrip {
  /** Middle of its one end [m]. */
  readonly from: { readonly x: number; readonly y: number };
  /** Middle of its other end [m]. */
  readonly to: { readonly x: number; readonly y: number };
  /** Breadth; 0 for a thin line [m]. */
  readonly width: number;
  /** Power of it all [W]. */
  readonly power: number;
}

/** A map times a number. */
export interface MapShare {
  /** Distribution and power [W]. */
  readonly map: PowerMap;
  /** Factor of the map; need not be a whole number. */
  readonly times: number;
  /** The map's name in messages. */
  readonly field: string;
}

/** A map whose power is one number as a map of 1 W times this number. */
export function asShare(map: PowerMap, field: string): MapShare {
  if (!("power" in map) || !Number.isFinite(map.power)) return { map, times: 1, field };
  return { map: { ...map, power: 1 }, times: map.power, field };
}

/** Whether two maps, or parts of them, are equal. */
export function sameMap(some: unknown, other: unknown): boolean {
  if (typeof some !== "object" || typeof other !== "object") return Object.is(some, other);
  if (some === null || other === null) return some === other;
  if ("length" in some && "length" in other) {
    const [list, others] = [some, other] as [ArrayLike<unknown>, ArrayLike<unknown>];
    if (list.length !== others.length) return false;
    for (let i = 0; i < list.length; i++) if (!sameMap(list[i], others[i])) return false;
    return true;
  }
  const [names, rest] = [Object.keys(some), Object.keys(other)];
  return (
    names.length === rest.length &&
    names.every((name) => sameMap(some[name as keyof object], other[name as keyof object]))
  );
}

/**
 * Power of every cell [W].
 * @param maps - one map, or several to be added up
 * @throws FieldError for a map of the wrong size, off the die, or not of finite numbers
 */
export function cellPowers(
  grid: Grid,
  maps: PowerMap | readonly PowerMap[],
  field = "power",
): Float64Array {
  const cells = new Float64Array(grid.cells);
  const list = "kind" in maps ? [maps] : maps;
  const given = { total: 0, size: 0 };
  for (const [i, map] of list.entries()) {
    const name = "kind" in maps ? field : `${field}[${i}]`;
    addMap(grid, map, cells, name);
    const total = totalOf(map);
    given.total += total;
    given.size += Math.abs(total);
    refuseLoss(cells, given, name);
  }
  return cells;
}

/** Heat of a map [W]. */
function totalOf(map: PowerMap): number {
  if ("power" in map) return map.power;
  if (map.kind === "strips") return map.strips.reduce((sum, { power }) => sum + power, 0);
  const numbers = map.kind === "pixels" ? map.rows.flat() : map.cells;
  let sum = 0;
  for (let i = 0; i < numbers.length; i++) sum += numbers[i]!;
  return sum;
}

/** @throws FieldError unless the cells have the heat that was given, to rounding */
function refuseLoss(
  cells: Float64Array,
  given: { readonly total: number; readonly size: number },
  field: string,
): void {
  let [sum, size] = [0, given.size];
  for (let i = 0; i < cells.length; i++) {
    sum += cells[i]!;
    size = Math.max(size, Math.abs(cells[i]!));
  }
  if (Math.abs(sum - given.total) <= 1e-9 * size) return;
  const wanted = `a map whose cells take up the ${given.total} W that it brings`;
  throw new FieldError(field, wanted, `${sum} W in all`);
}

function addMap(grid: Grid, map: PowerMap, cells: Float64Array, field: string): void {
  switch (map.kind) {
    case "uniform": {
      const each = finite(map.power, `${field}.power`) / cells.length;
      for (let i = 0; i < cells.length; i++) cells[i] = cells[i]! + each;
      return;
    }
    case "rectangle": {
      const over = grid.onDie(map.over, `${field}.over`);
      const power = finite(map.power, `${field}.power`);
      addProduct(grid, grid.columns(over), grid.rows(over), power, cells);
      return;
    }
    case "spot":
      addSpot(grid, map, cells, field);
      return;
    case "pixels":
      addPixels(grid, map.rows, map.over, cells, field);
      return;
    case "strips":
      for (const strip of map.strips) addStrip(grid, strip, cells, field);
      return;
    case "cells": {
      if (map.cells.length !== cells.length) {
        const wanted = `${cells.length} numbers, one for each of ${grid.cellsX} × ${grid.cellsY} cells`;
        throw new FieldError(`${field}.cells`, wanted, `${map.cells.length} numbers`);
      }
      for (let i = 0; i < cells.length; i++) {
        cells[i] = cells[i]! + finite(map.cells[i], `${field}.cells[${i}]`);
      }
      return;
    }
    default: {
      const kinds = '"uniform", "rectangle", "spot", "pixels", "strips" or "cells"';
      throw new FieldError(`${field}.kind`, kinds, (map as { kind: unknown }).kind);
    }
  }
}

/** Power spread by its shares along x and along y. */
function addProduct(
  grid: Grid,
  columns: CellRange,
  rows: CellRange,
  power: number,
  cells: Float64Array,
): void {
  for (let j = 0; j < rows.shares.length; j++) {
    const row = (rows.first + j) * grid.cellsX + columns.first;
    const ofRow = power * rows.shares[j]!;
    for (let i = 0; i < columns.shares.length; i++) {
      cells[row + i] = cells[row + i]! + ofRow * columns.shares[i]!;
    }
  }
}

/** Each pixel is an evenly heated rectangle, divided among its cells by area. */
function addPixels(
  grid: Grid,
  rows: readonly (readonly number[])[],
  over: Rectangle | undefined,
  cells: Float64Array,
  field: string,
): void {
  const { left, right, bottom, top } = over ? grid.onDie(over, `${field}.over`) : grid.whole;
  const across = rows[0]?.length ?? 0;
  if (across === 0) throw new FieldError(`${field}.rows`, "at least one row of one pixel", rows);
  const x = (i: number) => (i === across ? right : left + (i / across) * (right - left));
  const y = (j: number) => (j === rows.length ? top : bottom + (j / rows.length) * (top - bottom));
  const columns = rows[0]!.map((_, i) =>
    grid.columns({ left: x(i), right: x(i + 1), bottom, top }),
  );
  rows.forEach((row, j) => {
    if (row.length !== across) {
      const wanted = `${across} pixels, as many as in row 0`;
      throw new FieldError(`${field}.rows[${j}]`, wanted, `${row.length} pixels`);
    }
    const ofRow = grid.rows({ left, right, bottom: y(j), top: y(j + 1) });
    row.forEach((power, i) => {
      finite(power, `${field}.rows[${j}][${i}]`);
      addProduct(grid, columns[i]!, ofRow, power, cells);
    });
  });
}

function addSpot(
  grid: Grid,
  { power, x, y, radius }: Extract<PowerMap, { kind: "spot" }>,
  cells: Float64Array,
  field: string,
): void {
  finite(power, `${field}.power`);
  if (!(radius > 0 && radius < Number.POSITIVE_INFINITY)) {
    throw new FieldError(`${field}.radius`, "a length in metres, greater than 0", radius);
  }
  if (!grid.isOn(x, y)) {
    const middle = `x ${formatGiven(x, "m")}, y ${formatGiven(y, "m")}`;
    throw new FieldError(field, "a spot whose middle is on the die", middle);
  }
  const columns = { first: 0, shares: bell(x / radius, grid.cellWidth / radius, grid.cellsX) };
  const rows = { first: 0, shares: bell(y / radius, grid.cellLength / radius, grid.cellsY) };
  addProduct(grid, columns, rows, power, cells);
}

/** Lines across a cell's width by which a strip is drawn. */
const linesInCell = 4;

/** A strip as so many thin lines beside each other, each cut at the sides of the cells; beyond a rim, onto it. */
function addStrip(grid: Grid, strip: HeatedStrip, cells: Float64Array, field: string): void {
  const { from, to, width, power } = strip;
  finite(power, `${field}.power`);
  for (const { x, y } of [from, to]) {
    if (grid.isOn(x, y)) continue;
    const at = `x ${formatGiven(x, "m")}, y ${formatGiven(y, "m")}`;
    throw new FieldError(field, "lines whose corners are on the die", at);
  }
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const size = Math.hypot(dx, dy);
  const cell = Math.min(grid.cellWidth, grid.cellLength);
  const lines = size > 0 ? Math.max(1, Math.ceil((linesInCell * width) / cell)) : 1;
  for (let line = 0; line < lines; line++) {
    const aside = size > 0 ? (width * ((line + 0.5) / lines - 0.5)) / size : 0;
    const [x, y] = [from.x - aside * dy, from.y + aside * dx];
    const cuts = [0, 1, ...crossings(x, dx, grid.cellWidth), ...crossings(y, dy, grid.cellLength)];
    cuts.sort((a, b) => a - b);
    for (let k = 1; k < cuts.length; k++) {
      const [a, b] = [cuts[k - 1]!, cuts[k]!];
      const middle = (a + b) / 2;
      const at = grid.cellAt(x + middle * dx, y + middle * dy);
      cells[at] = cells[at]! + (power / lines) * (b - a);
    }
  }
}

/** Shares of a way from `start` by `change` at which it meets a side of the cells. */
function crossings(start: number, change: number, cell: number): number[] {
  const [low, high] = [Math.min(start, start + change), Math.max(start, start + change)];
  const found: number[] = [];
  for (let k = Math.ceil(low / cell); k * cell < high; k++) found.push((k * cell - start) / change);
  return found.filter((share) => share > 0 && share < 1);
}

/** Shares of a normal distribution of unit width in equal cells, summing to 1. */
function bell(middle: number, cell: number, cells: number): Float64Array {
  const shares = new Float64Array(cells);
  let sum = 0;
  for (let i = 0; i < cells; i++) {
    const share = normalShare((i + 1) * cell - middle) - normalShare(i * cell - middle);
    shares[i] = share;
    sum += share;
  }
  for (let i = 0; i < cells; i++) shares[i] = shares[i]! / sum;
  return shares;
}

function finite(power: unknown, field: string): number {
  if (typeof power === "number" && Number.isFinite(power)) return power;
  throw new FieldError(field, "a finite number in watts", power);
}
