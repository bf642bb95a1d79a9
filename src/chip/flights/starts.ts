/**
 * Where phonons start and which way: from tiles of contacts and from heat sources.
 * @module
 */
import { normalShare } from "../../numerics/distributions.js";
import type { Sobol } from "../../numerics/sobol.js";
import { FieldError } from "../../units/errors.js";
import { Grid, type Rectangle } from "../grid.js";
import { cellPowers, type PowerMap } from "../power-map.js";
import type { DieBox } from "./box.js";
import type { Tile } from "./face-contacts.js";

/** Where the heat of a source becomes phonons: in a film on the front, or anywhere in the bulk. */
export type SourceDepth = "front" | "bulk";

/** Rectangles of the plan that start phonons, and how many of all have started up to each. */
export interface Source {
  readonly rectangles: readonly Rectangle[];
  /** Sums of shares, the last one 1. */
  readonly upTo: Float64Array;
  readonly depth: SourceDepth;
}

/** Numbers that one start takes from a sequence that fills the unit cube. */
export const startDimensions = 5;
/** The same from a tile, whose depth is known. */
export const tileDimensions = 4;

/** Writes rays that leave a tile by Lambert's law. */
export function startFromTile(
  box: DieBox,
  { face, area }: Tile,
  points: Sobol,
  starts: Float64Array,
  from: number,
  count: number,
): void {
  const point = new Float64Array(tileDimensions);
  const { left, right, bottom, top } = area;
  for (let ray = from; ray < from + count; ray++) {
    points.next(point);
    const across = left + point[0]! * (right - left);
    const along = bottom + point[1]! * (top - bottom);
    leaveFace(box, face, across, along, point[2]!, point[3]!, starts, 6 * ray);
  }
}

/** Writes rays of a source: all ways alike in the bulk, by Lambert's law from a film. */
export function startFromSource(
  box: DieBox,
  { rectangles, upTo, depth }: Source,
  points: Sobol,
  starts: Float64Array,
  count: number,
): void {
  const point = new Float64Array(startDimensions);
  for (let ray = 0; ray < count; ray++) {
    points.next(point);
    const part = point[0]!;
    let k = 0;
    for (let high = upTo.length - 1; k < high; ) {
      const middle = (k + high) >> 1;
      if (part < upTo[middle]!) high = middle;
      else k = middle + 1;
    }
    const before = k === 0 ? 0 : upTo[k - 1]!;
    // What is left of the number after the choice of a rectangle is as even as the number was.
    const within = Math.min(1, Math.max(0, (part - before) / (upTo[k]! - before)));
    const { left, right, bottom, top } = rectangles[k]!;
    const x = left + within * (right - left);
    const y = bottom + point[1]! * (top - bottom);
    if (depth === "front") {
      leaveFace(box, 5, x, y, point[2]!, point[3]!, starts, 6 * ray);
      continue;
    }
    const height = 2 * point[2]! - 1;
    const aside = Math.sqrt(1 - height * height);
    const angle = 2 * Math.PI * point[3]!;
    starts[6 * ray] = x;
    starts[6 * ray + 1] = y;
    starts[6 * ray + 2] = point[4]! * box.sides[2]!;
    starts[6 * ray + 3] = aside * Math.cos(angle);
    starts[6 * ray + 4] = aside * Math.sin(angle);
    starts[6 * ray + 5] = height;
  }
}

/** A ray from a place of a face, by Lambert's law: even over the disc below the half sphere. */
function leaveFace(
  box: DieBox,
  face: number,
  across: number,
  along: number,
  u: number,
  v: number,
  starts: Float64Array,
  at: number,
): void {
  const radius = Math.sqrt(u);
  const angle = 2 * Math.PI * v;
  const p = radius * Math.cos(angle);
  const q = radius * Math.sin(angle);
  const up = Math.sqrt(1 - u);
  const axis = face >> 1;
  const isFar = (face & 1) === 1;
  const wall = isFar ? box.sides[axis]! : 0;
  const inward = isFar ? -up : up;
  // The axes that are not the face's own, in their order, are its across and along.
  const [first, second] = axis === 0 ? [1, 2] : axis === 1 ? [0, 2] : [0, 1];
  starts[at + axis] = wall;
  starts[at + first!] = across;
  starts[at + second!] = along;
  starts[at + 3 + axis] = inward;
  starts[at + 3 + first!] = p;
  starts[at + 3 + second!] = q;
}

/** Standard deviations of a spot beyond which nothing starts: 6e-5 of its heat lies further out. */
const spotReach = 4;
/** Cells across a spot. */
const spotCells = 48;

/**
 * A map of power as a source of phonons, and its power [W].
 * @throws FieldError for a map of the wrong size, off the die, or with less than no power somewhere
 */
export function sourceOf(box: DieBox, map: PowerMap, depth: SourceDepth, field: string) {
  const width = box.sides[0]!;
  const length = box.sides[1]!;
  const die = new Grid(width, length, 1, 1, "die");
  const rectangles: Rectangle[] = [];
  const powers: number[] = [];
  const add = (area: Rectangle, power: number) => {
    if (power < 0) throw new FieldError(field, "a power of at least 0 everywhere", power);
    if (power === 0) return;
    rectangles.push(area);
    powers.push(power);
  };
  // Also checks the map.
  const total = cellPowers(
    die,
    map.kind === "cells" ? { kind: "uniform", power: 0 } : map,
    field,
  )[0]!;
  if (map.kind === "uniform") add(die.whole, map.power);
  else if (map.kind === "rectangle") add(die.onDie(map.over, field), map.power);
  else if (map.kind === "pixels") {
    const over = map.over ? die.onDie(map.over, field) : die.whole;
    const along = (over.top - over.bottom) / map.rows.length;
    map.rows.forEach((row, j) => {
      const across = (over.right - over.left) / row.length;
      row.forEach((power, i) => {
        const area = {
          left: over.left + i * across,
          right: over.left + (i + 1) * across,
          bottom: over.bottom + j * along,
          top: over.bottom + (j + 1) * along,
        };
        add(area, power);
      });
    });
  } else if (map.kind === "spot") {
    const columns = bellCells(map.x, map.radius, width);
    const rows = bellCells(map.y, map.radius, length);
    for (const row of rows) {
      for (const column of columns) {
        const area = { left: column.from, right: column.to, bottom: row.from, top: row.to };
        add(area, map.power * column.share * row.share);
      }
    }
  } else {
    throw new FieldError(`${field}.kind`, '"uniform", "rectangle", "spot" or "pixels"', map.kind);
  }
  const sum = powers.reduce((a, b) => a + b, 0);
  let reached = 0;
  const upTo = Float64Array.from(powers, (power) => {
    reached += power;
    return reached / sum;
  });
  if (upTo.length > 0) upTo[upTo.length - 1] = 1;
  return { source: { rectangles, upTo, depth } satisfies Source, power: total };
}

/** Equal steps over a bell curve inside the die, and the share of the curve in each. */
function bellCells(middle: number, radius: number, side: number) {
  const from = Math.max(0, middle - spotReach * radius);
  const to = Math.min(side, middle + spotReach * radius);
  const end = (i: number) => from + (i / spotCells) * (to - from);
  const cells = Array.from({ length: spotCells }, (_, i) => {
    const share =
      normalShare((end(i + 1) - middle) / radius) - normalShare((end(i) - middle) / radius);
    return { from: end(i), to: end(i + 1), share };
  });
  const sum = cells.reduce((total, { share }) => total + share, 0);
  return cells.map((cell) => ({ ...cell, share: cell.share / sum }));
}
