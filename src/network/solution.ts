/**
 * What the steady solver returns, and what it throws.
 * @module
 */

/** Heat through one link. */
export interface Flow {
  readonly link: string;
  readonly from: string;
  readonly to: string;
  /** [W], positive from `from` to `to` */
  readonly power: number;
}

/** Heat into a body at one of its terminals. */
export interface BodyFlow {
  readonly body: string;
  /** Name of the node. */
  readonly terminal: string;
  /** [W], positive into the body; all terminals of a body together give what falls on it, negative */
  readonly power: number;
}

/** A steady state: every temperature, every flow, and how well they balance. */
export interface SteadySolution {
  readonly status: "converged" | "not converged";
  /** How it ended, in a sentence. */
  readonly message: string;
  /** By node name, fixed ones included [K]. */
  readonly temperatures: ReadonlyMap<string, number>;
  readonly flows: readonly Flow[];
  /** Body by body, in the order of its terminals. */
  readonly bodyFlows: readonly BodyFlow[];
  /** Newton steps taken. */
  readonly steps: number;
  /** Largest heat left over at a node [W], and that over the largest heat that crosses any node. */
  readonly imbalance: { readonly node: string; readonly power: number; readonly relative: number };
}

/** No steady state was reached; the state where the solver stopped is in `solution`. */
export class SolveError extends Error {
  override readonly name = "SolveError";
  constructor(readonly solution: SteadySolution) {
    super(solution.message);
  }
}
