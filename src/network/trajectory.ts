/**
 * What a run in time returns: the course of every temperature, recorded step by step.
 * @module
 */
import { rodas5p } from "../numerics/rosenbrock.js";
import type { TemperatureLaw } from "../numerics/temperature-law.js";
import { FieldError, UnknownNameError } from "../units/errors.js";

/** Heat balance of a run [J]. */
export interface EnergyBalance {
  /** By loads, condensed bodies and pulses. */
  readonly given: number;
  /** Into the fixed nodes, less what came from them. */
  readonly out: number;
  /** Rise of the heat stored in the nodes. */
  readonly stored: number;
  /** given − out − stored, in parts of the largest of them and of the heat that crossed the fixed nodes. */
  readonly imbalance: number;
}

/** A passage of a threshold temperature. */
export interface Crossing {
  /** Node, by its name. */
  readonly node: string;
  /** Temperature passed [K]. */
  readonly temperature: number;
  /** When [s]; that of the pulse where a pulse led across. */
  readonly time: number;
  /** Whether it became warmer. */
  readonly rising: boolean;
}

/** A run in time. */
export interface TransientSolution {
  /** Whether it reached its end. */
  readonly status: "finished" | "stopped";
  /** How it ended, in a sentence. */
  readonly message: string;
  /** Steps taken. */
  readonly steps: number;
  /** Steps rejected for their error. */
  readonly rejected: number;
  /** Nodes, by their names. */
  readonly nodes: readonly string[];
  /** Ends of the steps, from 0 on [s]; a time of a jump stands twice, before and after it. */
  readonly times: Float64Array;
  /** Temperature of a node at `times` [K]. */
  temperatures(node: string): Float64Array;
  /** Lowest and highest temperature of a node at `times` [K]. */
  extent(node: string): readonly [low: number, high: number];
  /** Temperature of a node at any time of the run, between the steps too [K]; at a jump, after it. */
  temperature(node: string, time: number): number;
  /** Temperatures of all nodes at any time of the run [K]; at a jump, after it. */
  at(time: number): ReadonlyMap<string, number>;
  /** Heat balance of the run [J]. */
  readonly energy: EnergyBalance;
  /** The same up to a time of the run. */
  energyAt(time: number): EnergyBalance;
  /** In the order of time. */
  readonly crossings: readonly Crossing[];
}

/** Nodes of a trajectory, for reading temperatures from its numbers. */
export interface TrajectoryNodes {
  readonly names: readonly string[];
  readonly freeCount: number;
  /** By free node; the number of one that stores nothing is the temperature itself. */
  readonly stores: readonly (TemperatureLaw | undefined)[];
  /** By fixed node, in time [K]. */
  readonly fixed: readonly ((time: number) => number)[];
}

/**
 * Records of a run, one for each step and one for each start or jump. A record holds the unknowns at
 * its end (enthalpies or temperatures of the free nodes, heat out, given and crossed) and the three vectors
 * of the dense output.
 */
export class Trajectory {
  /** Unknowns of a record: the free nodes, then heat that went out, was given, and crossed [J]. */
  readonly width: number;
  readonly #recordWidth: number;
  readonly #nodes: TrajectoryNodes;
  readonly #index: ReadonlyMap<string, number>;
  #count = 0;
  /** End of each record, and its length; 0 for a start [s]. */
  #ends: Float64Array = new Float64Array(64);
  #lengths: Float64Array = new Float64Array(64);
  #values: Float64Array;

  constructor(nodes: TrajectoryNodes) {
    this.#nodes = nodes;
    this.#index = new Map(nodes.names.map((name, i) => [name, i]));
    this.width = nodes.freeCount + 3;
    this.#recordWidth = 4 * this.width;
    this.#values = new Float64Array(64 * this.#recordWidth);
  }

  /** Records the state at the start of a segment. */
  start(time: number, state: Float64Array): void {
    this.#add(time, 0, state);
  }

  /**
   * Records a step.
   * @param stages - U of every stage, unknown by unknown
   */
  step(end: number, length: number, state: Float64Array, stages: Float64Array): void {
    const to = this.#add(end, length, state);
    const { width } = this;
    const values = this.#values;
    const { dense, stages: count } = rodas5p;
    for (let i = to + width, u = 0; u < stages.length; i++) {
      let first = 0;
      let second = 0;
      let third = 0;
      for (let s = 0; s < count; s++, u++) {
        const U = stages[u]!;
        first += dense[s]! * U;
        second += dense[count + s]! * U;
        third += dense[2 * count + s]! * U;
      }
      values[i] = first;
      values[i + width] = second;
      values[i + 2 * width] = third;
    }
  }

  /** Unknown at a place θ, 0 to 1, of the last record, a step. */
  within(unknown: number, theta: number): number {
    return this.#between(this.#count - 1, unknown, theta);
  }

  /** The functions of a solution that read this record. */
  readers(): Pick<
    TransientSolution,
    "times" | "temperatures" | "extent" | "temperature" | "at" | "energyAt"
  > {
    const times = this.#ends.slice(0, this.#count);
    return {
      times,
      temperatures: (name) => {
        const node = this.#find(name);
        let T = 1;
        return times.map((time, record) => {
          T = this.#temperature(node, time, record, 1, T);
          return T;
        });
      },
      extent: (name) => {
        const node = this.#find(name);
        const { freeCount, fixed } = this.#nodes;
        const [values, width] = [this.#values, this.#recordWidth];
        const held = node < freeCount ? undefined : fixed[node - freeCount];
        let [coldest, hottest] = [0, 0];
        let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
        // What a node stores rises with its temperature: the unknowns are compared, and two are turned.
        for (let record = 0; record < times.length; record++) {
          const now = held ? held(times[record]!) : values[record * width + node]!;
          if (now < low) {
            low = now;
            coldest = record;
          }
          if (now > high) {
            high = now;
            hottest = record;
          }
        }
        const at = (record: number) => this.#temperature(node, times[record]!, record, 1);
        return [at(coldest), at(hottest)];
      },
      temperature: (name, time) => this.#temperature(this.#find(name), time, ...this.#locate(time)),
      at: (time) => {
        const [record, theta] = this.#locate(time);
        return new Map(
          this.#nodes.names.map((name, i) => [name, this.#temperature(i, time, record, theta)]),
        );
      },
      energyAt: (time) => this.energyAt(...this.#locate(time)),
    };
  }

  /** Balance up to a place of a record; of the last one's end by default. */
  energyAt(record = this.#count - 1, theta = 1): EnergyBalance {
    const { freeCount, stores } = this.#nodes;
    let [stored, content] = [0, 0];
    for (let node = 0; node < freeCount; node++) {
      if (stores[node] === undefined) continue;
      const now = this.#between(record, node, theta);
      stored += now - this.#values[node]!;
      content += Math.abs(now);
    }
    const out = this.#between(record, freeCount, theta);
    const given = this.#between(record, freeCount + 1, theta);
    // Where nothing moved, rounding of the stored heat is not an imbalance.
    const crossed = this.#between(record, freeCount + 2, theta);
    const largest = Math.max(...[given, out, stored, crossed, 1e-8 * content].map(Math.abs));
    return { given, out, stored, imbalance: largest === 0 ? 0 : (given - out - stored) / largest };
  }

  /** Returns where the record starts among the values. */
  #add(end: number, length: number, state: Float64Array): number {
    if (this.#count === this.#ends.length) {
      this.#ends = doubled(this.#ends);
      this.#lengths = doubled(this.#lengths);
      this.#values = doubled(this.#values);
    }
    this.#ends[this.#count] = end;
    this.#lengths[this.#count] = length;
    const at = this.#count++ * this.#recordWidth;
    this.#values.set(state, at);
    return at;
  }

  #between(record: number, unknown: number, theta: number): number {
    const values = this.#values;
    const at = record * this.#recordWidth + unknown;
    const end = values[at]!;
    if (theta === 1 || this.#lengths[record] === 0) return end;
    let inner = 0;
    for (let v = 3; v > 0; v--) inner = values[at + v * this.width]! + theta * inner;
    const before = values[at - this.#recordWidth]!;
    return before + theta * (end - before + (1 - theta) * inner);
  }

  #temperature(node: number, time: number, record: number, theta: number, guess = 1): number {
    const { freeCount, stores, fixed } = this.#nodes;
    if (node >= freeCount) return fixed[node - freeCount]!(time);
    const value = this.#between(record, node, theta);
    return stores[node]?.temperature(value, guess) ?? value;
  }

  /** The last record that starts at or before a time, and how far along it. */
  #locate(time: number): [record: number, theta: number] {
    const last = this.#count - 1;
    if (!(time >= 0 && time <= this.#ends[last]!)) {
      throw new FieldError("time", `a time of the run, 0 to ${this.#ends[last]} s`, time);
    }
    // Starts of records are in order.
    let [low, high] = [0, last];
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.#startOf(middle) <= time) low = middle;
      else high = middle - 1;
    }
    const length = this.#lengths[low]!;
    if (length === 0) return [low, 1];
    return [low, Math.min(1, (time - this.#startOf(low)) / length)];
  }

  #startOf(record: number): number {
    return this.#lengths[record] === 0 ? this.#ends[record]! : this.#ends[record - 1]!;
  }

  #find(name: string): number {
    const node = this.#index.get(name);
    if (node === undefined) throw new UnknownNameError("node", "node", name, this.#nodes.names);
    return node;
  }
}

function doubled(array: Float64Array): Float64Array {
  const larger = new Float64Array(2 * array.length);
  larger.set(array);
  return larger;
}
