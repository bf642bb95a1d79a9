/**
 * The 2-D dies of a merged mount from sample to sample: their laws and loads, and what their hottest and
 * coldest points are.
 * @module
 */
import type { Conductor } from "../../conductor.js";
import type { SteadyNetwork } from "../../network/steady.js";
import { conductionLaw, type TemperatureLaw } from "../../numerics/temperature-law.js";
import type { PlacedLaw } from "../../ranges.js";
import type { MergedDie, MergedMount } from "./merged-mount.js";

/** By how much of the die's rise a place may be below what cools it before the whole model is asked. */
const cutBeyond = 1e-3;
/** Steps from the state at the medians; where these are not enough, the whole model is asked. */
const mostSteps = 60;

/** A 2-D die whose law and loads change. */
export class FastDie {
  /** Hottest and coldest point [K]. */
  hottest = Number.NaN;
  coldest = Number.NaN;
  readonly #nodes: Int32Array;
  readonly #beside: Int32Array;
  readonly #outflow: Float64Array;
  readonly #units: readonly Float64Array[];
  readonly #theta: Float64Array;
  /** Heat into the die at each contact of a class; then the power of each load [W]. */
  readonly #sources: Float64Array;
  readonly #contacts: number;
  #law: TemperatureLaw;
  #low = 0;
  #high = Number.POSITIVE_INFINITY;

  constructor(
    readonly merged: MergedDie,
    private readonly network: SteadyNetwork,
    private readonly body: number,
  ) {
    const { terminals, sizes, outflows, beside, law, powers } = merged;
    const node = (name: string) => network.nodeNames.indexOf(name);
    this.#nodes = Int32Array.from(terminals, node);
    this.#beside = Int32Array.from(beside, node);
    this.#units = [...outflows.values()];
    this.#outflow = new Float64Array(terminals.length);
    this.#theta = new Float64Array(terminals.length);
    this.#sources = new Float64Array(terminals.length + outflows.length);
    this.#contacts = sizes.reduce((sum, each) => sum + each, 0);
    this.#law = conductionLaw(law);
    this.heat(powers);
    this.law = law;
  }

  /** Θ of a square [W]. */
  set law(law: Conductor) {
    this.#law = conductionLaw(law);
    const { admittance } = this.merged;
    this.network.setBody(this.body, { law, admittance, outflow: this.#outflow });
  }

  /** Takes the power of each load [W]. */
  heat(powers: readonly number[]): void {
    const n = this.#nodes.length;
    this.#outflow.fill(0);
    for (let m = 0; m < powers.length; m++) {
      this.#sources[n + m] = powers[m]!;
      const unit = this.#units[m]!;
      for (let a = 0; a < n; a++) this.#outflow[a]! += powers[m]! * unit[a]!;
    }
  }

  /** Narrows the temperatures between which the law was checked [K]. */
  limitTo(low: number, high: number): void {
    this.#low = Math.max(this.#low, low);
    this.#high = Math.min(this.#high, high);
  }

  /** Finds the extremes in the state of the network; false where the whole model is to be asked. */
  read(): boolean {
    const { admittance, sizes, extremes } = this.merged;
    const { temperatures } = this.network;
    const theta = this.#theta;
    const n = theta.length;
    const law = this.#law;
    let level = 0;
    for (let a = 0; a < n; a++) {
      theta[a] = law.value(temperatures[this.#nodes[a]!]!);
      level += (sizes[a]! / this.#contacts) * theta[a]!;
    }
    for (let a = 0, at = 0; a < n; a++) {
      let heat = -this.#outflow[a]!;
      for (let b = 0; b < n; b++, at++) heat += admittance[at]! * (theta[b]! - theta[a]!);
      this.#sources[a] = heat / sizes[a]!;
    }
    extremes.find(level, this.#sources);
    const { highest, lowest } = extremes;
    let beside = Number.POSITIVE_INFINITY;
    for (let k = 0; k < this.#beside.length; k++) {
      beside = Math.min(beside, temperatures[this.#beside[k]!]!);
    }
    const least = law.value(beside);
    const below = least - lowest;
    if (below > cutBeyond * (Math.max(highest, least) - least) && below > 1e-9 * Math.abs(least)) {
      return false;
    }
    const near = temperatures[this.#nodes[0]!]!;
    this.hottest = law.temperature(highest, near);
    this.coldest = law.temperature(lowest, near);
    return this.coldest >= this.#low && this.hottest <= this.#high;
  }
}

/** The dies of a merged mount in its network. */
export class FastSheet {
  readonly dies: readonly FastDie[];
  /** Places that a law meets, and their lowest and highest temperatures [K]. */
  readonly places: readonly string[];
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** Nodes of each place; of a die's hottest point −1 and the number of the die. */
  readonly #nodes: readonly Int32Array[];
  readonly #start: Float64Array;
  /** Whether the medians have a steady state that needs no whole model. */
  readonly isSound: boolean;

  /**
   * @param network - the merged one, at the medians
   * @param laws - that are held against their ranges
   */
  constructor(
    merged: MergedMount,
    private readonly network: SteadyNetwork,
    laws: readonly PlacedLaw[],
  ) {
    this.dies = merged.dies.map((die, d) => new FastDie(die, network, d));
    const isSolved = network.trySolve();
    this.#start = network.temperatures.slice(0, network.freeCount);
    this.places = [...new Set(laws.flatMap(({ nodes }) => nodes))];
    this.low = new Float64Array(this.places.length);
    this.high = new Float64Array(this.places.length);
    this.#nodes = this.places.map((place) => {
      const die = merged.dies.findIndex(({ chip }) => chip === place);
      if (die >= 0) return Int32Array.of(-1, die);
      const names = merged.nodesOf.get(place) ?? [place];
      return Int32Array.from(names, (name) => network.nodeNames.indexOf(name));
    });
    this.isSound = isSolved && this.read();
  }

  /** Temperature of the hottest point of the mount's own die [K]. */
  get chip(): number {
    return this.dies[0]!.hottest;
  }

  /** Solves from the state at the medians. */
  trySolve(): boolean {
    this.network.temperatures.set(this.#start);
    return this.network.trySolve(mostSteps, "present");
  }

  /** Reads extremes and places after a solve; false where the whole model is to be asked. */
  read(): boolean {
    for (let d = 0; d < this.dies.length; d++) if (!this.dies[d]!.read()) return false;
    const { temperatures } = this.network;
    const [low, high] = [this.low, this.high];
    for (let p = 0; p < low.length; p++) {
      const nodes = this.#nodes[p]!;
      if (nodes[0] === -1) {
        const die = this.dies[nodes[1]!]!;
        low[p] = die.coldest;
        high[p] = die.hottest;
        continue;
      }
      low[p] = Number.POSITIVE_INFINITY;
      high[p] = 0;
      for (let k = 0; k < nodes.length; k++) {
        const T = temperatures[nodes[k]!]!;
        if (T < low[p]!) low[p] = T;
        if (T > high[p]!) high[p] = T;
      }
    }
    return true;
  }
}
