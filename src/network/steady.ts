/**
 * The steady state of a thermal network: every node's flows balance its load.
 *
 * Newton's method with the analytic Jacobian (dΘ/dT = G). The full Newton direction reduces any norm
 * of the imbalance, so halving the step until Σ|imbalance| falls cannot diverge; no step changes a
 * temperature by more than a factor of three, which keeps them positive.
 *
 * Where loads rise with temperature the way to the steady state may lead through states of larger
 * imbalance, or unstable ones where Newton's step points away. The network is then heated up from
 * the coldest temperature in artificial time: linearly implicit Euler steps, each node with a heat
 * capacity in proportion to its conductances, lengthened as the temperatures settle until they are
 * Newton steps (pseudo-transient continuation: Kelley and Keyes, Convergence analysis of
 * pseudo-transient continuation, SIAM J. Numer. Anal. 35, 508 (1998)). A state where a small change
 * of temperature would run away is never an answer.
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
/** Most that one step may raise or lower a temperature, in parts of it. */
const largestRise = 2;
const largestFall = -2 / 3;
/** Nothing here holds at such a temperature: the network has run away. */
const runaway = 5000;
const ranAway = `no balance below ${runaway} K`;
/** Nor at such a one: more heat is taken out than comes in. */
const emptied = 1e-9;
const ranEmpty = `no balance above ${emptied} K`;
/** Heating in artificial time: most change of a temperature in one step, in parts of it. */
const largestHeating = 0.5;

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
    this.#step = new Float64Array(this.nodeNames.length);
    this.#before = new Float64Array(this.nodeNames.length);
  }

  /**
   * Solves, leaving the answer in `temperatures`; allocates nothing.
   * @param warm - start from the present temperatures instead of the coldest fixed one
   * @returns whether it converged; if not, `failure` says why and `temperatures` are not an answer
   */
  trySolve(maxSteps = defaultMaxSteps, warm = false): boolean {
    this.failure = "";
    this.steps = 0;
    if (!warm || !this.#startable()) this.#coolDown();
    let norm = this.evaluate();
    if (!Number.isFinite(norm)) return this.#fail(this.#culprit());
    while (this.steps < maxSteps) {
      this.steps++;
      if (this.#findStep() >= 0) return this.#heatUp(maxSteps);
      if (this.#move()) return this.#hottest() < runaway || this.#fail(ranAway);
      norm = this.#search(norm);
      if (norm < 0) return this.#heatUp(maxSteps);
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

  /** step = −J⁻¹ residual; returns −1, or the node at which J is not that of a stable state. */
  #findStep(): number {
    const { residual, freeNodes } = this;
    const step = this.#step;
    for (let u = 0; u < freeNodes.length; u++) {
      const node = freeNodes[u]!;
      step[node] = -residual[node]!;
    }
    return this.elimination.solve(this.jacobian, step);
  }

  /** Moves by the step, shortened if need be; returns whether it was too short for another. */
  #move(): boolean {
    const { temperatures, freeNodes } = this;
    const step = this.#step;
    const before = this.#before;
    let settled = true;
    let within = true;
    for (let u = 0; u < freeNodes.length; u++) {
      const node = freeNodes[u]!;
      const T = temperatures[node]!;
      const change = step[node]!;
      before[node] = T;
      temperatures[node] = T + change;
      if (!(Math.abs(change) <= stepTolerance * T)) {
        settled = false;
        if (!(change <= largestRise * T && change >= largestFall * T)) within = false;
      }
    }
    if (!within) this.#shorten();
    return settled;
  }

  #shorten(): void {
    let scale = 1;
    for (const node of this.freeNodes) {
      const relative = this.#step[node]! / this.#before[node]!;
      if (relative > largestRise) scale = Math.min(scale, largestRise / relative);
      if (relative < largestFall) scale = Math.min(scale, largestFall / relative);
    }
    for (const node of this.freeNodes) this.#step[node] = scale * this.#step[node]!;
    this.#moveFromBefore(1);
  }

  #moveFromBefore(fraction: number): void {
    for (const node of this.freeNodes) {
      this.temperatures[node] = this.#before[node]! + fraction * this.#step[node]!;
    }
  }

  /** Halves the step until the imbalance falls; returns the new norm, or −1. */
  #search(norm: number): number {
    for (let fraction = 1; fraction > 1e-4; fraction /= 2) {
      if (fraction < 1) this.#moveFromBefore(fraction);
      const reached = this.evaluate();
      // Below the rounding of the flows themselves the norm can fall no further.
      const rounding = 16 * Number.EPSILON * this.roundingScale;
      if (reached <= (1 - 1e-4 * fraction) * norm || reached <= rounding) return reached;
    }
    return -1;
  }

  /** Artificial time from the cold start; see the head of this file. */
  #heatUp(maxSteps: number): boolean {
    this.#coolDown();
    // Conductances over artificial time step: 1 is the time a node takes to settle.
    let share = 1;
    while (this.steps < maxSteps) {
      this.steps++;
      if (!Number.isFinite(this.evaluate())) return this.#fail(this.#culprit());
      if (share > 0) this.addCapacity(share);
      const unstable = this.#findStep();
      if (unstable >= 0 || !(this.#largestChange() <= largestHeating)) {
        share = Math.max(1e-3, 10 * share);
        if (share < 1e12) continue;
        return this.#fail(
          unstable < 0
            ? "no balance is in reach"
            : `the paths from node "${this.nodeNames[unstable]}" carry nothing`,
        );
      }
      const settled = this.#move();
      if (settled && share === 0) return true;
      share = share < 1e-4 ? 0 : share / 4;
      if (this.#hottest() > runaway) return this.#fail(ranAway);
      if (this.#coldest() < emptied) return this.#fail(ranEmpty);
    }
    return this.#fail(`no balance after ${maxSteps} steps`);
  }

  /** Every free node at the coldest fixed temperature. */
  #coolDown(): void {
    const { temperatures, freeNodes } = this;
    for (let u = 0; u < freeNodes.length; u++) {
      temperatures[freeNodes[u]!] = Number.POSITIVE_INFINITY;
    }
    const coldest = this.#coldest();
    for (let u = 0; u < freeNodes.length; u++) temperatures[freeNodes[u]!] = coldest;
  }

  #startable(): boolean {
    return this.#coldest() > 0 && this.#hottest() < runaway;
  }

  #coldest(): number {
    const { temperatures } = this;
    let coldest = Number.POSITIVE_INFINITY;
    for (let i = 0; i < temperatures.length; i++) coldest = Math.min(coldest, temperatures[i]!);
    return coldest;
  }

  #hottest(): number {
    const { temperatures, freeNodes } = this;
    let hottest = 0;
    for (let u = 0; u < freeNodes.length; u++) {
      hottest = Math.max(hottest, temperatures[freeNodes[u]!]!);
    }
    return hottest;
  }

  #largestChange(): number {
    let largest = 0;
    for (const node of this.freeNodes) {
      largest = Math.max(largest, Math.abs(this.#step[node]! / this.temperatures[node]!));
    }
    return largest;
  }

  #fail(failure: string): false {
    this.failure = failure;
    return false;
  }

  /** Which link or load is not a finite number. */
  #culprit(): string {
    for (const [l, name] of this.linkNames.entries()) {
      if (!Number.isFinite(this.flow(l))) {
        const [from, to] = this.ends(l).map((n) => `${this.temperatures[n]!.toPrecision(4)} K`);
        return `the heat through link "${name}" between ${from} and ${to} is not a finite number`;
      }
    }
    const node = this.freeNodes.find((n) => !Number.isFinite(this.loadOf(n)));
    return node === undefined
      ? "heats and conductances are beyond the range of numbers"
      : `the load of node "${this.nodeNames[node]}" at ` +
          `${this.temperatures[node]!.toPrecision(4)} K is not a finite number`;
  }

  /**
   * Flows are differences of Θ, so rounding of a temperature's last digit shows in them. One more
   * Newton step, kept apart from the temperatures because it is smaller than that digit, gives flows
   * that balance to the rounding of the loads.
   */
  #report(converged: boolean): SteadySolution {
    this.evaluate();
    const corrections = converged && this.#findStep() < 0 ? this.#step : undefined;
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
      if (worst < 0 || !(Math.abs(balance[node]!) <= Math.abs(balance[worst]!))) worst = node;
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
