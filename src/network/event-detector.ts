/**
 * Times at which a node passes a threshold temperature, from the dense output of each step.
 * @module
 */
import { root } from "../numerics/root.js";
import type { Crossing, Trajectory } from "./trajectory.js";

/** Places within a step at which the sign of the difference is tested. */
const tested = [0.25, 0.5, 0.75, 1];

/** One threshold during a run. */
export class EventDetector {
  #above: boolean | undefined;

  /**
   * @param unknown - the node's place among the unknowns
   * @param level - the value of the unknown at the threshold
   */
  constructor(
    readonly node: string,
    readonly temperature: number,
    readonly unknown: number,
    readonly level: number,
  ) {}

  /** Adds a crossing where a jump passes the threshold. */
  jump(value: number, time: number, crossings: Crossing[]): void {
    const above = value > this.level;
    if (this.#above !== undefined && this.#above !== above) this.#add(above, time, crossings);
    this.#above = above;
  }

  /** Adds the crossings within the last step of a trajectory, of a length and to an end [s]. */
  step(trajectory: Trajectory, length: number, end: number, crossings: Crossing[]): void {
    let from = 0;
    for (const to of tested) {
      const above = trajectory.within(this.unknown, to) > this.level;
      if (above !== this.#above) {
        this.#above = above;
        const difference = (theta: number) => trajectory.within(this.unknown, theta) - this.level;
        this.#add(above, end - (1 - root(difference, from, to)) * length, crossings);
      }
      from = to;
    }
  }

  #add(rising: boolean, time: number, crossings: Crossing[]): void {
    const { node, temperature } = this;
    crossings.push({ node, temperature, time, rising });
  }
}
