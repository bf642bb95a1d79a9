/**
 * The steady state of a thermal network: every node's flows balance its load.
 *
 * Newton's method with the analytic Jacobian (dΘ/dT = G). The full Newton direction reduces any norm
 * of the imbalance, so halving the step until Σ|imbalance| falls cannot diverge; no step changes a
 * temperature by more than a factor of three, which keeps them positive. Where the Jacobian is
 * singular or the search stalls (loads that rise with temperature), steps in artificial time take
 * over: the diagonal grows until the step is accepted and shrinks again after
 * (Kelley and Keyes, Convergence analysis of pseudo-transient continuation, SIAM J. Numer. Anal. 35,
 * 508 (1998)).
 * @module
 */
import { CompiledNetwork } from "./compiled.js";
import type { NetworkDescription } from "./description.js";
import { type Flow, SolveError, type SteadySolution } from "./solution.js";

/** How to solve. */
export interface SteadyOptions {
  /** Most Newton steps; 200 by default. */
  readonly maxSteps?: number;
  /** false: return an unconverged state, marked so, instead of throwing. */
  readonly throw?: boolean;
}

const defaultMaxSteps = 200;
/** Newton's error after a step is about the square of the step, so this ends at rounding. */
const stepTolerance = 1e-9;
const largestFactor = 3;
/** Nothing here holds at such a temperature: the network has run away. */
const runaway = 5000;

/** A compiled network with its solver: compile once, solve many times with changed numbers. */
export class SteadyNetwork extends CompiledNetwork {
  /** Steps of the last solve. */
  steps = 0;
  /** Why the last solve stopped short; empty when it converged. */
  failure = "";

  readonly #step: Float64Array;
  readonly #before: Float64Array;

  constructor(description: NetworkDescription) {
    super(description);
    this.#step = new Float64Array(this.freeNodes.length);
    this.#before = new Float64Array(this.freeNodes.length);
  }

  /**
   * Solves, leaving the answer in `temperatures`; allocates nothing.
   * @param warm - start from the present temperatures instead of the coldest fixed one
   * @returns whether it converged; if not, `failure` says why and `temperatures` are not an answer
   */
  trySolve(maxSteps = defaultMaxSteps, warm = false): boolean {
    const { temperatures, freeNodes } = this;
    this.failure = "";
    this.steps = 0;
    if (!warm) {
      const start = this.coldest();
      for (let u = 0; u < freeNodes.length; u++) temperatures[freeNodes[u]!] = start;
    }
    this.evaluateFixedEnds();
    let norm = this.evaluate();
    let shift = 0;
    while (this.steps < maxSteps) {
      this.steps++;
      if (!Number.isFinite(norm)) return this.#fail("a conductor or load is not a finite number");
      if (!this.#findStep(shift)) {
        shift = Math.max(1, 10 * shift);
        if (shift > 1e12) return this.#fail("the network has lost its path to a fixed temperature");
        this.evaluate();
        continue;
      }
      const length = this.#limitStep();
      if (length < stepTolerance && shift === 0) {
        this.#move(1);
        return true;
      }
      const reached = this.#search(norm);
      if (reached < 0) {
        shift = Math.max(0.1, 10 * shift);
        if (shift > 1e12) return this.#fail("no step reduces the imbalance");
        norm = this.evaluate();
        continue;
      }
      norm = reached;
      shift = shift < 1e-3 ? 0 : shift / 10;
      if (this.#hottest() > runaway) return this.#fail(`no balance below ${runaway} K`);
    }
    return this.#fail(`no balance after ${maxSteps} steps`);
  }

  /**
   * Solves and reports every temperature, flow and the balance.
   * @throws SolveError when no steady state was reached, unless `throw` is false
   */
  solve(options: SteadyOptions = {}): SteadySolution {
    const converged = this.trySolve(options.maxSteps ?? defaultMaxSteps);
    const solution = this.#report(converged);
    if (!converged && options.throw !== false) throw new SolveError(solution);
    return solution;
  }

  /** step = −(J + shift·diag J)⁻¹ residual; false when the matrix is singular. */
  #findStep(shift: number): boolean {
    const { jacobian, residual, elimination } = this;
    if (shift > 0) {
      for (let u = 0; u < residual.length; u++) {
        const diagonal = jacobian[u]!;
        jacobian[u] = diagonal + shift * Math.abs(diagonal);
      }
    }
    if (elimination.factor(jacobian) >= 0) return false;
    for (let u = 0; u < residual.length; u++) this.#step[u] = -residual[u]!;
    elimination.solve(jacobian, this.#step);
    return true;
  }

  /** Scales the step so that no temperature changes by more than the factor; returns max |ΔT|/T. */
  #limitStep(): number {
    const step = this.#step;
    let length = 0;
    let scale = 1;
    for (let u = 0; u < step.length; u++) {
      const relative = step[u]! / this.temperatures[this.freeNodes[u]!]!;
      if (Math.abs(relative) > length) length = Math.abs(relative);
      if (relative > largestFactor - 1) scale = Math.min(scale, (largestFactor - 1) / relative);
      else if (relative < 1 / largestFactor - 1) {
        scale = Math.min(scale, (1 / largestFactor - 1) / relative);
      }
    }
    if (scale < 1) for (let u = 0; u < step.length; u++) step[u] = scale * step[u]!;
    return length;
  }

  /** Moves along the step, halved until the imbalance falls; returns the new norm, or −1. */
  #search(norm: number): number {
    const { temperatures, freeNodes } = this;
    const before = this.#before;
    for (let u = 0; u < before.length; u++) before[u] = temperatures[freeNodes[u]!]!;
    for (let fraction = 1; fraction > 1e-4; fraction /= 2) {
      this.#move(fraction);
      const reached = this.evaluate();
      // Below the rounding of the flows themselves the norm can fall no further.
      const rounding = 16 * Number.EPSILON * this.roundingScale;
      if (reached <= (1 - 1e-4 * fraction) * norm || reached <= rounding) return reached;
      for (let u = 0; u < before.length; u++) temperatures[freeNodes[u]!] = before[u]!;
    }
    return -1;
  }

  #move(fraction: number): void {
    const { temperatures, freeNodes } = this;
    for (let u = 0; u < freeNodes.length; u++) {
      const node = freeNodes[u]!;
      temperatures[node] = temperatures[node]! + fraction * this.#step[u]!;
    }
  }

  #hottest(): number {
    let highest = 0;
    for (let u = 0; u < this.freeNodes.length; u++) {
      highest = Math.max(highest, this.temperatures[this.freeNodes[u]!]!);
    }
    return highest;
  }

  #fail(failure: string): false {
    this.failure = failure;
    return false;
  }

  /**
   * Flows are differences of Θ, so rounding of a temperature's last digit shows in them. One more
   * Newton step, kept apart from the temperatures because it is smaller than that digit, gives flows
   * that balance to the rounding of the loads.
   */
  #report(converged: boolean): SteadySolution {
    this.evaluateFixedEnds();
    this.evaluate();
    const corrections = converged && this.#findStep(0) ? this.#step : undefined;
    const balance = new Float64Array(this.nodeNames.length);
    const crossing = new Float64Array(this.nodeNames.length);
    const flows: Flow[] = this.linkNames.map((link, l) => {
      const [from, to] = this.ends(l);
      const power = this.flow(l, corrections);
      balance[from] = balance[from]! + power;
      balance[to] = balance[to]! - power;
      crossing[from] = crossing[from]! + Math.abs(power);
      crossing[to] = crossing[to]! + Math.abs(power);
      return { link, from: this.nodeNames[from]!, to: this.nodeNames[to]!, power };
    });
    let worst = -1;
    let largestCrossing = 0;
    for (const node of this.freeNodes) {
      const load = this.loadOf(node);
      balance[node] = balance[node]! - load;
      largestCrossing = Math.max(largestCrossing, crossing[node]!, Math.abs(load));
      if (worst < 0 || Math.abs(balance[node]!) > Math.abs(balance[worst]!)) worst = node;
    }
    const power = worst < 0 ? 0 : Math.abs(balance[worst]!);
    const node = worst < 0 ? "" : this.nodeNames[worst]!;
    return {
      status: converged ? "converged" : "not converged",
      message: converged
        ? `converged in ${this.steps} steps`
        : `steady: ${this.failure}; largest imbalance ${power.toPrecision(3)} W at node ` +
          `"${node}" (T = ${(this.temperatures[Math.max(worst, 0)] ?? 0).toPrecision(4)} K). ` +
          "Check the loads and conductors there: the load may be more than the paths can carry.",
      temperatures: new Map(this.nodeNames.map((name, i) => [name, this.temperatures[i]!])),
      flows,
      steps: this.steps,
      imbalance: { node, power, relative: power === 0 ? 0 : power / largestCrossing },
    };
  }
}

/**
 * Steady temperatures and flows of a network.
 * @throws SolveError when none was reached, unless `throw` is false; FieldError for a wrong field
 * @example solveSteady({ nodes: [{ name: "chip", load: 7e-9 }, { name: "stage", temperature: 0.11 }],
 *   links: [{ name: "bonds", from: "chip", to: "stage", conductor: powerConductor(1e-5, 2) }] })
 */
export function solveSteady(
  description: NetworkDescription,
  options: SteadyOptions = {},
): SteadySolution {
  return new SteadyNetwork(description).solve(options);
}
