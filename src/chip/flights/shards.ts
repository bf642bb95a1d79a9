/**
 * Phonons flown in shards: each has its own arrangement of starts and its own random numbers, so that
 * shards may be flown anywhere and in any order, and their scatter tells how far the mean may be off.
 *
 * Contacts that stand in a row along an edge move when their number changes. A band along the edge holds
 * them all: phonons leave it evenly by Lambert's law, as from a wall in equilibrium with them. Walls keep
 * that, mirrors or not, so each time one comes back to the band and is reflected, all places and ways are
 * as likely again. So whatever part of the band is a contact, those that leave it there are its own
 * emission, and each flight to the next contact is a sample of the exchange. Which part that is matters only
 * when what was flown is counted.
 * @module
 */
import { random } from "../../numerics/random.js";
import { Sobol } from "../../numerics/sobol.js";
import { areaOf, type Grid, overlapOf, type Rectangle } from "../grid.js";
import { gridOf } from "../sheet.js";
import { DieBox, type FlightOptions } from "./box.js";
import {
  type FaceContact,
  lookupOf,
  type Tile,
  tileAreas,
  tileAt,
  tilesOf,
} from "./face-contacts.js";
import { type FlightSpace, flightSpace } from "./flight-space.js";
import { type Flown, nothingFlown, type Targets } from "./flown.js";
import {
  type Source,
  startDimensions,
  startFromSource,
  startFromTile,
  tileDimensions,
} from "./starts.js";
import { Trails } from "./trails.js";

/** How many there are: enough to tell a standard error to a fifth. */
export const shardCount = 16;

/** Streams of random numbers of one seed: a shard's for its sources, its bands, then one for each tile. */
const streamsOfShard = 2 ** 20;
/** From here on the streams of phonons' own numbers. */
const ownStreams = 2 ** 40;
/** Phonons that fly together where nothing of them is kept. */
const together = 2 ** 12;
/** How often a phonon that started in a band leaves it again, to be counted. */
export const leavesOfBand = 16;

/** Phonons that are kept, and where they started if that is asked for. */
interface Kept {
  readonly trails: Trails;
  readonly starts: Float64Array;
}

/** A die and where its contacts may be, and the phonons flown in it so far. */
export class FlightPaths {
  readonly #space: FlightSpace;
  readonly #zones: readonly Tile[];
  readonly #bands: number;
  readonly #seed: number;
  readonly #kept = new Map<string, Kept>();

  /**
   * @param zones - where contacts may be, bands first
   * @param bands - how many of them are bands
   * @param spacing - length flown from one mark of the map to the next [m]
   */
  constructor(
    readonly box: DieBox,
    readonly grid: Grid,
    zones: readonly Tile[],
    bands: number,
    spacing: number,
    seed: number,
  ) {
    this.#space = flightSpace(box, lookupOf(box, zones), grid, spacing);
    this.#zones = zones;
    this.#bands = bands;
    this.#seed = seed;
  }

  /** Area of the bands [m²]. */
  get bandArea(): number {
    return this.#ofBands.reduce((sum, { area }) => sum + areaOf(area), 0);
  }

  /** Contacts cut into tiles: those that stay as in the zones. @throws FieldError as `tilesOf` @internal */
  tiles(contacts: readonly FaceContact[]): Tile[] {
    return tilesOf(this.box, contacts, undefined, (tile) => isWithin(tile, this.#ofBands));
  }

  /** Contacts to be flown to. @internal */
  targets(tiles: readonly Tile[], mostFlights: number): Targets {
    return {
      tiles,
      lookup: lookupOf(this.box, tiles),
      faces: Int32Array.from(this.#zones, ({ face }) => face),
      bands: this.#bands,
      isMoving: Uint8Array.from(tiles, (tile) => Number(isWithin(tile, this.#ofBands))),
      mostFlights,
    };
  }

  get #ofBands(): readonly Tile[] {
    return this.#zones.slice(0, this.#bands);
  }

  /**
   * One shard of the phonons of every tile.
   * @param each - from a tile that does not move
   * @param ofBands - from all bands together
   * @internal
   */
  fromTiles(targets: Targets, each: number, ofBands: number, shard: number): Flown {
    const { tiles, isMoving } = targets;
    const flown = nothingFlown(tiles.length, tiles.length, this.grid.cells);
    const sobol = (way: number) =>
      new Sobol(tileDimensions, random(this.#seed, shard * streamsOfShard + way));
    if (isMoving.includes(1)) {
      const points = new Sobol(
        startDimensions,
        random(this.#seed, shard * streamsOfShard + streamsOfShard - 1),
      );
      const source = bandsAsSource(this.#ofBands);
      const { trails, starts } = this.#keptTrails("bands", ofBands, shard, -1, (at, count) => {
        startFromSource(this.box, source, points, at, count);
      });
      const ways = Int32Array.from({ length: ofBands }, (_, ray) => {
        const tile = tileAt(targets.lookup, 5, starts[6 * ray]!, starts[6 * ray + 1]!);
        return tile >= 0 && isMoving[tile] === 1 ? tile : -1;
      });
      trails.follow(targets, { count: ofBands, ways, leaves: leavesOfBand }, flown);
    }
    tiles.forEach((tile, t) => {
      if (isMoving[t] === 1) return;
      const way = this.#zones.findIndex((zone) => sameTile(zone, tile)) + 1;
      if (way === 0)
        throw new Error("flights: a contact is neither in a band nor where one stays.");
      const points = sobol(way);
      const write = (at: Float64Array, count: number) => {
        startFromTile(this.box, tile, points, at, 0, count);
      };
      this.#follow(targets, flown, t, `tile ${way}`, each, shard, way, write);
    });
    return flown;
  }

  /** One shard of the phonons of a source. @internal @param key - the same for the same source */
  fromSource(targets: Targets, source: Source, key: string, count: number, shard: number): Flown {
    const flown = nothingFlown(1, targets.tiles.length, this.grid.cells);
    const points = new Sobol(startDimensions, random(this.#seed, shard * streamsOfShard));
    this.#follow(targets, flown, 0, key, count, shard, 0, (at, some) => {
      startFromSource(this.box, source, points, at, some);
    });
    return flown;
  }

  /** Phonons that start alike, to the first contact; kept where bands let contacts move. */
  #follow(
    targets: Targets,
    flown: Flown,
    way: number,
    key: string,
    count: number,
    shard: number,
    stream: number,
    write: (starts: Float64Array, count: number) => void,
  ): void {
    const follow = (trails: Trails, some: number) => {
      const ways = new Int32Array(some).fill(way);
      trails.follow(targets, { count: some, ways, leaves: 0 }, flown);
    };
    if (this.#bands > 0) {
      follow(this.#keptTrails(key, count, shard, stream, write).trails, count);
      return;
    }
    const own = this.#ownStream(shard, stream);
    for (let done = 0; done < count; done += together) {
      const some = Math.min(together, count - done);
      follow(new Trails(this.#space, some, (starts) => write(starts, some), own), some);
    }
  }

  #ownStream(shard: number, stream: number) {
    return random(this.#seed, ownStreams + shard * streamsOfShard + 1 + stream);
  }

  #keptTrails(
    key: string,
    count: number,
    shard: number,
    stream: number,
    write: (starts: Float64Array, count: number) => void,
  ): Kept {
    const name = `${shard} ${key}`;
    let found = this.#kept.get(name);
    if (!found || found.trails.count < count) {
      // More of them begin with the same ones.
      const starts = new Float64Array(6 * count);
      write(starts, count);
      const trails = new Trails(
        this.#space,
        count,
        (at) => at.set(starts),
        this.#ownStream(shard, stream),
      );
      found = { trails, starts: key === "bands" ? starts : new Float64Array(0) };
    }
    this.#kept.delete(name);
    this.#kept.set(name, found);
    if (this.#kept.size > mostKept) this.#kept.delete(this.#kept.keys().next().value!);
    return found;
  }
}

/** Trails that are kept of one die: those of bands and a few sources and contacts, in all shards. */
const mostKept = 12 * shardCount;

const sameTile = (one: Tile, other: Tile) =>
  one.face === other.face &&
  (["left", "right", "bottom", "top"] as const).every((end) => one.area[end] === other.area[end]);

/** Whether bands, which do not overlap, hold all of a tile. */
function isWithin({ face, area }: Tile, bands: readonly Tile[]): boolean {
  const held = bands.reduce((sum, band) => {
    const shared = band.face === face && overlapOf(area, band.area);
    return shared ? sum + areaOf(shared) : sum;
  }, 0);
  return held > (1 - 1e-6) * areaOf(area);
}

function bandsAsSource(bands: readonly Tile[]): Source {
  const areas = bands.map(({ area }) => areaOf(area));
  const sum = areas.reduce((total, area) => total + area, 0);
  let reached = 0;
  const upTo = Float64Array.from(areas, (area) => {
    reached += area;
    return reached / sum;
  });
  upTo[upTo.length - 1] = 1;
  return { rectangles: bands.map(({ area }) => area), upTo, depth: "front" };
}

/** Flights of a phonon from one zone to the next, for each mark of the map; and the least and most between marks. */
const flightsOfMark = { each: 1 / 8, least: 0.5, most: 8 };

/**
 * Paths in a die in which contacts may be.
 * @param bands - on the front: rectangles that hold those of the contacts that move
 * @param contacts - that stay where they are
 * @throws FieldError for a size, a share or a contact that makes no sense
 */
export function pathsOf(
  options: FlightOptions,
  bands: readonly Rectangle[],
  contacts: readonly FaceContact[],
  field = "die",
): FlightPaths {
  const box = new DieBox(options, field);
  const [width, length] = [box.sides[0]!, box.sides[1]!];
  const { cells = 32, cellsX, cellsY, seed = 1 } = options;
  const grid = gridOf({ width, length, cells, cellsX, cellsY }, field);
  const ofBands = bands.map(
    (area): Tile => ({ contact: -1, face: 5, area: box.onFace(area, 5, field) }),
  );
  const zones = [
    ...ofBands,
    ...(bands.length > 0 && contacts.length === 0
      ? []
      : tilesOf(box, contacts, undefined, (tile) => isWithin(tile, ofBands))),
  ];
  const area = tileAreas(zones).reduce((sum, each) => sum + each, 0);
  const { each, least, most } = flightsOfMark;
  const between = Math.min(most, Math.max(least, each * flightsToCome(box, area)));
  const spacing = (between * 4 * box.volume) / box.surface;
  return new FlightPaths(box, grid, zones, bands.length, spacing, seed);
}

/**
 * About how many flights a phonon takes: to find contacts of this area among all walls, and to diffuse to
 * them along the die, in a plate by Fuchs's length (as `plateMeanFreePath`) beside that in the bulk.
 */
export function flightsToCome(box: DieBox, area: number): number {
  const [width, length, thickness] = box.sides as unknown as [number, number, number];
  const mirror = (box.specularity[4]! + box.specularity[5]!) / 2;
  const side = Math.max(width, length);
  const plate = 0.75 * thickness * Math.log(1 + side / thickness) * ((1 + mirror) / (1 - mirror));
  const along = 0.375 * side ** 2 * (1 / plate + 1 / box.bulkLength);
  const path = (4 * box.volume) / area + along;
  return path * (box.surface / (4 * box.volume) + 1 / box.bulkLength);
}
