/**
 * When a watched temperature is passed: seen within each step, found on its dense output.
 * @module
 */
import { root } from "../numerics/root.js";
import type { Crossing, Trajectory } from "./trajectory.js";

/** Places within a step where a threshold is looked at. */
const looks = [0.25, 0.5, 0.75, 1];

/** One threshold during a run. */
export class Watch {
  #above: boolean | undefined;

  /**
   * @param unknown - the node's place among the unknowns
   * @param level - its unknown at the temperature that is watched
   */
  constructor(
    readonly node: string,
    readonly temperature: number,
    readonly unknown: number,
    readonly level: number,
  ) {}

  /** Adds a crossing where a jump at a time led across. */
  jump(value: number, time: number, crossings: Crossing[]): void {
    const above = value > this.level;
    if (this.#above !== undefined && this.#above !== above) this.#add(above, time, crossings);
    this.#above = above;
  }

  /** Adds the crossings within the last step of a trajectory, of a length and to an end [s]. */
  step(trajectory: Trajectory, length: number, end: number, crossings: Crossing[]): void {
    let from = 0;
    for (const to of looks) {
      const above = trajectory.within(this.unknown, to) > this.level;
      if (above !== this.#above) {
        this.#above = above;
        const miss = (theta: number) => trajectory.within(this.unknown, theta) - this.level;
        this.#add(above, end - (1 - root(miss, from, to)) * length, crossings);
      }
      from = to;
    }
  }

  #add(rising: boolean, time: number, crossings: Crossing[]): void {
    const { node, temperature } = this;
    crossings.push({ node, temperature, time, rising });
  }
}
