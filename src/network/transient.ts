/**
 * A thermal network in time: dH/dt = load − Σ flows out at every node that stores heat, and
 * 0 = load − Σ flows out at those that don't.
 * @module
 */
import type { HeatStore } from "../conductor.js";
import type { TemperatureLaw } from "../numerics/temperature-law.js";
import { anObject } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import type { NetworkDescription } from "./description.js";
import { notWithout, storedHeat, storesOf } from "./initial-state.js";
import { RosenbrockStepper } from "./rosenbrock-stepper.js";
import { SolveError } from "./solution.js";
import { SteadyNetwork } from "./steady.js";
import { type TransientOptions, timeline, untimed } from "./timeline.js";
import type { TransientSolution } from "./trajectory.js";
import { TransientRun } from "./transient-run.js";

/** A network that runs in time: compiled once, run many times with changed numbers. */
export class TransientNetwork {
  /** The same network in the steady state; its conductors, counts and loads are changed here. */
  readonly steady: SteadyNetwork;
  readonly #stores: (TemperatureLaw | undefined)[];
  readonly #stepper: RosenbrockStepper;

  /** @throws FieldError for a wrong field, or when no free node stores heat */
  constructor(description: NetworkDescription) {
    this.steady = new SteadyNetwork(description);
    const { nodeNames, freeCount, balance } = this.steady;
    this.#stores = storesOf(description, nodeNames.slice(0, freeCount));
    this.#stepper = new RosenbrockStepper(balance, this.#stores);
  }

  /**
   * Takes the numbers and stores of another description, which saves compiling it.
   * @returns false, and changes nothing, unless it has the same network with stores at the same nodes
   * @throws FieldError for a wrong number, with those before it already taken
   */
  updateValues(description: NetworkDescription): boolean {
    const { nodes } = anObject("network", description);
    if (!this.steady.matches(description)) return false;
    const free = nodes.filter((n) => n.temperature === undefined);
    if (free.some(({ store }, i) => (store === undefined) !== (this.#stores[i] === undefined))) {
      return false;
    }
    this.steady.updateValues(description);
    const names = this.steady.nodeNames.slice(0, this.steady.freeCount);
    storesOf(description, names).forEach((store, i) => {
      this.#stores[i] = store;
    });
    return true;
  }

  /** Replaces the heat store of a free node that has one. @throws FieldError */
  setStore(node: number, store: HeatStore): void {
    const name = this.steady.nodeNames[node]!;
    if (this.#stores[node] === undefined) {
      throw new FieldError(`${name}.store`, "a node that was compiled with a store", name);
    }
    this.#stores[node] = storedHeat(name, store);
    this.#stores.splice(
      0,
      this.#stores.length,
      ...notWithout(this.#stores, this.steady.balance.coldestFixed),
    );
  }

  /**
   * Runs from time 0 to the duration.
   * @throws FieldError, UnknownNameError for a wrong option; SolveError with the run so far when it
   * stopped short, unless `throw` is false
   */
  run(options: TransientOptions): TransientSolution {
    const { steady } = this;
    const { balance, freeCount } = steady;
    const plan = timeline(steady, (node) => this.#stores[node] !== undefined, options);
    const fixed = steady.temperatures.slice(freeCount);
    balance.timed = plan.inputs;
    try {
      const run = new TransientRun(steady, [...this.#stores], this.#stepper, plan);
      const solution = run.solve(options.start ?? "steady");
      if (solution.status === "stopped" && options.throw !== false) throw new SolveError(solution);
      return solution;
    } finally {
      balance.timed = untimed;
      fixed.forEach((temperature, i) => {
        steady.setTemperature(freeCount + i, temperature);
      });
    }
  }
}

/**
 * Temperatures of a network in time.
 * @throws FieldError, UnknownNameError for a wrong field; SolveError with the run so far when it stopped
 * short, unless `throw` is false
 * @example runInTime({ nodes: [{ name: "stage", temperature: 0.1 },
 *     { name: "chip", store: givenHeatStore({ heatCapacity: 1e-9, at: 0.1, exponent: 1 }) }],
 *   links: [{ name: "bonds", from: "chip", to: "stage", conductor: powerConductor(1e-5, 2) }] },
 *   { duration: 1, pulses: [{ time: 0, node: "chip", energy: 1e-13 }] })
 */
export function runInTime(
  description: NetworkDescription,
  options: TransientOptions,
): TransientSolution {
  return new TransientNetwork(description).run(options);
}
