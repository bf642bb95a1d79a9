/**
 * What the steady solver returns: every temperature and flow, and the heat that does not balance; and the
 * one class of error of all solvers of a network.
 * @module
 */
import type { TransientSolution } from "./trajectory.js";

/** Heat through one link. */
export interface Flow {
  /** Link, by its name. */
  readonly link: string;
  /** Node at its warm side. */
  readonly from: string;
  /** Node at its cold side. */
  readonly to: string;
  /** Heat flow [W], positive from `from` to `to` */
  readonly power: number;
}

/** Heat into a condensed body at one of its terminals. */
export interface BodyFlow {
  /** Body, by its name. */
  readonly body: string;
  /** Name of the node. */
  readonly terminal: string;
  /** Heat flow [W], positive into the body; summed over its terminals it is minus the load on the body */
  readonly power: number;
}

/** A steady state: every temperature, every flow, and how well they balance. */
export interface SteadySolution {
  /** Whether heat balances at each node. */
  readonly status: "converged" | "not converged";
  /** How it ended, in a sentence. */
  readonly message: string;
  /** By node name, fixed ones included [K]. */
  readonly temperatures: ReadonlyMap<string, number>;
  /** Heat through each link. */
  readonly flows: readonly Flow[];
  /** Body by body, in the order of its terminals. */
  readonly bodyFlows: readonly BodyFlow[];
  /** Newton steps taken. */
  readonly steps: number;
  /** Largest heat left over at a node [W], and that over the largest heat that crosses any node. */
  readonly imbalance: {
    /** Node with the largest. */
    readonly node: string;
    /** Heat that does not balance there [W]. */
    readonly power: number;
    /** The same over the heat through the node. */
    readonly relative: number;
  };
}

/**
 * A solver found no answer: no steady state, no stable one, or a run in time that stopped short. The
 * message says where, how far the solver came, and what to try.
 */
export class SolveError extends Error {
  override readonly name = "SolveError";

  constructor(
    /** State where the solver stopped: a steady solution that did not converge, or the run so far. */
    readonly solution: SteadySolution | TransientSolution,
  ) {
    super(solution.message);
  }

  /** Temperatures where the solver stopped, by node [K]. */
  get temperatures(): ReadonlyMap<string, number> {
    const { solution } = this;
    return "at" in solution ? solution.at(solution.times.at(-1)!) : solution.temperatures;
  }

  /** Heat that does not balance there, in parts of the largest heat that flows. */
  get imbalance(): number {
    const { solution } = this;
    return "at" in solution ? solution.energy.imbalance : solution.imbalance.relative;
  }

  /** Steps taken. */
  get steps(): number {
    return this.solution.steps;
  }
}
