/**
 * The flight of phonons from wall to wall until a contact takes them: the one hot loop of this folder.
 *
 * Everything a flight needs is in local numbers and typed arrays, and nothing is allocated. Directions
 * are drawn without sines and cosines: a point of the unit disc lifted onto the sphere above it follows
 * Lambert's law (T. J. V. Malley, 1988), and one of the disc mapped by G. Marsaglia, Ann. Math. Stat. 43,
 * 645 (1972), fills the sphere evenly. Random numbers: sfc32 of C. Doty-Humphrey's PractRand, written out
 * at each draw, since a call would keep its state in memory.
 * @module
 */
import type { Random } from "../../numerics/random.js";
import type { Grid } from "../grid.js";
import type { DieBox } from "./box.js";
import type { Lookup } from "./face-contacts.js";

/** What the tracer flies through. */
export interface FlightSpace {
  readonly box: DieBox;
  readonly lookup: Lookup;
  /** Where it is noted how long they stay. */
  readonly grid: Grid;
  /** Bound on the flights of one phonon from wall to wall. */
  readonly mostFlights: number;
}

/** Phonons on their way, six numbers each: x, y, z [m] and a unit vector; and what became of them. */
export interface Rays {
  readonly starts: Float64Array;
  /** The tile that took each, −1 for one still flying at the bound. */
  readonly ends: Int32Array;
  /** How far each flew [m]. */
  readonly paths: Float64Array;
}

/** Arrays for rays. */
export function raysOf(count: number): Rays {
  return {
    starts: new Float64Array(6 * count),
    ends: new Int32Array(count),
    paths: new Float64Array(count),
  };
}

/** How a face reflects. */
const [diffuse, mixed, mirrored] = [0, 1, 2];

/** The state of the generator of a stream. */
export function flightState(random: Random): Int32Array {
  return Int32Array.from({ length: 4 }, () => random.below(2 ** 32) | 0);
}

/**
 * Flies rays until each is taken.
 * @param count - of the rays to fly, from the first
 * @param state - of the generator; moved on
 * @param map - of the grid's cells, to which the length flown in each is added [m]: each flight adds all
 *   of its length where one point of it lies, points that fill the flights evenly one after the other
 * @returns how many flights there were
 */
export function trace(
  { box, lookup, grid, mostFlights }: FlightSpace,
  { starts, ends, paths }: Rays,
  count: number,
  state: Int32Array,
  map: Float64Array,
): number {
  const { first, heads, tiles, ends: rims, cells, scale } = lookup;
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
  const isClear = bulkLength === Number.POSITIVE_INFINITY;
  const unit = 2 ** -31;
  let s0 = state[0]! | 0;
  let s1 = state[1]! | 0;
  let s2 = state[2]! | 0;
  let s3 = state[3]! | 0;
  let drawn = 0;
  let phase = 0.5;
  let total = 0;
  for (let ray = 0; ray < count; ray++) {
    const at = 6 * ray;
    let x = starts[at]!;
    let y = starts[at + 1]!;
    let z = starts[at + 2]!;
    let dx = starts[at + 3]!;
    let dy = starts[at + 4]!;
    let dz = starts[at + 5]!;
    let ix = 1 / dx;
    let iy = 1 / dy;
    let iz = 1 / dz;
    let path = 0;
    let taken = -1;
    let free = Number.POSITIVE_INFINITY;
    if (!isClear) {
      drawn = (((s0 + s1) | 0) + s3) | 0;
      s3 = (s3 + 1) | 0;
      s0 = s1 ^ (s1 >>> 9);
      s1 = (s2 + (s2 << 3)) | 0;
      s2 = (((s2 << 21) | (s2 >>> 11)) + drawn) | 0;
      free = -bulkLength * Math.log(((drawn >>> 0) + 0.5) * 2 ** -32);
    }
    let flights = 0;
    for (; flights < mostFlights; flights++) {
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
      // Steps of the golden section fill the unit interval evenly.
      phase += 0.6180339887498949;
      if (phase >= 1) phase -= 1;
      const part = phase * way;
      map[Math.imul(((y + dy * part) * perY) | 0, cellsX) + (((x + dx * part) * perX) | 0)]! += way;
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
      const own = first[face]!;
      if (own >= 0) {
        const column = (across * scale[2 * face]!) | 0;
        const row = (along * scale[2 * face + 1]!) | 0;
        let entry = heads[own + Math.imul(row, cells[2 * face]!) + column]!;
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
              break;
            }
          }
          if (taken >= 0) break;
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
    ends[ray] = taken;
    paths[ray] = path;
    total += flights + (taken >= 0 ? 1 : 0);
  }
  state[0] = s0;
  state[1] = s1;
  state[2] = s2;
  state[3] = s3;
  return total;
}
