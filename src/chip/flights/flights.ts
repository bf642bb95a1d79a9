/**
 * A die in which phonons fly from wall to wall, condensed to its contacts.
 *
 * Where phonons scatter at the walls only, and alike at all frequencies, what contacts exchange is linear
 * in T⁴, as the heat radiation between grey walls is: heat from contact i into the die is
 *   Σⱼ Yᵢⱼ Θ(Tⱼ) − sᵢ,  Θ = σ S T⁴,  σ = π²k_B⁴/(120ħ³) Σ 1/c²,
 * with S the area of the front. So it is a condensed body as a sheet is. Y comes from phonons that leave
 * the contacts, s and the temperature of each place from those that leave a heat source: with the length
 * ℓ that they fly in a cell of volume V, P of it there is a rise of T⁴ by P ℓ/(4σV). Black contacts are
 * flown to; other transmissions and other powers follow without new flights.
 *
 * Not included: scattering that depends on frequency, films that keep the angle of what they reflect,
 * focusing of phonons along axes of the crystal. The file is beyond the usual length, since what one flight
 * leaves in arrays is read by all that follows from it.
 * @module
 */
import type { CondensedBody, Conductor } from "../../conductor.js";
import { FieldError } from "../../units/errors.js";
import {
  type CondensedDie,
  type NetworkSolution,
  type PlaceInfluence,
  terminalValues,
} from "../condensed-die.js";
import { addTimes, heatInto } from "../contact-means.js";
import { SheetField } from "../field.js";
import type { Grid } from "../grid.js";
import { asShare, type MapShare, type PowerMap, sameMap } from "../power-map.js";
import type { DieBox, FlightOptions } from "./box.js";
import { exchangeScatter, keptShard, reachScatter, type ShardOfTiles } from "./chance.js";
import { blackAdmittance, Exchange, type ExchangeTiles } from "./exchange.js";
import { type FaceContact, type Tile, tileAreas } from "./face-contacts.js";
import { addFlown, type Flown, lengthsOfMarks, type Targets } from "./flown.js";
import { type FlightPaths, flightsToCome, leavesOfBand, pathsOf, shardCount } from "./shards.js";
import { type SmoothMap, smoothMap, standardError } from "./smooth-map.js";
import { type Source, type SourceDepth, sourceOf } from "./starts.js";

const usualRays = 2 ** 16;
const fewestRays = 2 ** 11;
/** Where one of many is flown: below it those from the contacts take most of the time. */
const fewestOfMany = 2 ** 13;
/** That leave a tile in a band, in the mean of all shards together. */
const fewestOfTile = 64;
/** Flights after which fewer rays must do: some ten seconds. */
const mostFlightsOfAll = 2e8;
/** Mean flights of one phonon from which on a die is refused: the smallest number of rays would take a minute. */
const mostOfOne = 3e5;
/** Bound on the flights of one phonon, in multiples of what it takes in the mean: e⁻³⁰⁰ reach it. */
const mostOfMean = 300;

/** The phonons of all contacts: what became of them in each shard. */
interface FromContacts {
  readonly sum: Flown;
  readonly shards: readonly ShardOfTiles[];
}

/** What the phonons of a heat source of 1 W tell. */
export interface SourceFlights {
  /** Share that meets each tile first; sums to 1. */
  readonly met: Float64Array;
  /** The same of each shard. */
  readonly shards: readonly Float64Array[];
  /** Θ above black contacts at 0 K, by cell [W]. */
  readonly rise: SmoothMap;
  /** Mean length flown until a contact is met [m]. */
  readonly meanPath: number;
  /** Its standard error [m]. */
  readonly meanPathError: number;
  /** Mean number of flights from wall to wall. */
  readonly flights: number;
  /** Phonons that were flown. */
  readonly rays: number;
}

/** A die of flights under its heat load. */
export interface FlightBody extends CondensedBody {
  readonly exchange: Exchange;
  /** Heat that black tiles would get [W]. */
  readonly met: Float64Array;
  /** Each source and its power [W]. */
  readonly sources: readonly { readonly times: number; readonly flights: SourceFlights }[];
}

/** The die, its contacts and the phonons flown so far. */
export class Flights implements CondensedDie<FlightBody> {
  readonly box: DieBox;
  /** Cells of the temperature map. */
  readonly grid: Grid;
  /** Names of the contacts in the order of Y and s: the body's terminals. */
  readonly terminals: readonly string[];
  readonly tiles: readonly Tile[];
  /** Phonons that start from each source. */
  readonly rays: number;
  /** Phonons that start from each tile. */
  readonly raysOfTile: number;
  readonly #paths: FlightPaths;
  readonly #targets: Targets;
  /** Phonons of a shard that start from bands. */
  readonly #ofBands: number;
  readonly #exchangeTiles: ExchangeTiles;
  readonly #contactShards: (Flown | undefined)[] = [];
  #contacts: FromContacts | undefined;
  #black: Exchange | undefined;
  #reach: Float64Array | undefined;
  readonly #sources: { readonly map: PowerMap; depth: SourceDepth; flights: SourceFlights }[] = [];

  /**
   * @param paths - phonons flown already in the same die, with these contacts or others in the same bands;
   * none when absent
   * @throws FieldError for a size, a share, a contact or a number of rays that makes no sense
   */
  constructor(
    options: FlightOptions,
    contacts: readonly FaceContact[],
    field = "die",
    paths?: FlightPaths,
  ) {
    const { rays = usualRays } = options;
    if (!(Number.isInteger(rays) && rays >= shardCount && rays <= 2 ** 26)) {
      throw new FieldError(`${field}.rays`, `a whole number from ${shardCount} to 67108864`, rays);
    }
    this.#paths = paths ?? pathsOf(options, [], contacts, field);
    const { box, grid } = this.#paths;
    this.box = box;
    this.grid = grid;
    const [width, length] = [box.sides[0]!, box.sides[1]!];
    this.tiles = this.#paths.tiles(contacts);
    this.terminals = contacts.map(({ name }) => name);
    const areas = tileAreas(this.tiles);
    const area = areas.reduce((sum, each) => sum + each, 0);
    const mean = flightsToCome(box, area);
    if (mean > mostOfOne) {
      const wanted = `one whose phonons come to a contact within some ${mostOfOne} flights, or a sheet`;
      throw new FieldError(field, wanted, `a die where they take about ${mean.toPrecision(1)}`);
    }
    const affordable = Math.max(fewestRays, mostFlightsOfAll / mean);
    const powerOf2 = (count: number) => 2 ** Math.max(0, Math.floor(Math.log2(count)));
    const all = options.rays ?? Math.min(usualRays, affordable);
    const some = Math.max(all / (options.oneRayOf ?? 1), Math.min(all, fewestOfMany));
    const ofShard = powerOf2(some / shardCount);
    this.rays = shardCount * ofShard;
    this.raysOfTile = shardCount * Math.max(2, powerOf2(ofShard / 4 / this.tiles.length));
    this.#exchangeTiles = {
      contacts: this.tiles.map(({ contact }) => contact),
      areas,
      unit: width * length,
      count: contacts.length,
    };
    this.#targets = this.#paths.targets(this.tiles, Math.ceil(1e4 + mostOfMean * mean));
    const { isMoving } = this.#targets;
    const least = Math.min(...areas.filter((_, t) => isMoving[t] === 1));
    const ofTile = fewestOfTile / (options.oneRayOf ?? 1);
    const fewest = (ofTile * this.#paths.bandArea) / least / leavesOfBand;
    const wanted = Math.max(this.rays / 8, Number.isFinite(least) ? fewest : 0);
    this.#ofBands = 2 ** Math.ceil(Math.log2(wanted / shardCount));
  }

  /** Area that Y is counted in, that of the front [m²]. */
  get unit(): number {
    return this.#exchangeTiles.unit;
  }

  /**
   * Flies one shard of the contacts' phonons, 0 to 15, to be given to another die of the same options by
   * `take`, from any thread.
   */
  flyShard(shard: number): Flown {
    const each = this.raysOfTile / shardCount;
    return this.#paths.fromTiles(this.#targets, each, this.#ofBands, shard);
  }

  /** Takes a shard that was flown elsewhere. */
  take(shard: number, flown: Flown): void {
    this.#contactShards[shard] = flown;
  }

  /** What contacts of these transmissions exchange. @param transmissions - by contact; all 1 when absent */
  exchange(transmissions?: readonly number[]): Exchange {
    if (transmissions?.some((share) => share !== 1)) {
      transmissions.forEach((share, i) => {
        if (share > 0 && share <= 1) return;
        const name = this.terminals[i]!;
        throw new FieldError(`${name}.transmission`, "a share above 0 and at most 1", share);
      });
      return new Exchange(this.#fly().black, this.#exchangeTiles, transmissions);
    }
    this.#black ??= new Exchange(
      this.#fly().black,
      this.#exchangeTiles,
      this.terminals.map(() => 1),
    );
    return this.#black;
  }

  /** Standard errors of an exchange's Y, row by row. */
  exchangeErrors(transmissions?: readonly number[]): Float64Array {
    const { shards } = this.#fly();
    const each = shards.map((own) => {
      const black = this.#admittance(own);
      return new Exchange(black, this.#exchangeTiles, transmissions ?? this.terminals.map(() => 1))
        .admittance;
    });
    return each[0]!.map((_, i) => standardError(each.map((own) => own[i]!)));
  }

  /** Flights of a heat source, flown when it is first asked for. @throws FieldError for a wrong map */
  source(map: PowerMap, field = "power", depth: SourceDepth = "front"): SourceFlights {
    const known = this.#sources.find((own) => own.depth === depth && sameMap(own.map, map));
    if (known) return known.flights;
    const { source } = sourceOf(this.box, map, depth, field);
    const flights = this.#flySource(source, JSON.stringify([depth, { ...map, power: 1 }]));
    this.#sources.push({ map: structuredClone(map), depth, flights });
    if (this.#sources.length > 16) this.#sources.shift();
    return flights;
  }

  /**
   * The body for a network. A map of which only the power or the number of times has changed needs no new
   * flights.
   * @param law - Θ = σ S T⁴
   * @param depth - where the heat of its maps becomes phonons
   * @throws FieldError for a wrong map
   */
  body(
    law: Conductor,
    power: PowerMap | readonly (PowerMap | MapShare)[],
    exchange: Exchange = this.exchange(),
    depth: SourceDepth = "front",
  ): FlightBody {
    const shares =
      "kind" in power
        ? [asShare(power, "power")]
        : power.map((each, i) => ("map" in each ? each : asShare(each, `power[${i}]`)));
    const met = new Float64Array(this.tiles.length);
    const sources = shares
      .filter(({ times }) => times !== 0)
      .map(({ map, times, field }) => {
        const { source, power: own } = sourceOf(this.box, map, depth, field);
        if (!Number.isFinite(times)) throw new FieldError(field, "a finite number of times", times);
        if (source.upTo.length === 0) return undefined;
        const flights = this.source(map, field, depth);
        addTimes(met, flights.met, own * times);
        return { times: own * times, flights };
      })
      .filter((each) => each !== undefined);
    const { admittance } = exchange;
    return { law, admittance, outflow: exchange.outflow(met), exchange, met, sources };
  }

  /**
   * Share of the phonons at a cell that come from each tile, by tile and cell: the other way round, phonons
   * of the tile that are there. Of each cell they sum to 1.
   */
  get reach(): Float64Array {
    if (this.#reach) return this.#reach;
    const { sum } = this.#fly();
    const { cells } = this.grid;
    const { areas } = this.#exchangeTiles;
    const reach = lengthsOfMarks(sum, cells);
    const weights = areas.map((area, t) => (sum.starts[t]! > 0 ? area / sum.starts[t]! : 0));
    for (let c = 0; c < cells; c++) {
      let total = 0;
      for (let t = 0; t < areas.length; t++) total += weights[t]! * reach[t * cells + c]!;
      for (let t = 0; t < areas.length; t++) {
        const part = total > 0 ? (weights[t]! * reach[t * cells + c]!) / total : 1 / areas.length;
        reach[t * cells + c] = part;
      }
    }
    this.#reach = reach;
    return reach;
  }

  /** Share of the phonons at each cell that come from a contact, by its number. */
  influences(contact: number): Float64Array {
    const { cells } = this.grid;
    const sum = new Float64Array(cells);
    this.tiles.forEach((tile, t) => {
      if (tile.contact === contact)
        addTimes(sum, this.reach.subarray(t * cells, (t + 1) * cells), 1);
    });
    return sum;
  }

  /** The temperature of every place [K], from what a network solver found at the contacts. */
  field(body: FlightBody, temperatures: ArrayLike<number>): SheetField {
    const { cells } = this.grid;
    const theta = new Float64Array(cells);
    const own = Float64Array.from(this.terminals, (_, i) => body.law.integral(temperatures[i]!));
    const leaving = body.exchange.leaving(own, body.met);
    const { reach } = this;
    for (let t = 0; t < leaving.length; t++) {
      addTimes(theta, reach.subarray(t * cells, (t + 1) * cells), leaving[t]!);
    }
    for (const { times, flights } of body.sources) addTimes(theta, flights.rise.cells, times);
    return new SheetField(this.grid, body.law, theta, 0, temperatures[0]!);
  }

  /**
   * The same from a network's solution: contacts are found by their names.
   * @param name - of the body in the network
   * @throws FieldError when the solution has no such contact
   */
  fieldOf(body: FlightBody, solution: NetworkSolution, name: string): SheetField {
    return this.field(body, terminalValues(solution.temperatures, this.terminals, name));
  }

  /**
   * Influence of black contacts on a place of the die: Θ = Σ aₚ Θₚ + b.
   * @param weights - of the cells, which sum to 1
   */
  influence(weights: Float64Array): PlaceInfluence<FlightBody> {
    const shares = new Float64Array(this.terminals.length);
    this.#reachTo(weights).forEach((share, t) => {
      const { contact } = this.tiles[t]!;
      shares[contact] = shares[contact]! + share;
    });
    return {
      shares,
      own: ({ sources }) =>
        sources.reduce(
          (sum, { times, flights }) => sum + times * weighted(flights.rise.cells, weights),
          0,
        ),
    };
  }

  /**
   * How far each shard puts Θ of a place off, to first order, but for a number that all share: by the
   * phonons of the heat sources, and by those from contact to contact (see chance.ts) [W]. Its standard error
   * is that of the mean of these.
   * @param temperatures - of the contacts, in the steady state [K]
   * @param gains - change of Θ of the place by one more watt on the node of each contact, in its network
   * @param weights - of the cells, which sum to 1, for a place on this die
   */
  scatter(
    body: FlightBody,
    temperatures: ArrayLike<number>,
    gains: ArrayLike<number>,
    weights?: Float64Array,
  ): number[] {
    const { shards, sum, black } = this.#fly();
    const { areas, unit } = this.#exchangeTiles;
    const { exchange, law, met, sources } = body;
    const flown = { sum, shards, areas };
    const theta = Float64Array.from(this.terminals, (_, i) => law.integral(temperatures[i]!));
    const leaving = exchange.leaving(theta, met);
    const reached = weights ? this.#reachTo(weights) : new Float64Array(areas.length);
    const ofTiles = exchange.leaving(gains, reached);
    const all = exchangeScatter(flown, black, unit, ofTiles, leaving);
    if (weights) addTimes(all, reachScatter(flown, this.reach, weights, leaving), 1);
    for (const { times, flights } of sources) {
      addTimes(
        all,
        flights.shards.map((own) => weighted(own, ofTiles)),
        times,
      );
      if (weights) addTimes(all, flights.rise.scatterOf(weights), times);
    }
    return all;
  }

  /** Heat into the body at its contacts [W]. */
  heat(body: FlightBody, temperatures: ArrayLike<number>): Float64Array {
    return heatInto(body, temperatures);
  }

  /** Share of the phonons at a place that come from each tile. */
  #reachTo(weights: Float64Array): Float64Array {
    const { cells } = this.grid;
    return Float64Array.from(this.tiles, (_, t) =>
      weighted(this.reach.subarray(t * cells, (t + 1) * cells), weights),
    );
  }

  #admittance({ counts, starts }: Pick<Flown, "counts" | "starts">): Float64Array {
    const { areas, unit } = this.#exchangeTiles;
    return blackAdmittance(
      counts,
      areas.map((area, t) => starts[t]! / area),
      unit,
    );
  }

  #fly(): FromContacts & { readonly black: Float64Array } {
    if (!this.#contacts) {
      let sum: Flown | undefined;
      const shards: ShardOfTiles[] = [];
      for (let shard = 0; shard < shardCount; shard++) {
        const flown = this.#contactShards[shard] ?? this.flyShard(shard);
        this.#refuseCaught(flown);
        shards.push(keptShard(flown));
        if (sum) addFlown(sum, flown);
        else sum = structuredClone(flown);
      }
      this.#contactShards.length = 0;
      this.#contacts = { sum: sum!, shards };
    }
    return { ...this.#contacts, black: this.#admittance(this.#contacts.sum) };
  }

  #flySource(source: Source, key: string): SourceFlights {
    const each = this.rays / shardCount;
    const met = new Float64Array(this.tiles.length);
    const shards: Float64Array[] = [];
    const maps: Float64Array[] = [];
    const paths: number[] = [];
    let flights = 0;
    // Phonons of 1 W heat a cell of volume V, in which they fly ℓ, by ℓ/(4V) of S.
    const [cellWidth, cellLength] = [this.grid.cellWidth, this.grid.cellLength];
    const scale = this.unit / (4 * cellWidth * cellLength * this.box.sides[2]! * each);
    for (let shard = 0; shard < shardCount; shard++) {
      const flown = this.#paths.fromSource(this.#targets, source, key, each, shard);
      this.#refuseCaught(flown);
      addTimes(met, flown.counts, 1 / this.rays);
      shards.push(flown.counts.map((count) => count / each));
      maps.push(lengthsOfMarks(flown, this.grid.cells).map((length) => length * scale));
      paths.push(flown.paths[0]! / each);
      flights += flown.flights / this.rays;
    }
    return {
      met,
      shards,
      rise: smoothMap(this.grid, maps),
      meanPath: paths.reduce((sum, path) => sum + path, 0) / shardCount,
      meanPathError: standardError(paths),
      flights,
      rays: this.rays,
    };
  }

  #refuseCaught({ caught, starts }: Flown): void {
    if (caught === 0) return;
    const share = (100 * caught) / starts.reduce((sum, each) => sum + each, 0);
    throw new FieldError(
      "die.specularity",
      "faces from which every phonon comes to a contact, such as any below 1 (a share of 1 leaves " +
        "orbits that meet none)",
      `${share.toPrecision(2)} % of the phonons caught, after ${this.#targets.mostFlights} flights`,
    );
  }
}

function weighted(cells: Float64Array, weights: Float64Array): number {
  let sum = 0;
  for (let c = 0; c < cells.length; c++) sum += weights[c]! * cells[c]!;
  return sum;
}
