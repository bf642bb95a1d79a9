/**
 * Loads and fixed temperatures that depend on time, at the time of a solver.
 * @module
 */
import { positive } from "./description.js";
import type { PlacedLoad, PlacedTemperature, Segment } from "./timeline.js";

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
