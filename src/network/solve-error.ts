/**
 * The one class of error of all solvers of a network.
 * @module
 */
import type { SteadySolution } from "./solution.js";
import type { TransientSolution } from "./trajectory.js";

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
