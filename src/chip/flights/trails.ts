/**
 * Phonons that started alike, and the zones that each has met: kept, so that contacts which lie elsewhere
 * within the zones, or take up less of them, are met by the same phonons. What they did beyond is flown when
 * it is first asked for.
 * @module
 */
import type { Random } from "../../numerics/random.js";
import { tileAt } from "./face-contacts.js";
import type { FlightSpace } from "./flight-space.js";
import type { Flown, Targets } from "./flown.js";
import { type Legs, legsOf, type Marks, marksOf, type Rays, raysOf, readyRays } from "./rays.js";
import { trace } from "./trace.js";

/** From where phonons are followed. */
export interface Following {
  /** How many phonons, from the first. */
  readonly count: number;
  /** The tile that each is counted for from its start on, −1 for none yet. */
  readonly ways: Int32Array;
  /** How often each leaves a band, by its start or later, to be counted for the tile that it leaves there. */
  readonly leaves: number;
}

/** Phonons that started alike, on their way. */
export class Trails {
  readonly #space: FlightSpace;
  readonly #rays: Rays;
  readonly #marks: Marks;
  /** First leg of each phonon, and the last that was flown; −1 for none. */
  readonly #firsts: Int32Array;
  readonly #lasts: Int32Array;
  /** Legs of all in the order in which they were flown. */
  #legs: Legs = legsOf(0);
  /** The next leg of the same phonon. */
  #nexts = new Int32Array(0);
  #flown = 0;
  readonly #batch: Legs;

  /** @param write - puts the starts of all phonons into an array, six numbers each */
  constructor(
    space: FlightSpace,
    readonly count: number,
    write: (starts: Float64Array) => void,
    own: Random,
  ) {
    this.#space = space;
    this.#rays = raysOf(count);
    this.#marks = marksOf(space.grid);
    this.#firsts = new Int32Array(count).fill(-1);
    this.#lasts = new Int32Array(count).fill(-1);
    this.#batch = legsOf(count);
    write(this.#rays.states);
    readyRays(space, this.#rays, own);
  }

  /** Follows phonons from contact to contact, and adds up what they did. */
  follow(targets: Targets, { count, ways: from, leaves }: Following, flown: Flown): void {
    const { lookup, faces, bands, isMoving, mostFlights } = targets;
    const { cells } = this.#space.grid;
    const tiles = isMoving.length;
    const { counts, maps, paths, starts } = flown;
    const ways = from.slice();
    const which = Int32Array.from({ length: count }, (_, ray) => ray);
    const at = this.#firsts.slice(0, count);
    const left = new Int32Array(count).fill(leaves === 0 ? 0 : 1);
    const passed = new Int32Array(count);
    const missing = new Int32Array(count);
    for (const way of ways) if (way >= 0) starts[way] = starts[way]! + 1;
    for (let active = count; active > 0; ) {
      let more = 0;
      for (let k = 0; k < active; k++) if (at[which[k]!]! < 0) missing[more++] = which[k]!;
      if (more > 0) this.#fly(missing, more, mostFlights, at);
      const { zones, across, along, lengths, flights, marks } = this.#legs;
      let stay = 0;
      for (let k = 0; k < active; k++) {
        const ray = which[k]!;
        const leg = at[ray]!;
        const way = ways[ray]!;
        if (way >= 0) {
          const map = way * cells;
          for (let m = leg === 0 ? 0 : marks[leg - 1]!; m < marks[leg]!; m++) {
            maps[map + this.#marks.cells[m]!]! += 1;
          }
          paths[way] = paths[way]! + lengths[leg]!;
          flown.flights += flights[leg]!;
        }
        const zone = zones[leg]!;
        passed[ray] = passed[ray]! + flights[leg]!;
        if (zone < 0 || passed[ray]! >= mostFlights) {
          flown.caught++;
          continue;
        }
        const tile = tileAt(lookup, faces[zone]!, across[leg]!, along[leg]!);
        let next = way;
        if (tile >= 0) {
          if (way >= 0) counts[way * tiles + tile]! += 1;
          next = -1;
          passed[ray] = 0;
        }
        if (zone < bands && left[ray]! < leaves) {
          left[ray]!++;
          if (tile >= 0 && isMoving[tile] === 1) {
            next = tile;
            starts[tile] = starts[tile]! + 1;
          }
        }
        ways[ray] = next;
        if (next < 0 && left[ray]! >= leaves) continue;
        at[ray] = this.#nexts[leg]!;
        which[stay++] = ray;
      }
      active = stay;
    }
  }

  /** Flies the next leg of some phonons. @param at - where its number is put, by phonon */
  #fly(which: Int32Array, count: number, mostFlights: number, at: Int32Array): void {
    const batch = this.#batch;
    trace(this.#space, this.#rays, which, count, batch, this.#marks, mostFlights);
    const from = this.#flown;
    if (from + count > this.#nexts.length) this.#enlarge(from + count);
    for (const part of ["zones", "across", "along", "lengths", "flights", "marks"] as const) {
      this.#legs[part].set(batch[part].subarray(0, count), from);
    }
    for (let k = 0; k < count; k++) {
      const ray = which[k]!;
      const last = this.#lasts[ray]!;
      if (last < 0) this.#firsts[ray] = from + k;
      else this.#nexts[last] = from + k;
      this.#nexts[from + k] = -1;
      this.#lasts[ray] = from + k;
      at[ray] = from + k;
    }
    this.#flown = from + count;
  }

  #enlarge(least: number): void {
    const room = Math.max(least, Math.ceil(1.5 * this.#nexts.length));
    const legs = legsOf(room);
    for (const part of ["zones", "across", "along", "lengths", "flights", "marks"] as const) {
      legs[part].set(this.#legs[part].subarray(0, this.#flown));
    }
    const nexts = new Int32Array(room);
    nexts.set(this.#nexts.subarray(0, this.#flown));
    this.#legs = legs;
    this.#nexts = nexts;
  }
}
