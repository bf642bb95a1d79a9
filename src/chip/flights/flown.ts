/**
 * What became of phonons: which contacts took them, and where they flew.
 * @module
 */
import type { Lookup, Tile } from "./face-contacts.js";

/** What became of phonons that started alike. */
export interface Flown {
  /** Phonons that each tile took, for each way of starting. */
  readonly counts: Float64Array;
  /** Marks in each cell of the grid, for each way of starting. */
  readonly maps: Float64Array;
  /** Sum of the lengths of all flights, for each way of starting [m]. */
  readonly paths: Float64Array;
  /** How many started, for each way. */
  readonly starts: Float64Array;
  /** How many still flew at the bound. */
  caught: number;
  /** Flights from wall to wall. */
  flights: number;
}

/** Contacts that phonons are followed to. */
export interface Targets {
  readonly tiles: readonly Tile[];
  readonly lookup: Lookup;
  /** Face of each zone. */
  readonly faces: Int32Array;
  /** How many of the zones, from the first, are bands. */
  readonly bands: number;
  /** 1 for a tile that stands in a band, and has no phonons of its own. */
  readonly isMoving: Uint8Array;
  /** Bound on the flights of one phonon from contact to contact. */
  readonly mostFlights: number;
}

export function nothingFlown(ways: number, tiles: number, cells: number): Flown {
  return {
    counts: new Float64Array(ways * tiles),
    maps: new Float64Array(ways * cells),
    paths: new Float64Array(ways),
    starts: new Float64Array(ways),
    caught: 0,
    flights: 0,
  };
}

/** Adds what was flown to what was flown before. */
export function addFlown(sum: Flown, more: Flown): void {
  for (const part of ["counts", "maps", "paths", "starts"] as const) {
    const [to, from] = [sum[part], more[part]];
    for (let i = 0; i < to.length; i++) to[i] = to[i]! + from[i]!;
  }
  sum.caught += more.caught;
  sum.flights += more.flights;
}

/** Marks of each way turned into lengths, which sum to all that was flown. */
export function lengthsOfMarks({ maps, paths }: Flown, cells: number): Float64Array {
  const lengths = new Float64Array(maps.length);
  for (let way = 0; way < paths.length; way++) {
    let sum = 0;
    for (let c = way * cells; c < (way + 1) * cells; c++) sum += maps[c]!;
    const each = sum > 0 ? paths[way]! / sum : 0;
    for (let c = way * cells; c < (way + 1) * cells; c++) {
      lengths[c] = sum > 0 ? each * maps[c]! : paths[way]! / cells;
    }
  }
  return lengths;
}
