/**
 * Arrays of phonons on their way, and of what they leave behind.
 * @module
 */
import type { Random } from "../../numerics/random.js";
import type { Grid } from "../grid.js";
import type { FlightSpace } from "./flight-space.js";

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
  return { cells: cells > 2 ** 16 ? new Uint32Array(2 ** 13) : new Uint16Array(2 ** 13), count: 0 };
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
