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
 * capacity in proportion to its conductances, lengthened as the temperatures converge until they are
 * Newton steps (pseudo-transient continuation: Kelley and Keyes, Convergence analysis of
 * pseudo-transient continuation, SIAM J. Numer. Anal. 35, 508 (1998)). A state with thermal runaway is
 * never an answer.
 * @module
 */
import type { HeatBalance } from "./heat-balance.js";
import { type Names, notFinite } from "./report.js";

export const defaultMaxSteps = 200;
/** The relative error after a Newton step is about its square, here a tenth of the spacing of numbers. */
const stepTolerance = 4e-9;
/** Where flows are lost in the rounding of Θ, no shorter step than this can be expected. */
const roundingTolerance = 1e-6;
/** Largest rise and fall of a temperature in one step, in parts of it. */
const largestRise = 2;
const largestFall = -2 / 3;
/** Above this temperature the network has run away [K]. */
const runaway = 5000;
/** Below this temperature more heat is taken out than comes in [K]. */
const emptied = 1e-9;
/** Heating in artificial time: largest change of a temperature in one step, in parts of it. */
const largestHeating = 0.5;
/** Newton's method converges when its step changes temperatures by less than this, in parts of them. */
const nearby = 1e-2;
/** Old factors serve while each step is at most this part of the one before. */
const worthwhile = 0.1;
/** Smallest ratio of heat capacity to conductance and artificial time that still shortens a step. */
const shortestShare = 1e-6;

/** Moves the temperatures of the free nodes of a balance to its steady state. */
export class NewtonSolver {
  /** Steps of the last solve. */
  steps = 0;
  /** Why the last solve failed; empty when it converged. */
  failure = "";
  // No # fields and nothing undefined: see heat-balance.ts.
  private atRounding = false;
  private readonly numbers: Float64Array;

  constructor(
    private readonly balance: HeatBalance,
    private readonly names: Names,
  ) {
    this.numbers = balance.numbers;
  }

  /** @returns whether it converged; if not, `failure` says why and the temperatures are no answer */
  solve(maxSteps: number, start: "cold" | "present"): boolean {
    this.failure = "";
    this.steps = 0;
    if (start === "cold" || !this.between(0, runaway)) this.leaveCold();
    else this.balance.evaluate();
    return this.descend(maxSteps) ?? this.heatUp(maxSteps);
  }

  /** Records why there is no steady state. */
  fail(failure: string): false {
    this.failure = failure;
    return false;
  }

  /**
   * From the coldest temperature, by one Newton step for T³ instead of T: heat paths go as T² to T⁵, so
   * it mostly ends nearer to the answer. Stays at the coldest temperature where the step leaves a larger
   * imbalance. The state it leaves is evaluated.
   */
  private leaveCold(): void {
    const { balance, numbers } = this;
    const { freeCount, imbalanceAt: stepAt } = balance;
    this.coolDown();
    balance.evaluate();
    // Where loads rise with temperature, a long step may pass a steady state.
    if (balance.hasLoadLaws || !Number.isFinite(balance.norm)) return;
    const { norm } = balance;
    if (balance.elimination.solve(numbers) < 0 && this.largestChange() < largestRise) {
      for (let i = 0; i < freeCount; i++) {
        const T = numbers[i]!;
        numbers[i] = T * nearCubeRoot(1 + (3 * numbers[stepAt + i]!) / T);
      }
      if (this.between(0, runaway)) {
        balance.evaluate();
        this.steps = 1;
        if (balance.norm < norm) return;
      }
      this.steps = 0;
      this.coolDown();
    }
    balance.evaluate();
  }

  /** Newton's method from an evaluated state; undefined where no step reduces the imbalance. */
  private descend(maxSteps: number): boolean | undefined {
    const { balance, names, numbers } = this;
    const { elimination } = balance;
    if (!Number.isFinite(balance.norm)) return this.fail(notFinite(balance, names));
    this.atRounding = false;
    while (this.steps < maxSteps) {
      this.steps++;
      if (elimination.solve(numbers) >= 0) return undefined;
      const last = this.atRounding && this.largestChange() < roundingTolerance;
      const fraction = this.move(largestRise, largestFall);
      if (fraction < 0) return undefined;
      if (fraction === 0 || last) return this.isPossible();
      // Where conductances vanish a step may lead down to nothing; heating up then finds whether there is
      // a balance.
      if (fraction < 1 && !this.isPossible()) return this.between(0, runaway) ? undefined : false;
      if (fraction === 1 && elimination.isExpensive && this.finishByFactors(maxSteps))
        return this.isPossible();
      if (!this.search(fraction)) return undefined;
    }
    return this.fail(`no balance after ${maxSteps} steps`);
  }

  /**
   * Near the answer, further steps by the factors of the last one, as long as each is much shorter than
   * the one before. If they converge, the answer is as stable as the state of the factors: in an
   * unstable direction they would not become shorter.
   * @returns whether they converged; if not, they have come nearer
   */
  private finishByFactors(maxSteps: number): boolean {
    const { balance, numbers } = this;
    const { freeCount, imbalanceAt: stepAt } = balance;
    let before = this.largestChange();
    while (before < nearby && this.steps < maxSteps) {
      balance.evaluate(false);
      balance.elimination.solveAgain(numbers);
      const change = this.largestChange();
      if (!(change < worthwhile * before)) return false;
      this.steps++;
      for (let i = 0; i < freeCount; i++) numbers[i]! += numbers[stepAt + i]!;
      // The remaining error is to this change as this change is to the one before.
      if (change ** 2 <= stepTolerance ** 2 * before) {
        balance.hasFactors = true;
        return true;
      }
      before = change;
    }
    return false;
  }

  /**
   * Moves by the step, or by the part of it that changes no temperature by more than the limits, which
   * are in parts of it. Returns the fraction moved by; 0 when the step was so short that it is the last, −1
   * when it is beyond the range of numbers, which is asked here since a loop of its own takes a tenth of a solve.
   */
  private move(rise: number, fall: number): number {
    const { numbers } = this;
    const { freeCount, imbalanceAt: stepAt, spareAt: beforeAt } = this.balance;
    let converged = true;
    let fraction = 1;
    let isNumber = true;
    for (let i = 0; i < freeCount; i++) {
      const T = numbers[i]!;
      const change = numbers[stepAt + i]!;
      numbers[beforeAt + i] = T;
      numbers[i] = T + change;
      if (Math.abs(change) <= stepTolerance * T) continue;
      converged = false;
      if (!(Math.abs(change) < Number.POSITIVE_INFINITY)) isNumber = false;
      if (change > rise * T) fraction = Math.min(fraction, (rise * T) / change);
      else if (change < fall * T) fraction = Math.min(fraction, (fall * T) / change);
    }
    if (converged) return 0;
    if (!isNumber) return -1;
    for (let i = 0; fraction < 1 && i < freeCount; i++) {
      numbers[i] = numbers[beforeAt + i]! + fraction * numbers[stepAt + i]!;
    }
    return fraction;
  }

  /** Halves what was moved until the imbalance falls; returns whether it did. */
  private search(moved: number): boolean {
    const { balance, numbers } = this;
    const { norm, freeCount, spareAt: beforeAt } = balance;
    for (let fraction = moved; fraction > 1e-4 * moved; fraction /= 2) {
      for (let i = 0; fraction < moved && i < freeCount; i++) {
        numbers[i] = (numbers[i]! + numbers[beforeAt + i]!) / 2;
      }
      balance.evaluate();
      if (balance.norm <= (1 - 1e-4 * fraction) * norm) return true;
      // Below the rounding of the flows themselves the norm can fall no further.
      this.atRounding = balance.norm <= 16 * Number.EPSILON * balance.roundingScale;
      if (this.atRounding) return true;
    }
    return false;
  }

  /** Artificial time from the cold start; see the head of this file. */
  private heatUp(maxSteps: number): boolean {
    const { balance } = this;
    let start = balance.coldestFixed;
    this.coolDown(start);
    // Heat capacity over conductance and artificial time step; 1: the step is the node's time constant.
    let share = 1;
    let carriesNothing = -1;
    while (this.steps < maxSteps) {
      this.steps++;
      balance.evaluate();
      if (!Number.isFinite(balance.norm)) return this.fail(notFinite(balance, this.names));
      if (share > 0) balance.addCapacity(share);
      const unstable = balance.findStep();
      if (unstable >= 0) {
        share = Math.max(shortestShare, 10 * share);
        if (balance.hasLoadLaws && share < 1e12) continue;
        // Superconductors and some others carry nothing so cold: heat comes from where they do.
        carriesNothing = unstable;
        start *= 2;
        if (!(start < runaway)) break;
        this.coolDown(start);
        share = 1;
        continue;
      }
      if (share === 0 && this.largestChange() < nearby) {
        balance.evaluate();
        return this.descend(maxSteps) ?? this.fail("no step reduces the imbalance");
      }
      const fraction = this.move(largestHeating, -largestHeating);
      if (fraction === 0 || fraction === 1) share = share < shortestShare ? 0 : share / 4;
      if (this.isPossible()) continue;
      if (carriesNothing < 0) return false;
      break;
    }
    if (carriesNothing < 0) return this.fail(`no balance after ${maxSteps} steps`);
    return this.fail(`the paths from node "${this.names.nodeNames[carriesNothing]}" carry nothing`);
  }

  /** Sets the free nodes that are not held to one temperature, the coldest fixed one by default [K]. */
  private coolDown(to = this.balance.coldestFixed): void {
    const { numbers } = this;
    const { freeCount, holding, isHeld } = this.balance;
    for (let i = 0; i < freeCount; i++) {
      if (!holding || isHeld[i] === 0) numbers[i] = to;
    }
  }

  /** Whether every free node is between two temperatures. */
  private between(low: number, high: number): boolean {
    const { numbers } = this;
    const { freeCount } = this.balance;
    for (let i = 0; i < freeCount; i++) {
      const T = numbers[i]!;
      if (!(T > low && T < high)) return false;
    }
    return true;
  }

  /** The largest change of a temperature that the step would make, in parts of it. */
  private largestChange(): number {
    const { numbers } = this;
    const { freeCount, imbalanceAt: stepAt } = this.balance;
    let largest = 0;
    for (let i = 0; i < freeCount; i++) {
      largest = Math.max(largest, Math.abs(numbers[stepAt + i]! / numbers[i]!));
    }
    return largest;
  }

  /** Whether the temperatures are those of a network that has neither run away nor been emptied. */
  private isPossible(): boolean {
    if (this.between(emptied, runaway)) return true;
    return this.fail(
      this.between(0, runaway) ? `no balance above ${emptied} K` : `no balance below ${runaway} K`,
    );
  }
}

/**
 * ∛a to 2e-3 for a from 0.2 to 7, in a third of the time of `Math.cbrt`: a step of Halley's method. For a
 * that is not positive the result is meaningless, and the imbalance shows it.
 */
function nearCubeRoot(a: number): number {
  const guess = (1 + 2 * a) / (2 + a);
  const cube = guess * guess * guess;
  return (guess * (cube + 2 * a)) / (2 * cube + a);
}
