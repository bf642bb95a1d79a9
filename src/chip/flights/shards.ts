/**
 * Phonons flown in shards: each has its own arrangement of starts and its own random numbers, so that
 * shards may be flown anywhere and in any order, and their scatter tells how far the mean may be off.
 * @module
 */
import { random } from "../../numerics/random.js";
import { Sobol } from "../../numerics/sobol.js";
import type { Tile } from "./face-contacts.js";
import {
  type Source,
  startDimensions,
  startFromSource,
  startFromTile,
  tileDimensions,
} from "./starts.js";
import { type FlightSpace, flightState, raysOf, trace } from "./trace.js";

/** How many there are: enough to tell a standard error to a fifth. */
export const shardCount = 16;

/** Streams of random numbers of one seed: a shard's for its sources, then one for each tile. */
const streamsOfShard = 2 ** 20;

/** What became of phonons that started alike. */
export interface Flown {
  /** Phonons that each tile took, for each way of starting. */
  readonly counts: Float64Array;
  /** Length flown in each cell of the grid, for each way of starting [m]. */
  readonly maps: Float64Array;
  /** Sum of the lengths of all flights, for each way of starting [m]. */
  readonly paths: Float64Array;
  /** How many still flew at the bound. */
  caught: number;
  /** Flights from wall to wall. */
  flights: number;
}

function nothingFlown(ways: number, tiles: number, cells: number): Flown {
  return {
    counts: new Float64Array(ways * tiles),
    maps: new Float64Array(ways * cells),
    paths: new Float64Array(ways),
    caught: 0,
    flights: 0,
  };
}

/** Flies one shard of the phonons of every tile, `each` from a tile. */
export function flyFromTiles(
  space: FlightSpace,
  tiles: readonly Tile[],
  each: number,
  seed: number,
  shard: number,
): Flown {
  const { cells } = space.grid;
  const flown = nothingFlown(tiles.length, tiles.length, cells);
  const rays = raysOf(each);
  tiles.forEach((tile, t) => {
    const stream = random(seed, shard * streamsOfShard + 1 + t);
    startFromTile(space.box, tile, new Sobol(tileDimensions, stream), rays.starts, 0, each);
    const map = flown.maps.subarray(t * cells, (t + 1) * cells);
    flown.flights += trace(space, rays, each, flightState(stream), map);
    gather(flown, rays, t, tiles.length);
  });
  return flown;
}

/** Flies one shard of the phonons of a source. */
export function flyFromSource(
  space: FlightSpace,
  tiles: number,
  source: Source,
  count: number,
  seed: number,
  shard: number,
): Flown {
  const flown = nothingFlown(1, tiles, space.grid.cells);
  const rays = raysOf(count);
  const stream = random(seed, shard * streamsOfShard);
  startFromSource(space.box, source, new Sobol(startDimensions, stream), rays.starts, count);
  flown.flights = trace(space, rays, count, flightState(stream), flown.maps);
  gather(flown, rays, 0, tiles);
  return flown;
}

function gather(
  flown: Flown,
  { ends, paths }: ReturnType<typeof raysOf>,
  way: number,
  tiles: number,
): void {
  let path = 0;
  for (let ray = 0; ray < ends.length; ray++) {
    const end = ends[ray]!;
    if (end < 0) flown.caught++;
    else flown.counts[way * tiles + end]! += 1;
    path += paths[ray]!;
  }
  flown.paths[way]! += path;
}

/** Adds what was flown to what was flown before. */
export function addFlown(sum: Flown, more: Flown): void {
  for (const part of ["counts", "maps", "paths"] as const) {
    const [to, from] = [sum[part], more[part]];
    for (let i = 0; i < to.length; i++) to[i] = to[i]! + from[i]!;
  }
  sum.caught += more.caught;
  sum.flights += more.flights;
}
