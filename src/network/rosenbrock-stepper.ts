/**
 * One step in time of a thermal network.
 *
 * The unknown of a node that stores heat is its enthalpy H(T) = ∫ C dT, so a pulse is a sum, and heat
 * given less heat gone out and heat stored is a linear invariant, which a Rosenbrock method keeps to
 * rounding when the heats given and gone are steps of the same method. The other nodes' unknown is the
 * temperature (an index-1 differential-algebraic system). In the stage matrix, M/(hγ) − ∂f/∂y,
 * multiplying the column of a storing node by its C leaves C/(hγ) − ∂f/∂T: the Jacobian of the steady
 * solver with C/(hγ) added to the column sum of each storing node. So its elimination without
 * subtractions serves here too, however far apart the times in the network are. One factorisation
 * serves a step.
 * @module
 */
import { rodas5p } from "../numerics/rosenbrock.js";
import type { HeatBalance } from "./heat-balance.js";
import type { Stores } from "./initial-state.js";
import type { Segment } from "./timeline.js";

/** Largest change of a temperature in the first step after a jump, in parts of it. */
const firstChange = 0.01;
/** Finite-difference step of the change of loads in time, in parts of a step. */
const differenceStep = 1e-3;
/** The same at the start of a segment, in parts of the segment. */
const firstDifferenceStep = 1e-9;
/** Rounding in parts of the heat conducted to and fro, which counts as heat crossing the fixed nodes. */
const roundingPart = 1e-8;

/** Steps of one balance, and the state they move. */
export class RosenbrockStepper {
  /** The segment of time that the steps are in. */
  segment: Segment = { from: 0, to: 0, pulses: [] };
  /**
   * The unknowns: enthalpies, or temperatures where nothing is stored; heat out; heat given; and, for
   * the scale of rounding, heat that crossed the fixed nodes either way.
   */
  readonly state: Float64Array;
  /** Unknowns of a stage, and at the end the new ones. */
  readonly moved: Float64Array;
  /**
   * What rounding has left out of `state`, and would leave out of `moved`: a body that stores joules in
   * which a nanosecond moves femtojoules would lose them step by step (the compensated summation of
   * Kahan, Commun. ACM 8, 40 (1965)).
   */
  readonly #rest: Float64Array;
  readonly #restMoved: Float64Array;
  /** U of every stage, unknown by unknown. */
  readonly stages: Float64Array;
  /** T at the start of the step [K]. */
  readonly before: Float64Array;
  /** Node with the largest error in the last step tried. */
  worst = 0;
  /** Σⱼ (cᵢⱼ/h) Uⱼ of the earlier stages, in the rates of one. */
  readonly #pull: Float64Array;
  /** ∂f/∂t */
  readonly #drift: Float64Array;
  /** C at the start of the step [J/K]. */
  readonly #capacity: Float64Array;
  /** Conductance of each node to fixed ones, and slope of its load [W/K]. */
  readonly #lost: Float64Array;
  readonly #gained: Float64Array;

  constructor(
    private readonly balance: HeatBalance,
    private readonly stores: Stores,
  ) {
    const n = balance.freeCount;
    this.state = new Float64Array(n + 3);
    this.moved = new Float64Array(n + 3);
    this.#rest = new Float64Array(n + 2);
    this.#restMoved = new Float64Array(n + 2);
    this.stages = new Float64Array(rodas5p.stages * (n + 2));
    this.before = new Float64Array(n);
    this.#pull = new Float64Array(n + 2);
    this.#drift = new Float64Array(n + 2);
    this.#capacity = new Float64Array(n);
    this.#lost = new Float64Array(n);
    this.#gained = new Float64Array(n);
  }

  /** Forgets the run before. */
  clear(): void {
    this.state.fill(0);
    this.#rest.fill(0);
  }

  /** Keeps T and C of the present temperatures for the step that begins. */
  begin(): void {
    const { before, balance, stores } = this;
    for (let i = 0; i < before.length; i++) {
      const T = balance.numbers[i]!;
      before[i] = T;
      this.#capacity[i] = stores[i]?.slope(T) ?? 1;
    }
  }

  /** A step in which no node changes by more than a small part of its temperature [s]. */
  firstStep(length: number): number {
    const { balance, stores } = this;
    const { numbers, imbalanceAt } = balance;
    const { isTimed } = balance.timed;
    if (isTimed) this.#findDrift(firstDifferenceStep * length, 0);
    else balance.evaluate(false);
    let step = length;
    for (let i = 0; i < balance.freeCount; i++) {
      if (stores[i] === undefined) continue;
      const allowed = firstChange * this.before[i]! * this.#capacity[i]!;
      step = Math.min(step, allowed / Math.abs(numbers[imbalanceAt + i]!));
      if (isTimed) step = Math.min(step, Math.sqrt(allowed / Math.abs(this.#drift[i]!)));
    }
    return step;
  }

  /**
   * Tries a step, which leaves its end in `moved` and the temperatures, its stages in `stages`.
   * @param after - time since the start of the segment [s]
   * @returns the largest error in parts of what is allowed; infinite when a state has no temperature
   */
  step(h: number, after: number, relative: number, absolute: number): number {
    const { balance, stores, state, moved, stages, before } = this;
    const { numbers, freeCount: n, imbalanceAt, sumsAt, elimination } = balance;
    const { stages: count, gamma, alpha, gammas } = rodas5p;
    const drift = this.#drift;
    const capacity = this.#capacity;
    const lost = this.#lost;
    const gained = this.#gained;
    const pull = this.#pull.fill(0);
    const inputs = balance.timed;
    const timed = inputs.isTimed;
    const scale = 1 / (h * gamma);
    for (let i = 0; i < n; i++) numbers[i] = before[i]!;
    if (timed) this.#findDrift(differenceStep * h, after);
    balance.evaluate();
    const crossing = this.#out(true) + roundingPart * balance.roundingScale;
    for (let i = 0; i < n; i++) {
      lost[i] = numbers[sumsAt + i]!;
      gained[i] = balance.loadSlope(i);
      if (stores[i] !== undefined) numbers[sumsAt + i]! += capacity[i]! * scale;
    }
    if (timed) inputs.addSlopes(numbers, gained, 0, 1);

    for (let s = 0; s < count; s++) {
      if (s > 0) {
        this.#sumStages(s, h);
        if (!this.#findTemperatures()) return Number.POSITIVE_INFINITY;
        if (timed) inputs.setClock(this.segment, after + alpha[s]! * h, numbers);
        balance.evaluate(false);
      }
      const slant = timed ? gammas[s]! * h : 0;
      let out = this.#out() + slant * drift[n]! + pull[n]!;
      let given = this.#given() + slant * drift[n + 1]! + pull[n + 1]!;
      if (timed) for (let i = 0; i < n; i++) numbers[imbalanceAt + i]! += slant * drift[i]!;
      if (s > 0) {
        for (let i = 0; i < n; i++) {
          if (stores[i] !== undefined) numbers[imbalanceAt + i]! += pull[i]!;
        }
        elimination.solveAgain(numbers);
      } else {
        const unstable = elimination.solve(numbers);
        if (unstable >= 0) {
          this.worst = unstable;
          return Number.POSITIVE_INFINITY;
        }
      }
      for (let i = 0, u = s; i < n; i++, u += count) {
        const change = numbers[imbalanceAt + i]!;
        stages[u] = stores[i] === undefined ? change : capacity[i]! * change;
        out += (lost[i]! + gained[i]!) * change;
        given += gained[i]! * change;
      }
      stages[n * count + s] = out / scale;
      stages[(n + 1) * count + s] = given / scale;
    }
    // The last stage is the correction of the embedded solution and the estimate of its error.
    let largest = 0;
    const rest = this.#restMoved;
    for (let i = 0; i < n + 2; i++) {
      const change = rest[i]! + stages[i * count + count - 1]!;
      moved[i] = state[i]! + change;
      rest[i] = change - (moved[i]! - state[i]!);
    }
    moved[n + 2] = state[n + 2]! + h * crossing;
    if (!this.#findTemperatures()) return Number.POSITIVE_INFINITY;
    for (let i = 0; i < n; i++) {
      const allowed = absolute + relative * Math.max(before[i]!, numbers[i]!);
      const error = Math.abs(numbers[imbalanceAt + i]!) / allowed;
      if (!(error <= largest)) {
        largest = error;
        this.worst = i;
      }
    }
    return Number.isNaN(largest) ? Number.POSITIVE_INFINITY : largest;
  }

  /** Takes the step tried last: its end becomes the state. */
  accept(): void {
    this.state.set(this.moved);
    this.#rest.set(this.#restMoved);
    this.begin();
  }

  /** Sum of the heat that flows into the fixed nodes at the last evaluation, or of its sizes [W]. */
  #out(sizes = false): number {
    const { numbers, imbalanceAt, freeCount } = this.balance;
    let sum = 0;
    for (let i = imbalanceAt + freeCount; i < 2 * imbalanceAt; i++) {
      sum += sizes ? Math.abs(numbers[i]!) : numbers[i]!;
    }
    return sum;
  }

  /** Sum of all loads at the present temperatures [W]. */
  #given(): number {
    const { balance } = this;
    const { bodies } = balance;
    let sum = 0;
    for (let i = 0; i < balance.freeCount; i++) sum += balance.loadOf(i);
    for (let b = 0; b < bodies.length; b++) sum += bodies[b]!.load;
    return sum + balance.timed.power(balance.numbers);
  }

  /**
   * ∂f/∂t at the temperatures before the step, by a difference of second order ahead; and f itself.
   * @param ahead - finite-difference step [s]
   */
  #findDrift(ahead: number, after: number): void {
    const { balance } = this;
    const { numbers, freeCount: n, imbalanceAt } = balance;
    const drift = this.#drift;
    for (let point = 2; point >= 0; point--) {
      balance.timed.setClock(this.segment, after + point * ahead, numbers);
      balance.evaluate(false);
      const weight = (point === 2 ? -0.5 : point === 1 ? 2 : -1.5) / ahead;
      for (let i = 0; i < n + 2; i++) {
        const rate = i < n ? numbers[imbalanceAt + i]! : i === n ? this.#out() : this.#given();
        drift[i] = (point === 2 ? 0 : drift[i]!) + weight * rate;
      }
    }
  }

  /**
   * y + Σⱼ aᵢⱼUⱼ of the stages before one, into `moved`, the sum and what was left out before into
   * `#restMoved`, and Σⱼ (cᵢⱼ/h) Uⱼ.
   */
  #sumStages(stage: number, h: number): void {
    const { state, moved, stages } = this;
    const { stages: count, a, c } = rodas5p;
    const pull = this.#pull;
    const rest = this.#restMoved;
    const row = stage * count;
    const perStep = 1 / h;
    for (let i = 0; i < pull.length; i++) {
      let sum = this.#rest[i]!;
      let pulled = 0;
      for (let j = 0, u = i * count; j < stage; j++, u++) {
        const U = stages[u]!;
        sum += a[row + j]! * U;
        pulled += c[row + j]! * U;
      }
      rest[i] = sum;
      moved[i] = state[i]! + sum;
      pull[i] = pulled * perStep;
    }
  }

  /** Temperatures of the unknowns in `moved`; returns whether all exist. */
  #findTemperatures(): boolean {
    const { moved, stores } = this;
    const { numbers, freeCount: n } = this.balance;
    for (let i = 0; i < n; i++) {
      const store = stores[i];
      if (store === undefined) numbers[i] = moved[i]!;
      else store.findTemperature(moved, numbers, i);
      const T = numbers[i]!;
      if (!(T > 0 && T < Number.POSITIVE_INFINITY)) {
        this.worst = i;
        return false;
      }
    }
    return true;
  }
}
