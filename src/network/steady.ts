/**
 * The steady state of a thermal network: every node's flows balance its load.
 *
 * Newton's method with the analytic Jacobian (dΘ/dT = G). The full Newton direction reduces any norm
 * of the imbalance, so halving the step until Σ|imbalance| falls cannot diverge; no step changes a
 * temperature by more than a factor of three, which keeps them positive. From the cold start the first
 * step is taken for T³, where that leaves less imbalance.
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
import { type BodyFlow, type Flow, SolveError, type SteadySolution } from "./solution.js";

/** How to solve. */
export interface SteadyOptions {
  /** Most Newton steps; 200 by default. */
  readonly maxSteps?: number;
  /** false: return an unconverged state, marked so, instead of throwing. */
  readonly throw?: boolean;
}

const defaultMaxSteps = 200;
/** Newton's error after a step is about its square, here a tenth of the spacing of numbers. */
const stepTolerance = 4e-9;
/** Where flows are lost in the rounding of Θ, a step this short is as good as it gets. */
const roundingTolerance = 1e-6;
/** Most that one step may raise or lower a temperature, in parts of it. */
const largestRise = 2;
const largestFall = -2 / 3;
/** Nothing here holds at such a temperature: the network has run away. */
const runaway = 5000;
const ranAway = `no balance below ${runaway} K`;
/** Nor at such a one: more heat is taken out than comes in. */
const emptied = 1e-9;
const ranEmpty = `no balance above ${emptied} K`;
/** Most heat left over at a node of an answer, in parts of the largest heat that crosses any. */
const largestImbalance = 1e-6;
/** Heating in artificial time: most change of a temperature in one step, in parts of it. */
const largestHeating = 0.5;
/** A change of temperatures from which Newton's method is sure to find the state. */
const nearby = 1e-2;
/** Part of the step before that one by the same factors may be, or new ones are found. */
const worthwhile = 0.1;
/** And least heat capacity worth a step, in parts of conductances over the artificial time. */
const shortestShare = 1e-6;

/** A compiled network with its solver: compile once, solve many times with changed numbers. */
export class SteadyNetwork extends CompiledNetwork {
  /** Steps of the last solve. */
  steps = 0;
  /** Why the last solve stopped short; empty when it converged. */
  failure = "";

  /** Whether the last step found the imbalance too small to fall. */
  #atRounding = false;

  /**
   * Solves, leaving the answer in `temperatures`; allocates nothing.
   * @param start - from the coldest fixed temperature, or from the present ones
   * @returns whether it converged; if not, `failure` says why and `temperatures` are not an answer
   */
  trySolve(maxSteps = defaultMaxSteps, start: "cold" | "present" = "cold"): boolean {
    this.failure = "";
    this.steps = 0;
    if (start === "cold" || !this.#between(0, runaway)) this.#leaveCold();
    else this.evaluate();
    return this.#descend(maxSteps) ?? this.#heatUp(maxSteps);
  }

  /**
   * Solves and reports every temperature, flow and the balance.
   * @throws SolveError when no steady state was reached, unless `throw` is false
   */
  solve(options: SteadyOptions = {}): SteadySolution {
    const solution = this.#report(this.trySolve(options.maxSteps ?? defaultMaxSteps));
    if (solution.status !== "converged" && options.throw !== false) throw new SolveError(solution);
    return solution;
  }

  /**
   * From the coldest temperature, where a solve starts, by one Newton step for T³ instead of T: heat
   * paths go as T² to T⁵, so it mostly lands nearer to the answer. Stays where that would not leave less
   * imbalance, which is evaluated in the end.
   */
  #leaveCold(): void {
    const { numbers, freeCount, imbalanceAt: stepAt } = this;
    this.coolDown();
    this.evaluate();
    // Where loads rise with temperature, a long step may lead past a steady state.
    if (this.hasLoadLaws || !Number.isFinite(this.norm)) return;
    const { norm } = this;
    if (this.#findStep() < 0 && this.#isWithin(largestRise)) {
      for (let i = 0; i < freeCount; i++) {
        const T = numbers[i]!;
        numbers[i] = T * nearCubeRoot(1 + (3 * numbers[stepAt + i]!) / T);
      }
      if (this.#between(0, runaway)) {
        this.evaluate();
        this.steps = 1;
        if (this.norm < norm) return;
      }
      this.steps = 0;
      this.coolDown();
    }
    this.evaluate();
  }

  /** Newton's method from an evaluated state; undefined where it is stuck. */
  #descend(maxSteps: number): boolean | undefined {
    if (!Number.isFinite(this.norm)) return this.#fail(this.#culprit());
    this.#atRounding = false;
    while (this.steps < maxSteps) {
      this.steps++;
      if (this.#findStep() >= 0) return undefined;
      const last = this.#atRounding && this.#isWithin(roundingTolerance);
      const fraction = this.#move(largestRise, largestFall);
      if (fraction === 0 || last) return this.#withinReason();
      if (fraction < 1 && !this.#withinReason()) return false;
      if (fraction === 1 && this.elimination.isDear && this.#settleByFactors(maxSteps)) {
        return this.#withinReason();
      }
      if (!this.#search(fraction)) return undefined;
    }
    return this.#fail(`no balance after ${maxSteps} steps`);
  }

  /**
   * Near the answer, further steps by the factors of the last one, as long as each is much shorter than
   * the one before. Where they are, the answer is as stable as the place that the factors are from: in
   * a direction that runs away they would not shorten.
   * @returns whether they ended where Newton's would; if not, they have come nearer
   */
  #settleByFactors(maxSteps: number): boolean {
    const { numbers, freeCount, imbalanceAt: stepAt } = this;
    let before = this.#largestChange();
    while (before < nearby && this.steps < maxSteps) {
      this.evaluateImbalance();
      this.elimination.solveAgain(numbers);
      const change = this.#largestChange();
      if (!(change < worthwhile * before)) return false;
      this.steps++;
      for (let i = 0; i < freeCount; i++) numbers[i]! += numbers[stepAt + i]!;
      // What is left is to this change as this one is to the one before.
      if (change ** 2 <= stepTolerance ** 2 * before) return true;
      before = change;
    }
    return false;
  }

  /** Turns the imbalance into Newton's step; −1, or the node where no stable state is near. */
  #findStep(): number {
    return this.elimination.solve(this.numbers);
  }

  /**
   * Moves by the step, or by as much of it as changes no temperature by more than the limits, in
   * parts of it. Returns the fraction moved by; 0 when the step was so short that it is the last.
   */
  #move(rise: number, fall: number): number {
    const { numbers, freeCount, imbalanceAt: stepAt, spareAt: beforeAt } = this;
    let settled = true;
    let within = true;
    for (let i = 0; i < freeCount; i++) {
      const T = numbers[i]!;
      const change = numbers[stepAt + i]!;
      numbers[beforeAt + i] = T;
      numbers[i] = T + change;
      if (!(Math.abs(change) <= stepTolerance * T)) {
        settled = false;
        if (!(change <= rise * T && change >= fall * T)) within = false;
      }
    }
    if (settled) return 0;
    return within ? 1 : this.#shorten(rise, fall);
  }

  #shorten(rise: number, fall: number): number {
    const { numbers, freeCount, imbalanceAt: stepAt, spareAt: beforeAt } = this;
    let fraction = 1;
    for (let i = 0; i < freeCount; i++) {
      const relative = numbers[stepAt + i]! / numbers[beforeAt + i]!;
      if (relative > rise) fraction = Math.min(fraction, rise / relative);
      if (relative < fall) fraction = Math.min(fraction, fall / relative);
    }
    for (let i = 0; i < freeCount; i++) {
      numbers[i] = numbers[beforeAt + i]! + fraction * numbers[stepAt + i]!;
    }
    return fraction;
  }

  /** Halves what was moved until the imbalance falls; returns whether it did. */
  #search(moved: number): boolean {
    const { norm } = this;
    for (let fraction = moved; fraction > 1e-4 * moved; fraction /= 2) {
      if (fraction < moved) this.#goHalfBack();
      this.evaluate();
      if (this.norm <= (1 - 1e-4 * fraction) * norm) return true;
      // Below the rounding of the flows themselves the norm can fall no further.
      this.#atRounding = this.norm <= 16 * Number.EPSILON * this.roundingScale;
      if (this.#atRounding) return true;
    }
    return false;
  }

  #goHalfBack(): void {
    const { numbers, freeCount, spareAt: beforeAt } = this;
    for (let i = 0; i < freeCount; i++) numbers[i] = (numbers[i]! + numbers[beforeAt + i]!) / 2;
  }

  /** Artificial time from the cold start; see the head of this file. */
  #heatUp(maxSteps: number): boolean {
    this.coolDown();
    // Conductances over artificial time step: 1 is the time a node takes to settle.
    let share = 1;
    while (this.steps < maxSteps) {
      this.steps++;
      this.evaluate();
      if (!Number.isFinite(this.norm)) return this.#fail(this.#culprit());
      if (share > 0) this.addCapacity(share);
      const unstable = this.#findStep();
      if (unstable >= 0) {
        share = Math.max(shortestShare, 10 * share);
        if (share < 1e12) continue;
        return this.#fail(`the paths from node "${this.nodeNames[unstable]}" carry nothing`);
      }
      if (share === 0 && this.#isWithin(nearby)) {
        this.evaluate();
        return this.#descend(maxSteps) ?? this.#fail("no step reduces the imbalance");
      }
      const fraction = this.#move(largestHeating, -largestHeating);
      if (fraction === 0 || fraction === 1) share = share < shortestShare ? 0 : share / 4;
      if (!this.#withinReason()) return false;
    }
    return this.#fail(`no balance after ${maxSteps} steps`);
  }

  /** Sets the free nodes to the coldest fixed temperature. */
  protected coolDown(): void {
    const { numbers, freeCount, coldestFixed } = this;
    for (let i = 0; i < freeCount; i++) numbers[i] = coldestFixed;
  }

  /** Whether every free node is between two temperatures. */
  #between(low: number, high: number): boolean {
    const { numbers, freeCount } = this;
    for (let i = 0; i < freeCount; i++) {
      const T = numbers[i]!;
      if (!(T > low && T < high)) return false;
    }
    return true;
  }

  /** Whether the step would change every temperature by less than these parts of it. */
  #isWithin(parts: number): boolean {
    const { numbers, freeCount, imbalanceAt: stepAt } = this;
    for (let i = 0; i < freeCount; i++) {
      if (!(Math.abs(numbers[stepAt + i]!) < parts * numbers[i]!)) return false;
    }
    return true;
  }

  /** The largest change of a temperature that the step would make, in parts of it. */
  #largestChange(): number {
    const { numbers, freeCount, imbalanceAt: stepAt } = this;
    let largest = 0;
    for (let i = 0; i < freeCount; i++) {
      largest = Math.max(largest, Math.abs(numbers[stepAt + i]! / numbers[i]!));
    }
    return largest;
  }

  #withinReason(): boolean {
    if (this.#between(emptied, runaway)) return true;
    return this.#fail(this.#between(0, runaway) ? ranEmpty : ranAway);
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
    for (const [b, { name, nodes }] of this.bodies.entries()) {
      const at = nodes.findIndex((_, t) => !Number.isFinite(this.heatInto(b, t)));
      if (at >= 0) {
        const node = nodes[at]!;
        const T = `${this.temperatures[node]!.toPrecision(4)} K`;
        return `the heat into body "${name}" at "${this.nodeNames[node]}" (${T}) is not a finite number`;
      }
    }
    const node = this.nodeNames.findIndex((_, n) => !Number.isFinite(this.loadOf(n)));
    return node < 0
      ? "heats and conductances are beyond the range of numbers"
      : `the load of node "${this.nodeNames[node]}" at ` +
          `${this.temperatures[node]!.toPrecision(4)} K is not a finite number`;
  }

  /**
   * Flows are differences of Θ, so rounding of a temperature's last digit shows in them. One more
   * Newton step, kept apart from the temperatures because it is smaller than that digit, gives flows
   * that balance to the rounding of the loads.
   */
  #report(settled: boolean): SteadySolution {
    this.evaluate();
    const corrected = settled && this.#findStep() < 0;
    const balance = new Float64Array(this.nodeNames.length);
    const crossing = new Float64Array(this.nodeNames.length);
    const flows: Flow[] = this.linkNames.map((link, l) => {
      const [from, to] = this.ends(l);
      const power = this.flow(l, corrected);
      balance[from]! += power;
      balance[to]! -= power;
      crossing[from]! += Math.abs(power);
      crossing[to]! += Math.abs(power);
      return { link, from: this.nodeNames[from]!, to: this.nodeNames[to]!, power };
    });
    const bodyFlows: BodyFlow[] = this.bodies.flatMap(({ name, nodes }, b) =>
      Array.from(nodes, (node, t) => {
        const power = this.heatInto(b, t, corrected);
        balance[node] = balance[node]! + power;
        crossing[node] = crossing[node]! + Math.abs(power);
        return { body: name, terminal: this.nodeNames[node]!, power };
      }),
    );
    const byName = new Map(this.nodeNames.map((name, i) => [name, this.temperatures[i]!]));
    let worst = -1;
    let largestLoad = 0;
    let largestCrossing = 0;
    for (let node = 0; node < this.freeCount; node++) {
      const load = this.loadOf(node);
      balance[node]! -= load;
      largestLoad = Math.max(largestLoad, Math.abs(load));
      largestCrossing = Math.max(largestCrossing, crossing[node]!, Math.abs(load));
      if (worst < 0 || !(Math.abs(balance[node]!) <= Math.abs(balance[worst]!))) worst = node;
    }
    const power = worst < 0 ? 0 : Math.abs(balance[worst]!);
    const node = worst < 0 ? "" : this.nodeNames[worst]!;
    // Without loads, and with all flows below rounding, nothing flows and nothing is left over.
    const still = largestLoad === 0 && largestCrossing <= 16 * Number.EPSILON * this.roundingScale;
    const relative = power === 0 || still ? 0 : power / largestCrossing;
    const converged = settled && relative < largestImbalance;
    if (settled && !converged) this.#fail("the conductors are too far apart for double precision");
    return {
      status: converged ? "converged" : "not converged",
      message: converged
        ? `converged in ${this.steps} steps`
        : `steady: ${this.failure}; largest imbalance ${power.toPrecision(3)} W at node ` +
          `"${node}" (T = ${(this.temperatures[Math.max(worst, 0)] ?? 0).toPrecision(4)} K). ` +
          "Check the loads and conductors there: the load may be more than the paths can carry.",
      temperatures: new Map(this.declared.map((name) => [name, byName.get(name)!])),
      flows,
      bodyFlows,
      steps: this.steps,
      imbalance: { node, power, relative },
    };
  }
}

/**
 * ∛a to 2e-3 for a from 0.2 to 7, enough for a first guess, in a third of the time of `Math.cbrt`: a step
 * of Halley's method. For a that is not positive it says nothing, and the imbalance shows it.
 */
function nearCubeRoot(a: number): number {
  const guess = (1 + 2 * a) / (2 + a);
  const cube = guess * guess * guess;
  return (guess * (cube + 2 * a)) / (2 * cube + a);
}

/**
 * Steady temperatures and flows of a network.
 * @throws SolveError when none was reached, unless `throw` is false; FieldError for a wrong field
 * @example solveSteady({ nodes: [{ name: "chip", load: 7e-9 }, { name: "stage", temperature: 0.11 }],
 *   links: [{ name: "bonds", from: "chip", to: "stage", conductor: powerConductor(1e-5, 2) }] })
 *   .temperatures.get("chip") // 0.11314
 */
export function solveSteady(
  description: NetworkDescription,
  options: SteadyOptions = {},
): SteadySolution {
  return new SteadyNetwork(description).solve(options);
}
