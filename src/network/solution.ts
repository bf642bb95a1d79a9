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

/** A steady state: every temperature, every flow, and how well they balance. */
export interface SteadySolution {
  readonly status: "converged" | "not converged";
  /** How it ended, in a sentence. */
  readonly message: string;
  /** By node name, fixed ones included [K]. */
  readonly temperatures: ReadonlyMap<string, number>;
  readonly flows: readonly Flow[];
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
