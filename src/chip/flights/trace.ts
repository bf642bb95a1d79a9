/**
 * The flight of phonons from wall to wall until they meet a zone where contacts may be: the one hot loop
 * of this folder.
 *
 * Everything a flight needs is in local numbers and typed arrays, and nothing is allocated. Directions
 * are drawn without sines and cosines: a point of the unit disc lifted onto the sphere above it follows
 * Lambert's law (T. J. V. Malley, 1988), and one of the disc mapped by G. Marsaglia, Ann. Math. Stat. 43,
 * 645 (1972), fills the sphere evenly. Random numbers: sfc32 of C. Doty-Humphrey's PractRand, written out
 * at each draw, since a call would keep its state in memory. Each phonon has its own, so that it flies the
 * same way whatever flies beside it.
 * @module
 */
import type { Random } from "../../numerics/random.js";
import type { Grid } from "../grid.js";
import type { DieBox } from "./box.js";
import type { Lookup } from "./face-contacts.js";

/** What the tracer flies through. */
export interface FlightSpace {
  readonly box: DieBox;
  /** Zones at which a flight is noted. */
  readonly lookup: Lookup;
  /** Whose cells are marked. */
  readonly grid: Grid;
  /** Length flown from one mark to the next [m]. */
  readonly spacing: number;
}

/** Phonons on their way. */
export interface Rays {
  /** Six numbers each: x, y, z [m] and a unit vector. */
  readonly states: Float64Array;
  /** What each has left to fly until it scatters in the bulk [m]. */
  readonly free: Float64Array;
  /** And until its next mark [m]. */
  readonly toMark: Float64Array;
  /** Of its generator, four words each. */
  readonly streams: Int32Array;
}

/** From where each phonon was to the zone that it met. */
export interface Legs {
  /** The zone, −1 where the bound of flights came first. */
  readonly zones: Int32Array;
  /** Where on its face [m]. */
  readonly across: Float64Array;
  readonly along: Float64Array;
  /** How far [m]. */
  readonly lengths: Float64Array;
  /** Flights from wall to wall. */
  readonly flights: Int32Array;
  /** Up to which of the marks those of this one go. */
  readonly marks: Int32Array;
}

/** Cells that were marked, one after the other. */
export interface Marks {
  cells: Uint16Array | Uint32Array;
  count: number;
}

/** Arrays for phonons that have yet to start. */
export function raysOf(count: number): Rays {
  return {
    states: new Float64Array(6 * count),
    free: new Float64Array(count),
    toMark: new Float64Array(count),
    streams: new Int32Array(4 * count),
  };
}

/** Arrays for legs. */
export function legsOf(count: number): Legs {
  return {
    zones: new Int32Array(count),
    across: new Float64Array(count),
    along: new Float64Array(count),
    lengths: new Float64Array(count),
    flights: new Int32Array(count),
    marks: new Int32Array(count),
  };
}

/** An array of marks, which doubles when it is full. */
export function marksOf({ cells }: Grid): Marks {
  return { cells: cells > 2 ** 16 ? new Uint32Array(2 ** 12) : new Uint16Array(2 ** 12), count: 0 };
}

/** Gives phonons their random numbers: a generator each, and what is left to fly. */
export function readyRays({ box, spacing }: FlightSpace, rays: Rays, stream: Random): void {
  const { free, toMark, streams } = rays;
  const word = () => stream.below(2 ** 32) | 0;
  let [s0, s1, s2, s3] = [word(), word(), word(), word()];
  const next = () => {
    const drawn = (((s0 + s1) | 0) + s3) | 0;
    s3 = (s3 + 1) | 0;
    s0 = s1 ^ (s1 >>> 9);
    s1 = (s2 + (s2 << 3)) | 0;
    s2 = (((s2 << 21) | (s2 >>> 11)) + drawn) | 0;
    return drawn;
  };
  const uniform = () => ((next() >>> 0) + 0.5) * 2 ** -32;
  const isClear = box.bulkLength === Number.POSITIVE_INFINITY;
  // All of one phonon before the next, so that fewer begin with the same.
  for (let ray = 0; ray < free.length; ray++) {
    for (let k = 0; k < 4; k++) streams[4 * ray + k] = next();
    toMark[ray] = spacing * uniform();
    free[ray] = isClear ? Number.POSITIVE_INFINITY : -box.bulkLength * Math.log(uniform());
  }
}

function doubled(marks: Marks): Uint16Array | Uint32Array {
  const more = new (marks.cells.constructor as Uint32ArrayConstructor)(2 * marks.cells.length);
  more.set(marks.cells);
  marks.cells = more;
  return more;
}

/** How a face reflects. */
const [diffuse, mixed, mirrored] = [0, 1, 2];

/**
 * Flies each of some phonons until it meets a zone, where it is reflected as by the face beside it and stays.
 * @param which - their numbers
 * @param count - how many of those
 * @param mostFlights - bound on the flights of each
 * @returns how many flights there were
 */
export function trace(
  { box, lookup, grid, spacing }: FlightSpace,
  { states, free: frees, toMark: toMarks, streams }: Rays,
  which: Int32Array,
  count: number,
  legs: Legs,
  marks: Marks,
  mostFlights: number,
): number {
  const { first, heads, tiles, ends: rims, cells, scale } = lookup;
  const { zones, across: acrossAt, along: alongAt, lengths, flights: flown, marks: marksTo } = legs;
  const { specularity, bulkLength } = box;
  const width = box.sides[0]!;
  const length = box.sides[1]!;
  const thickness = box.sides[2]!;
  const cellsX = grid.cellsX | 0;
  const perX = (cellsX / width) * (1 - 2 ** -48);
  const perY = (grid.cellsY / length) * (1 - 2 ** -48);
  // A number drawn below the limit of a face is a mirror's, as whole numbers of 32 bits.
  const limits = Int32Array.from(specularity, (share) => Math.round(share * 2 ** 32) - 2 ** 31);
  const kinds = Int32Array.from(specularity, (share) =>
    share === 0 ? diffuse : share === 1 ? mirrored : mixed,
  );
  const unit = 2 ** -31;
  let marked = marks.cells;
  let mark = marks.count | 0;
  let drawn = 0;
  let total = 0;
  for (let k = 0; k < count; k++) {
    const ray = which[k]!;
    const own = 4 * ray;
    let s0 = streams[own]! | 0;
    let s1 = streams[own + 1]! | 0;
    let s2 = streams[own + 2]! | 0;
    let s3 = streams[own + 3]! | 0;
    const at = 6 * ray;
    let x = states[at]!;
    let y = states[at + 1]!;
    let z = states[at + 2]!;
    let dx = states[at + 3]!;
    let dy = states[at + 4]!;
    let dz = states[at + 5]!;
    let ix = 1 / dx;
    let iy = 1 / dy;
    let iz = 1 / dz;
    let path = 0;
    let taken = -1;
    let free = frees[ray]!;
    let toMark = toMarks[ray]!;
    let metAcross = 0;
    let metAlong = 0;
    let flights = 0;
    for (; taken < 0 && flights < mostFlights; flights++) {
      const toX = ((dx > 0 ? width : 0) - x) * ix;
      const toY = ((dy > 0 ? length : 0) - y) * iy;
      const toZ = ((dz > 0 ? thickness : 0) - z) * iz;
      let axis = 2;
      let way = toZ;
      if (toX < way) {
        way = toX;
        axis = 0;
      }
      if (toY < way) {
        way = toY;
        axis = 1;
      }
      const scatters = way > free;
      if (scatters) way = free;
      toMark -= way;
      while (toMark < 0) {
        const part = way + toMark;
        if (mark === marked.length) marked = doubled(marks);
        marked[mark] =
          Math.imul(((y + dy * part) * perY) | 0, cellsX) + (((x + dx * part) * perX) | 0);
        mark++;
        toMark += spacing;
      }
      path += way;
      x += dx * way;
      y += dy * way;
      z += dz * way;
      let p = 0;
      let q = 0;
      if (scatters) {
        let r = 2;
        while (r >= 1) {
          drawn = (((s0 + s1) | 0) + s3) | 0;
          s3 = (s3 + 1) | 0;
          s0 = s1 ^ (s1 >>> 9);
          s1 = (s2 + (s2 << 3)) | 0;
          s2 = (((s2 << 21) | (s2 >>> 11)) + drawn) | 0;
          p = (drawn + 0.5) * unit;
          drawn = (((s0 + s1) | 0) + s3) | 0;
          s3 = (s3 + 1) | 0;
          s0 = s1 ^ (s1 >>> 9);
          s1 = (s2 + (s2 << 3)) | 0;
          s2 = (((s2 << 21) | (s2 >>> 11)) + drawn) | 0;
          q = (drawn + 0.5) * unit;
          r = p * p + q * q;
        }
        const lift = 2 * Math.sqrt(1 - r);
        dx = p * lift;
        dy = q * lift;
        dz = 1 - 2 * r;
        ix = 1 / dx;
        iy = 1 / dy;
        iz = 1 / dz;
        drawn = (((s0 + s1) | 0) + s3) | 0;
        s3 = (s3 + 1) | 0;
        s0 = s1 ^ (s1 >>> 9);
        s1 = (s2 + (s2 << 3)) | 0;
        s2 = (((s2 << 21) | (s2 >>> 11)) + drawn) | 0;
        free = -bulkLength * Math.log(((drawn >>> 0) + 0.5) * 2 ** -32);
        continue;
      }
      free -= way;
      let face = 0;
      let across = x;
      let along = z;
      if (axis === 2) {
        face = dz > 0 ? 5 : 4;
        along = y;
      } else if (axis === 0) {
        face = dx > 0 ? 1 : 0;
        across = y;
      } else {
        face = dy > 0 ? 3 : 2;
      }
      const listed = first[face]!;
      if (listed >= 0) {
        const column = (across * scale[2 * face]!) | 0;
        const row = (along * scale[2 * face + 1]!) | 0;
        let entry = heads[listed + Math.imul(row, cells[2 * face]!) + column]!;
        if (entry >= 0) {
          for (let tile = tiles[entry]!; tile >= 0; tile = tiles[++entry]!) {
            const rim = 4 * tile;
            if (
              across >= rims[rim]! &&
              across <= rims[rim + 1]! &&
              along >= rims[rim + 2]! &&
              along <= rims[rim + 3]!
            ) {
              taken = tile;
              metAcross = across;
              metAlong = along;
              break;
            }
          }
        }
      }
      const kind = kinds[face]!;
      let isMirror = kind === mirrored;
      if (kind === mixed) {
        drawn = (((s0 + s1) | 0) + s3) | 0;
        s3 = (s3 + 1) | 0;
        s0 = s1 ^ (s1 >>> 9);
        s1 = (s2 + (s2 << 3)) | 0;
        s2 = (((s2 << 21) | (s2 >>> 11)) + drawn) | 0;
        isMirror = drawn < limits[face]!;
      }
      if (isMirror) {
        if (axis === 2) {
          dz = -dz;
          iz = -iz;
        } else if (axis === 0) {
          dx = -dx;
          ix = -ix;
        } else {
          dy = -dy;
          iy = -iy;
        }
        continue;
      }
      let r = 2;
      while (r >= 1) {
        drawn = (((s0 + s1) | 0) + s3) | 0;
        s3 = (s3 + 1) | 0;
        s0 = s1 ^ (s1 >>> 9);
        s1 = (s2 + (s2 << 3)) | 0;
        s2 = (((s2 << 21) | (s2 >>> 11)) + drawn) | 0;
        p = (drawn + 0.5) * unit;
        drawn = (((s0 + s1) | 0) + s3) | 0;
        s3 = (s3 + 1) | 0;
        s0 = s1 ^ (s1 >>> 9);
        s1 = (s2 + (s2 << 3)) | 0;
        s2 = (((s2 << 21) | (s2 >>> 11)) + drawn) | 0;
        q = (drawn + 0.5) * unit;
        r = p * p + q * q;
      }
      const up = Math.sqrt(1 - r);
      if (axis === 2) {
        dx = p;
        dy = q;
        dz = face === 5 ? -up : up;
      } else if (axis === 0) {
        dx = face === 1 ? -up : up;
        dy = p;
        dz = q;
      } else {
        dx = p;
        dy = face === 3 ? -up : up;
        dz = q;
      }
      // One division in place of three: no component is below 2⁻³².
      const whole = 1 / (dx * dy * dz);
      ix = dy * dz * whole;
      iy = dx * dz * whole;
      iz = dx * dy * whole;
    }
    states[at] = x;
    states[at + 1] = y;
    states[at + 2] = z;
    states[at + 3] = dx;
    states[at + 4] = dy;
    states[at + 5] = dz;
    frees[ray] = free;
    toMarks[ray] = toMark;
    streams[own] = s0;
    streams[own + 1] = s1;
    streams[own + 2] = s2;
    streams[own + 3] = s3;
    zones[k] = taken;
    acrossAt[k] = metAcross;
    alongAt[k] = metAlong;
    lengths[k] = path;
    flown[k] = flights;
    marksTo[k] = mark;
    total += flights;
  }
  marks.count = mark;
  return total;
}
