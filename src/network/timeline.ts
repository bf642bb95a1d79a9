/**
 * Inputs of a run in time: pulses, loads and fixed temperatures that change in time, and how far steps
 * may go.
 * @module
 */
import { aList, anObject, wholeNumber } from "../units/checks.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import { positive } from "./description.js";

/** Breaks closer than this are one [s]. */
const instant = 1e-30;
const defaultMaxSteps = 100_000;

/** Heat given to a node at an instant, such as a particle's. */
export interface NetworkPulse {
  /** When [s], from 0, before the end of the run */
  readonly time: number;
  /** A node that stores heat. */
  readonly node: string;
  /** Energy given at once [J], greater than 0 */
  readonly energy: number;
}

/** A load that depends on time, on top of the node's own. */
export interface TimedLoad {
  /** Node, by its name. */
  readonly node: string;
  /** Power [W] at a time [s] and the node's temperature [K] */
  power(time: number, temperature: number): number;
  /** dP/dT [W/K]; when absent, and `power` takes a temperature, found from its differences. */
  slope?(time: number, temperature: number): number;
  /** Times where it jumps or has a kink, rising [s]; between them it is smooth. */
  readonly breaks?: readonly number[];
}

/** A fixed node whose temperature changes in time, such as a stage. */
export interface TimedTemperature {
  /** Node, by its name. */
  readonly node: string;
  /** Temperature [K] at a time [s] */
  temperature(time: number): number;
  /** Times where it jumps or has a kink, rising [s]; between them it is smooth. */
  readonly breaks?: readonly number[];
}

/** A temperature whose crossings are recorded. */
export interface Threshold {
  /** A free node. */
  readonly node: string;
  /** Threshold [K]. */
  readonly temperature: number;
}

/** How to run. */
export interface TransientOptions {
  /** End of the run, which starts at time 0 [s]. */
  readonly duration: number;
  /**
   * Temperatures before the first pulse [K]: of every node that stores heat, the others follow from
   * them; or the steady state under the loads and temperatures of time 0, which is the default.
   */
  readonly start?: "steady" | ReadonlyMap<string, number>;
  /** In the order of time; several at one time are one jump. */
  readonly pulses?: readonly NetworkPulse[];
  /** Loads that change with time. */
  readonly loads?: readonly TimedLoad[];
  /** Fixed temperatures that change with time. */
  readonly temperatures?: readonly TimedTemperature[];
  /** Temperatures whose crossings are recorded. */
  readonly crossings?: readonly Threshold[];
  /**
   * Error allowed to a step in parts of each temperature; 1e-6 by default. Of the temperature, not of
   * its rise: a rise of a thousandth of the temperature is right to a thousandth with 1e-6.
   */
  readonly relativeTolerance?: number;
  /** Error allowed to a step on top of that [K]; 0 by default. */
  readonly absoluteTolerance?: number;
  /** Longest step [s]; a twentieth of the time between breaks where a load or temperature is timed. */
  readonly maxStep?: number;
  /** Most steps, rejected ones included; 100,000 by default. */
  readonly maxSteps?: number;
  /** Steps of this length and no control of the error [s]; to measure how errors fall with the step. */
  readonly fixedStep?: number;
  /** false: return a run that stopped short, marked so, instead of throwing. */
  readonly throw?: boolean;
}

/** A time between two breaks [s], and the pulses at its start [J]. */
export interface Segment {
  readonly from: number;
  readonly to: number;
  readonly pulses: readonly { readonly node: number; readonly energy: number }[];
}

/** A timed load with the number of its node. */
interface PlacedLoad extends Required<Pick<TimedLoad, "power" | "slope">> {
  readonly at: number;
}

/** A timed temperature with the number of its node. */
interface PlacedTemperature extends TimedTemperature {
  readonly at: number;
}

/** The inputs of one run, and its clock. */
export class TimedInputs {
  /** Time at which loads and fixed temperatures are read [s]. */
  private time = 0;

  constructor(
    readonly loads: readonly PlacedLoad[],
    readonly temperatures: readonly PlacedTemperature[],
  ) {}

  /** Whether anything depends on time. */
  get isTimed(): boolean {
    return this.loads.length + this.temperatures.length > 0;
  }

  /** Fixed temperatures at the start of the run [K], by node. */
  start(): [node: number, temperature: number][] {
    this.time = 0;
    return this.temperatures.map(({ at, node, temperature }) => [
      at,
      positive(`temperature of ${node} at 0 s`, temperature(0), "K"),
    ]);
  }

  /**
   * Sets the clock, and the fixed temperatures in `numbers`. The clock stays off the ends of the segment
   * by rounding, because a function may have either value at a break.
   * @param after - time since the start of the segment [s]
   */
  setClock({ from, to }: Segment, after: number, numbers: Float64Array): void {
    const margin = Number.EPSILON * to;
    this.time = Math.max(from + margin, Math.min(to - margin, from + after));
    for (let i = 0; i < this.temperatures.length; i++) {
      const { at, node, temperature } = this.temperatures[i]!;
      const T = temperature(this.time);
      if (!(T > 0 && T < Number.POSITIVE_INFINITY)) {
        positive(`temperature of ${node} at ${this.time} s`, T, "K");
      }
      numbers[at] = T;
    }
  }

  /** Sum of the timed loads at the temperatures in `numbers` [W]. */
  power(numbers: Float64Array): number {
    let sum = 0;
    for (let i = 0; i < this.loads.length; i++) {
      const { at, power } = this.loads[i]!;
      sum += power(this.time, numbers[at]!);
    }
    return sum;
  }

  /** Adds each load to the number of its node, counted from `powersAt` [W]. */
  addPowers(numbers: Float64Array, powersAt: number): void {
    for (let i = 0; i < this.loads.length; i++) {
      const { at, power } = this.loads[i]!;
      numbers[powersAt + at]! += power(this.time, numbers[at]!);
    }
  }

  /** Adds `sign` times dP/dT of each load to the number of its node, counted from `from` in `into` [W/K]. */
  addSlopes(numbers: Float64Array, into: Float64Array, from: number, sign: 1 | -1): void {
    for (let i = 0; i < this.loads.length; i++) {
      const { at, slope } = this.loads[i]!;
      into[from + at]! += sign * slope(this.time, numbers[at]!);
    }
  }
}

/** For a network outside a run in time. */
export const untimed = new TimedInputs([], []);

/** The options of a run, checked, by the numbers of the nodes. */
export type Timeline = ReturnType<typeof timeline>;

/**
 * Checks the options against a network and cuts the run at every break.
 * @param stores - whether a node stores heat
 * @throws FieldError, UnknownNameError for a wrong field
 */
export function timeline(
  { nodeNames, freeCount }: { readonly nodeNames: readonly string[]; readonly freeCount: number },
  stores: (node: number) => boolean,
  options: TransientOptions,
) {
  const {
    absoluteTolerance = 0,
    maxSteps = defaultMaxSteps,
    fixedStep,
  } = anObject("options", options);
  if (!Number.isFinite(absoluteTolerance) || absoluteTolerance < 0) {
    throw new FieldError("absoluteTolerance", "a number in K, not negative", absoluteTolerance);
  }
  const duration = positive("duration", options.duration, "s");
  const limits = {
    relative: positive("relativeTolerance", options.relativeTolerance ?? 1e-6, ""),
    absolute: absoluteTolerance,
    maxStep: positive("maxStep", options.maxStep ?? duration, "s"),
    maxSteps: wholeNumber("maxSteps", maxSteps),
    fixedStep: fixedStep === undefined ? undefined : positive("fixedStep", fixedStep, "s"),
  };
  const index = new Map(nodeNames.map((name, i) => [name, i]));
  const find = (field: string, name: string, free: boolean) => {
    const node = index.get(name);
    if (node === undefined) throw new UnknownNameError(field, "node", name, nodeNames);
    if (free !== node < freeCount) {
      throw new FieldError(field, free ? "a free node" : "a node of fixed temperature", name);
    }
    return node;
  };

  let last = 0;
  const pulses = listOf("pulses", options.pulses).map(({ time, node, energy }, i) => {
    const field = `pulses[${i}]`;
    if (!(Number.isFinite(time) && time >= 0 && time < duration)) {
      throw new FieldError(`${field}.time`, `a time in s from 0, before ${duration}`, time);
    }
    if (time < last) {
      const wanted = `no time before that of the pulse before, ${last}`;
      throw new FieldError(`${field}.time`, wanted, time);
    }
    last = time;
    const at = find(`${field}.node`, node, true);
    if (!stores(at)) throw new FieldError(`${field}.node`, "a node that stores heat", node);
    return { time, node: at, energy: positive(`${field}.energy`, energy, "J") };
  });
  const loads = listOf("loads", options.loads).map((load, i) => ({
    ...load,
    power: (time: number, temperature: number) => load.power(time, temperature),
    slope: slopeOf(load),
    at: find(`loads[${i}].node`, load.node, true),
  }));
  const temperatures = listOf("temperatures", options.temperatures).map((timed, i) => {
    const field = `temperatures[${i}].node`;
    const at = find(field, timed.node, false);
    if (options.temperatures!.findIndex((t) => t.node === timed.node) < i) {
      throw new FieldError(field, "a node named once", timed.node);
    }
    return { ...timed, temperature: (time: number) => timed.temperature(time), at };
  });
  const thresholds = listOf("crossings", options.crossings).map(({ node, temperature }, i) => ({
    node,
    temperature: positive(`crossings[${i}].temperature`, temperature, "K"),
    at: find(`crossings[${i}].node`, node, true),
  }));

  const cuts = new Set([0, ...pulses.map((p) => p.time)]);
  for (const [list, timed] of [
    ["loads", loads],
    ["temperatures", temperatures],
  ] as const) {
    for (const [i, { breaks = [] }] of timed.entries()) {
      checkBreaks(`${list}[${i}].breaks`, breaks);
      for (const time of breaks) if (time > 0 && time < duration) cuts.add(time);
    }
  }
  const starts: number[] = [];
  for (const time of [...cuts].sort((a, b) => a - b)) {
    if (!(time - starts[starts.length - 1]! < instant)) starts.push(time);
  }
  // Pulses are in the order of time, so one pass assigns them to their segments.
  let next = 0;
  const segments = starts.map((from, i) => {
    const to = starts[i + 1] ?? duration;
    const first = next;
    while (next < pulses.length && pulses[next]!.time < to) next++;
    return { from, to, pulses: pulses.slice(first, next) };
  });
  return { segments, thresholds, limits, inputs: new TimedInputs(loads, temperatures) };
}

/** Objects of a list of the options, none when it is left out. */
function listOf<T extends object>(name: string, list: readonly T[] = []): readonly T[] {
  return aList(name, list, "a list").map((each, i) => anObject(`${name}[${i}]`, each));
}

function checkBreaks(field: string, breaks: readonly number[]): void {
  aList(field, breaks, "a list of times in s").forEach((time, i) => {
    if (!Number.isFinite(time) || (i > 0 && !(time > breaks[i - 1]!))) {
      throw new FieldError(`${field}[${i}]`, "a time in s after the one before", time);
    }
  });
}

function slopeOf(load: TimedLoad): (time: number, temperature: number) => number {
  if (typeof load.power !== "function") {
    throw new FieldError(`power on ${load.node}`, "a function of time in s", load.power);
  }
  if (load.slope) return (time, temperature) => load.slope!(time, temperature);
  if (load.power.length < 2) return () => 0;
  return (time, temperature) => {
    const change = 1e-5 * temperature;
    const above = load.power(time, temperature + change);
    return (above - load.power(time, temperature - change)) / (2 * change);
  };
}
