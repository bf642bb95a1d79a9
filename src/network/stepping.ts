/**
 * One step in time of a thermal network, and what it starts from.
 *
 * The unknown of a node that stores heat is its enthalpy H(T) = ∫ C dT, so a pulse is a sum, and what
 * was given less what went out and what is stored is a linear invariant, which a Rosenbrock method
 * keeps to rounding when the heats given and gone are steps of the same method. The others' unknown is
 * the temperature (an index-1 differential-algebraic system). In the stage matrix, M/(hγ) − ∂f/∂y,
 * multiplying the column of a storing node by its C leaves C/(hγ) − ∂f/∂T: the Jacobian of the steady
 * solver with C/(hγ) added to what each node loses, so that its elimination without subtractions
 * serves here too, however far apart the times in the network are. One factorisation serves a step.
 * @module
 */
import type { HeatStore } from "../conductor.js";
import { type RosenbrockMethod, rodas5p } from "../numerics/rosenbrock.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import { type NetworkDescription, positive } from "./description.js";
import { SteadyNetwork } from "./steady.js";
import { StoredHeat } from "./stored-heat.js";
import type { Stretch, Timeline } from "./timeline.js";

/** What a node whose temperature is held loses: so much that no imbalance moves it [W/K]. */
const held = 1e200;
/** Part of its temperature by which a node may change in the first step after a jump. */
const firstChange = 0.01;
/** Part of a step over which the change of loads in time is taken. */
const glance = 1e-3;
/** Part of the heat conducted to and fro whose rounding is not an imbalance. */
const roundingPart = 1e-8;

/** A compiled network with what a step in time needs. */
export class SteppingNetwork extends SteadyNetwork {
  protected readonly method: RosenbrockMethod = rodas5p;
  protected readonly stores: (StoredHeat | undefined)[];
  protected plan: Timeline | undefined;
  protected stretch: Stretch = { from: 0, to: 0, pulses: [] };
  /** Time at which loads and held temperatures are read [s]. */
  #time = 0;
  /** Whether the nodes that store heat stay as they are. */
  protected holding = false;
  /**
   * The unknowns: enthalpies, or temperatures where nothing is stored; heat out; heat given; and,
   * counted roughly, heat that crossed the fixed nodes either way.
   */
  protected readonly state: Float64Array;
  /** Unknowns of a stage, and at the end the new ones. */
  protected readonly moved: Float64Array;
  /** U of every stage, unknown by unknown. */
  protected readonly stages: Float64Array;
  /** What earlier stages add to the rates of one. */
  readonly #pull: Float64Array;
  /** ∂f/∂t */
  readonly #drift: Float64Array;
  /** T and C at the start of the step. */
  protected readonly before: Float64Array;
  readonly #capacity: Float64Array;
  /** What each node loses to fixed ones and gains of load for a rise of its temperature [W/K]. */
  readonly #lost: Float64Array;
  readonly #gained: Float64Array;
  /** Node with the largest error in the last step tried. */
  protected worst = 0;

  /** @throws FieldError for a store that is wrong, or when no free node stores heat */
  constructor(description: NetworkDescription) {
    super(description);
    const n = this.freeCount;
    const stores = new Map(description.nodes.map(({ name, store }) => [name, store]));
    this.stores = this.nodeNames.slice(0, n).map((name) => {
      const store = stores.get(name);
      return store && new StoredHeat(name, store);
    });
    if (this.stores.every((store) => store === undefined)) {
      throw new FieldError("nodes.store", "a free node that stores heat", "none");
    }
    this.state = new Float64Array(n + 3);
    this.moved = new Float64Array(n + 3);
    this.stages = new Float64Array(this.method.stages * (n + 2));
    this.#pull = new Float64Array(n + 2);
    this.#drift = new Float64Array(n + 2);
    this.before = new Float64Array(n);
    this.#capacity = new Float64Array(n);
    this.#lost = new Float64Array(n);
    this.#gained = new Float64Array(n);
  }

  /** The stores of another description, too; false also where others of its nodes store heat. */
  override takeOver(description: NetworkDescription): boolean {
    if (!super.takeOver(description)) return false;
    const free = description.nodes.filter((n) => n.temperature === undefined);
    free.forEach(({ store }, i) => {
      if (store) this.setStore(i, store);
    });
    return true;
  }

  protected override isSame(description: NetworkDescription): boolean {
    if (!super.isSame(description)) return false;
    const free = description.nodes.filter((n) => n.temperature === undefined);
    return free.every(({ store }, i) => (store === undefined) === (this.stores[i] === undefined));
  }

  /** Replaces what stores heat at a free node that already stores some. */
  setStore(node: number, store: HeatStore): void {
    const name = this.nodeNames[node]!;
    if (this.stores[node] === undefined) {
      throw new FieldError(`${name}.store`, "a node that was compiled with a store", name);
    }
    this.stores[node] = new StoredHeat(name, store);
  }

  /** What stores heat at a node, if anything does. */
  protected storeOf(node: number): StoredHeat | undefined {
    return this.stores[node];
  }

  /**
   * Brings the network to the temperatures of a start, at rest: those given for the nodes that store
   * heat, or the steady state.
   * @throws SolveError when there is no steady state, Error when nodes without a store find no balance
   */
  protected prepare(start: "steady" | ReadonlyMap<string, number>): void {
    this.plan = { stretches: [], loads: [], temperatures: [], thresholds: [] };
    try {
      if (start === "steady") {
        this.solve();
        return;
      }
      this.start(start);
      this.holding = true;
      if (!this.trySolve(undefined, "present")) {
        throw new Error(`network: the nodes that store no heat find no balance, ${this.failure}`);
      }
    } finally {
      this.holding = false;
      this.plan = undefined;
    }
  }

  protected get isTimed(): boolean {
    return this.plan !== undefined && this.plan.loads.length + this.plan.temperatures.length > 0;
  }

  /** Temperatures before the first pulse; returns whether there are any. */
  protected start(start: "steady" | ReadonlyMap<string, number>): boolean {
    const { freeCount: n, numbers } = this;
    this.#time = 0;
    for (const { node, at, temperature } of this.plan!.temperatures) {
      this.setTemperature(at, positive(`temperature of ${node} at 0 s`, temperature(0), "K"));
    }
    if (start === "steady") return this.trySolve();
    if (!(start instanceof Map)) {
      throw new FieldError("start", '"steady", or a Map of temperatures in K by node', start);
    }
    for (const name of start.keys()) {
      if (!this.nodeNames.includes(name)) {
        throw new UnknownNameError("start", "node", name, this.nodeNames);
      }
    }
    for (let i = 0; i < n; i++) {
      const name = this.nodeNames[i]!;
      const T = start.get(name);
      const needed = T !== undefined || this.stores[i] !== undefined;
      numbers[i] = needed ? positive(`start.${name}`, T!, "K") : this.coldestFixed;
    }
    return true;
  }

  /** Lets the nodes that store nothing follow the others at the start of a stretch. */
  protected settle(): boolean {
    this.#setClock(0);
    if (!this.stores.includes(undefined)) return true;
    this.holding = true;
    const settled = this.trySolve(undefined, "present");
    this.holding = false;
    return settled;
  }

  protected override coolDown(): void {
    if (!this.holding) super.coolDown();
    for (let i = 0; this.holding && i < this.freeCount; i++) {
      if (this.stores[i] === undefined) this.numbers[i] = this.coldestFixed;
    }
  }

  /** Time since the start of the stretch; never quite a break, where a function may be either. */
  #setClock(after: number): void {
    const { from, to } = this.stretch;
    const margin = Number.EPSILON * to;
    this.#time = Math.max(from + margin, Math.min(to - margin, from + after));
    const { temperatures } = this.plan!;
    for (let i = 0; i < temperatures.length; i++) {
      const { at, node, temperature } = temperatures[i]!;
      const T = temperature(this.#time);
      if (!(T > 0 && T < Number.POSITIVE_INFINITY)) {
        positive(`temperature of ${node} at ${this.#time} s`, T, "K");
      }
      this.numbers[at] = T;
    }
  }

  protected override evaluate(): void {
    super.evaluate();
    if (this.plan === undefined) return;
    const { numbers, freeCount: n, imbalanceAt, sumsAt } = this;
    const { loads } = this.plan;
    if (loads.length === 0 && !this.holding) return;
    for (let i = 0; i < loads.length; i++) {
      const { at, power, slope } = loads[i]!;
      numbers[imbalanceAt + at]! += power(this.#time, numbers[at]!);
      numbers[sumsAt + at]! -= slope!(this.#time, numbers[at]!);
    }
    let norm = 0;
    for (let i = 0; i < n; i++) {
      if (this.holding && this.stores[i] !== undefined) {
        numbers[imbalanceAt + i] = 0;
        numbers[sumsAt + i] = held;
      }
      norm += Math.abs(numbers[imbalanceAt + i]!);
    }
    this.norm = norm;
  }

  protected override evaluateImbalance(): void {
    super.evaluateImbalance();
    if (this.plan === undefined) return;
    const { loads } = this.plan;
    for (let i = 0; i < loads.length; i++) {
      const { at, power } = loads[i]!;
      this.numbers[this.imbalanceAt + at]! += power(this.#time, this.numbers[at]!);
    }
  }

  /** Heat that flows into the fixed nodes at the last evaluation [W]. */
  #out(): number {
    const { numbers, imbalanceAt } = this;
    let sum = 0;
    for (let i = this.freeCount; i < imbalanceAt; i++) sum += numbers[imbalanceAt + i]!;
    return sum;
  }

  /** Heat that the fixed nodes take and give, both counted up [W]. */
  #crossing(): number {
    const { numbers, imbalanceAt } = this;
    let sum = 0;
    for (let i = this.freeCount; i < imbalanceAt; i++) sum += Math.abs(numbers[imbalanceAt + i]!);
    return sum;
  }

  /** Heat that all loads give at the present temperatures [W]. */
  #given(): number {
    const { loads } = this.plan!;
    let sum = 0;
    for (let i = 0; i < this.freeCount; i++) sum += this.loadOf(i);
    for (let b = 0; b < this.bodies.length; b++) sum += this.bodies[b]!.load;
    for (let i = 0; i < loads.length; i++) {
      sum += loads[i]!.power(this.#time, this.numbers[loads[i]!.at]!);
    }
    return sum;
  }

  /** Keeps T and C of the present state for the step that begins. */
  protected begin(): void {
    for (let i = 0; i < this.freeCount; i++) {
      const T = this.numbers[i]!;
      this.before[i] = T;
      this.#capacity[i] = this.stores[i]?.heatCapacity(T) ?? 1;
    }
  }

  /** A step in which no node changes by more than a small part of its temperature. */
  protected firstStep(length: number): number {
    const { numbers, imbalanceAt } = this;
    const glimpse = 1e-6 * length;
    if (this.isTimed) this.#findDrift(glimpse, 0);
    else this.evaluateImbalance();
    let step = length;
    for (let i = 0; i < this.freeCount; i++) {
      if (this.stores[i] === undefined) continue;
      const allowed = firstChange * this.before[i]! * this.#capacity[i]!;
      step = Math.min(step, allowed / Math.abs(numbers[imbalanceAt + i]!));
      if (this.isTimed) step = Math.min(step, Math.sqrt(allowed / Math.abs(this.#drift[i]!)));
    }
    return step;
  }

  /** ∂f/∂t at the temperatures before the step, by a difference of second order ahead; and f itself. */
  #findDrift(h: number, after: number): void {
    const { numbers, freeCount: n, imbalanceAt } = this;
    const drift = this.#drift;
    const ahead = glance * h;
    for (let look = 2; look >= 0; look--) {
      this.#setClock(after + look * ahead);
      this.evaluateImbalance();
      const weight = (look === 2 ? -0.5 : look === 1 ? 2 : -1.5) / ahead;
      for (let i = 0; i < n + 2; i++) {
        const rate = i < n ? numbers[imbalanceAt + i]! : i === n ? this.#out() : this.#given();
        drift[i] = (look === 2 ? 0 : drift[i]!) + weight * rate;
      }
    }
  }

  /**
   * Tries a step, which leaves its end in `moved` and the temperatures, its stages in `stages`.
   * @param after - time since the start of the stretch [s]
   * @returns the largest error in parts of what is allowed; infinite when it left the possible
   */
  protected step(h: number, after: number, relative: number, absolute: number): number {
    const { numbers, freeCount: n, imbalanceAt, sumsAt } = this;
    const { stages: count, gamma, alpha, gammas } = this.method;
    const stores = this.stores;
    const state = this.state;
    const moved = this.moved;
    const stages = this.stages;
    const drift = this.#drift;
    const before = this.before;
    const capacity = this.#capacity;
    const lost = this.#lost;
    const gained = this.#gained;
    const pull = this.#pull.fill(0);
    const timed = this.isTimed;
    const scale = 1 / (h * gamma);
    for (let i = 0; i < n; i++) numbers[i] = before[i]!;
    if (timed) this.#findDrift(h, after);
    this.evaluate();
    const crossing = this.#crossing() + roundingPart * this.roundingScale;
    for (let i = 0; i < n; i++) {
      lost[i] = numbers[sumsAt + i]!;
      gained[i] = this.loadSlope(i);
      if (stores[i] !== undefined) numbers[sumsAt + i]! += capacity[i]! * scale;
    }
    if (timed) {
      const { loads } = this.plan!;
      for (let i = 0; i < loads.length; i++) {
        const { at, slope } = loads[i]!;
        gained[at]! += slope!(this.#time, numbers[at]!);
      }
    }

    for (let s = 0; s < count; s++) {
      if (s > 0) {
        this.#sumStages(s, h);
        if (!this.#follow()) return Number.POSITIVE_INFINITY;
        if (timed) this.#setClock(after + alpha[s]! * h);
        this.evaluateImbalance();
      }
      const slant = timed ? gammas[s]! * h : 0;
      let out = this.#out() + slant * drift[n]! + pull[n]!;
      let given = this.#given() + slant * drift[n + 1]! + pull[n + 1]!;
      if (timed) for (let i = 0; i < n; i++) numbers[imbalanceAt + i]! += slant * drift[i]!;
      if (s > 0) {
        for (let i = 0; i < n; i++) {
          if (stores[i] !== undefined) numbers[imbalanceAt + i]! += pull[i]!;
        }
        this.elimination.solveAgain(numbers);
      } else {
        const unstable = this.elimination.solve(numbers);
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
    // The last stage is what the embedded solution lacks, and its error.
    let largest = 0;
    for (let i = 0; i < n + 2; i++) moved[i]! += stages[i * count + count - 1]!;
    moved[n + 2] = state[n + 2]! + h * crossing;
    if (!this.#follow()) return Number.POSITIVE_INFINITY;
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

  /** y + Σⱼ aᵢⱼUⱼ of the stages before one, into `moved`, and Σⱼ (cᵢⱼ/h) Uⱼ, by which they pull it. */
  #sumStages(stage: number, h: number): void {
    const { state, moved, stages } = this;
    const { stages: count, a, c } = this.method;
    const pull = this.#pull;
    const row = stage * count;
    const perStep = 1 / h;
    for (let i = 0; i < pull.length; i++) {
      let sum = state[i]!;
      let pulled = 0;
      for (let j = 0, u = i * count; j < stage; j++, u++) {
        const U = stages[u]!;
        sum += a[row + j]! * U;
        pulled += c[row + j]! * U;
      }
      moved[i] = sum;
      pull[i] = pulled * perStep;
    }
  }

  /** Temperatures of the unknowns in `moved`; returns whether all are possible. */
  #follow(): boolean {
    const { numbers, freeCount: n } = this;
    for (let i = 0; i < n; i++) {
      const value = this.moved[i]!;
      const T = this.stores[i]?.temperature(value, numbers[i]!) ?? value;
      if (!(T > 0 && T < Number.POSITIVE_INFINITY)) {
        this.worst = i;
        return false;
      }
      numbers[i] = T;
    }
    return true;
  }
}
