/**
 * A thermal network in time: dH/dt = load − Σ flows out at every node that stores heat, and
 * 0 = load − Σ flows out at those that don't.
 *
 * The unknown of a node that stores heat is its enthalpy H(T) = ∫ C dT, so a pulse is a sum, and what
 * was given less what went out and what is stored is a linear invariant, which a Rosenbrock method
 * keeps to rounding when the heats given and gone are steps of the same method. The others' unknown is
 * the temperature (an index-1 differential-algebraic system). In the stage matrix, M/(hγ) − ∂f/∂y,
 * multiplying the column of a storing node by its C leaves C/(hγ) − ∂f/∂T: the Jacobian of the steady
 * solver with C/(hγ) added to what each node loses, so that its elimination without subtractions
 * serves here too, however far apart the times in the network are. One factorisation serves a step.
 *
 * Steps are as long as the error of the embedded solution allows, by the predictive controller of
 * Gustafsson, Control-theoretic techniques for stepsize selection in implicit Runge-Kutta methods,
 * ACM Trans. Math. Softw. 20, 496 (1994). A run is cut at every pulse and break, and time is counted
 * from the last cut, so that nanoseconds after hours are resolved.
 * @module
 */
import type { HeatStore } from "../conductor.js";
import { root } from "../numerics/root.js";
import { type RosenbrockMethod, rodas5p } from "../numerics/rosenbrock.js";
import { wholeNumber } from "../units/checks.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import { type NetworkDescription, positive } from "./description.js";
import { SteadyNetwork } from "./steady.js";
import { StoredHeat } from "./stored-heat.js";
import { type Stretch, type Timeline, type TransientOptions, timeline } from "./timeline.js";
import { type Crossing, Trajectory, TransientError, type TransientSolution } from "./trajectory.js";

/** What a node whose temperature is held loses: so much that no imbalance moves it [W/K]. */
const held = 1e200;
const defaultMaxSteps = 100_000;
/** Bounds of a change of the step, and the part of the step foreseen that is taken. */
const largestGrowth = 6;
const largestShrinkage = 0.2;
const caution = 0.9;
/** Part of its temperature by which a node may change in the first step after a jump. */
const firstChange = 0.01;
/** Part of a step over which the change of loads in time is taken. */
const glance = 1e-3;
/** Part of the heat conducted to and fro whose rounding is not an imbalance. */
const roundingPart = 1e-8;
/** Steps in vain at one place after which no step will do. */
const mostTrials = 50;
/** Places within a step where a threshold is looked at. */
const looks = [0.25, 0.5, 0.75, 1];

/** A compiled network that also runs in time: compile once, run many times with changed numbers. */
export class TransientNetwork extends SteadyNetwork {
  readonly #method: RosenbrockMethod = rodas5p;
  readonly #stores: (StoredHeat | undefined)[];
  #plan: Timeline | undefined;
  #stretch: Stretch = { from: 0, to: 0, pulses: [] };
  /** Time at which loads and held temperatures are read [s]. */
  #time = 0;
  /** Whether the nodes that store heat stay as they are. */
  #holding = false;
  /**
   * The unknowns: enthalpies, or temperatures where nothing is stored; heat out; heat given; and,
   * counted roughly, heat that crossed the fixed nodes either way.
   */
  readonly #state: Float64Array;
  /** Unknowns of a stage, and at the end the new ones. */
  readonly #moved: Float64Array;
  /** U of each stage, one after the other. */
  readonly #stages: Float64Array;
  /** ∂f/∂t */
  readonly #drift: Float64Array;
  /** T and C at the start of the step. */
  readonly #before: Float64Array;
  readonly #capacity: Float64Array;
  /** What each node loses to fixed ones and gains of load for a rise of its temperature [W/K]. */
  readonly #lost: Float64Array;
  readonly #gained: Float64Array;
  /** Node with the largest error in the last step tried. */
  #worst = 0;

  /** @throws FieldError for a store that is wrong, or when no free node stores heat */
  constructor(description: NetworkDescription) {
    super(description);
    const n = this.freeCount;
    const stores = new Map(description.nodes.map(({ name, store }) => [name, store]));
    this.#stores = this.nodeNames.slice(0, n).map((name) => {
      const store = stores.get(name);
      return store && new StoredHeat(name, store);
    });
    if (this.#stores.every((store) => store === undefined)) {
      throw new FieldError("nodes.store", "a free node that stores heat", "none");
    }
    this.#state = new Float64Array(n + 3);
    this.#moved = new Float64Array(n + 3);
    this.#stages = new Float64Array(this.#method.stages * (n + 3));
    this.#drift = new Float64Array(n + 2);
    this.#before = new Float64Array(n);
    this.#capacity = new Float64Array(n);
    this.#lost = new Float64Array(n);
    this.#gained = new Float64Array(n);
  }

  /** Replaces what stores heat at a free node that already stores some. */
  setStore(node: number, store: HeatStore): void {
    const name = this.nodeNames[node]!;
    if (this.#stores[node] === undefined) {
      throw new FieldError(`${name}.store`, "a node that was compiled with a store", name);
    }
    this.#stores[node] = new StoredHeat(name, store);
  }

  /** What stores heat at a node, if anything does. */
  storeOf(node: number): StoredHeat | undefined {
    return this.#stores[node];
  }

  /**
   * Runs from time 0 to the duration.
   * @throws FieldError, UnknownNameError for a wrong option; TransientError when the run stopped
   * short, unless `throw` is false
   */
  run(options: TransientOptions): TransientSolution {
    this.#plan = timeline(this, (node) => this.#stores[node] !== undefined, options);
    const fixed = this.temperatures.slice(this.freeCount);
    try {
      const solution = this.#run(this.#plan, options);
      if (solution.status === "stopped" && options.throw !== false) {
        throw new TransientError(solution);
      }
      return solution;
    } finally {
      this.#plan = undefined;
      this.#holding = false;
      fixed.forEach((temperature, i) => {
        this.setTemperature(this.freeCount + i, temperature);
      });
    }
  }

  /**
   * Brings the network to the temperatures of a start, at rest: those given for the nodes that store
   * heat, or the steady state.
   * @throws SolveError when there is no steady state, Error when nodes without a store find no balance
   */
  protected prepare(start: "steady" | ReadonlyMap<string, number>): void {
    this.#plan = { stretches: [], loads: [], temperatures: [], thresholds: [] };
    try {
      if (start === "steady") {
        this.solve();
        return;
      }
      this.#start(start);
      this.#holding = true;
      if (!this.trySolve(undefined, "present")) {
        throw new Error(`network: the nodes that store no heat find no balance, ${this.failure}`);
      }
    } finally {
      this.#holding = false;
      this.#plan = undefined;
    }
  }

  #run(plan: Timeline, options: TransientOptions): TransientSolution {
    const { freeCount: n, numbers } = this;
    const state = this.#state;
    const stores = [...this.#stores];
    const relative = positive("relativeTolerance", options.relativeTolerance ?? 1e-6, "");
    const absolute = options.absoluteTolerance ?? 0;
    if (!Number.isFinite(absolute) || absolute < 0) {
      throw new FieldError("absoluteTolerance", "a number in K, not negative", absolute);
    }
    const maxStep = positive("maxStep", options.maxStep ?? options.duration, "s");
    const maxSteps = wholeNumber("maxSteps", options.maxSteps ?? defaultMaxSteps);
    const fixedStep =
      options.fixedStep === undefined ? undefined : positive("fixedStep", options.fixedStep, "s");
    const trajectory = new Trajectory(
      {
        names: this.nodeNames,
        freeCount: n,
        stores,
        fixed: Array.from(this.temperatures.subarray(n), (T, i) => {
          return plan.temperatures.find(({ at }) => at === n + i)?.temperature ?? (() => T);
        }),
      },
      this.#method,
    );
    const crossings: Crossing[] = [];
    const watched = plan.thresholds.map(({ node, temperature, at }) => {
      const level = stores[at]?.enthalpy(temperature) ?? temperature;
      return { node, temperature, at, level, above: undefined as boolean | undefined };
    });
    let [steps, rejected] = [0, 0];
    const finish = (problem?: string): TransientSolution => ({
      status: problem === undefined ? "finished" : "stopped",
      message:
        problem === undefined
          ? `finished in ${steps} steps`
          : `transient: stopped at ${shown(this.#stretch.from + after)} s after ${steps} steps: ${problem}`,
      steps,
      rejected,
      nodes: this.nodeNames,
      ...trajectory.readers(),
      energy: trajectory.energyAt(),
      crossings: crossings.sort((a, b) => a.time - b.time),
    });
    const place = (node: number) =>
      `node "${this.nodeNames[node]}" (T = ${shown(this.#before[node]!)} K)`;

    let after = 0;
    state.fill(0);
    const steady = this.#start(options.start ?? "steady");
    for (let i = 0; i < n; i++) state[i] = stores[i]?.enthalpy(numbers[i]!) ?? numbers[i]!;
    if (!steady) {
      trajectory.start(0, state);
      return finish(
        `no steady state to start from, ${this.failure}. Give the temperatures at the start.`,
      );
    }
    this.#stretch = plan.stretches[0]!;
    // What a pulse at time 0 meets is the first record.
    if (this.#stretch.pulses.length > 0 && this.#settle()) {
      for (let i = 0; i < n; i++) if (!stores[i]) state[i] = numbers[i]!;
      trajectory.start(0, state);
    }
    for (const stretch of plan.stretches) {
      this.#stretch = stretch;
      after = 0;
      for (const { node, energy } of stretch.pulses) {
        state[node]! += energy;
        state[n + 1]! += energy;
      }
      for (let i = 0; i < n; i++) {
        const store = stores[i];
        if (store) numbers[i] = store.temperature(state[i]!, numbers[i]!);
        this.#before[i] = numbers[i]!;
        if (!(numbers[i]! > 0)) {
          trajectory.start(stretch.from, state);
          return finish(`no temperature stores the heat of node "${this.nodeNames[i]}"`);
        }
      }
      const settled = this.#settle();
      for (let i = 0; i < n; i++) if (!stores[i]) state[i] = numbers[i]!;
      trajectory.start(stretch.from, state);
      if (!settled) {
        return finish(
          `the nodes that store no heat find no balance, ${this.failure}. Give them a store.`,
        );
      }
      for (const watch of watched) {
        const above = state[watch.at]! > watch.level;
        if (watch.above !== undefined && watch.above !== above) {
          const { node, temperature } = watch;
          crossings.push({ node, temperature, time: stretch.from, rising: above });
        }
        watch.above = above;
      }

      const length = stretch.to - stretch.from;
      const longest = Math.min(maxStep, this.#isTimed ? length / 20 : length);
      this.#begin();
      const first = this.#firstStep(length);
      let step = fixedStep ?? (first < longest ? first : longest);
      let trials = 0;
      let lastStep = 0;
      let lastError = 1;
      while (after < length) {
        if (steps + rejected >= maxSteps) {
          return finish(
            `${maxSteps} steps did not suffice; the shortest are for ${place(this.#worst)}. ` +
              "Raise maxSteps or relativeTolerance.",
          );
        }
        const left = length - after;
        const isLast = step >= left * (1 - 1e-12);
        // No short step is left for the end.
        const h = isLast ? left : fixedStep === undefined && step > left / 2 ? left / 2 : step;
        const error = this.#step(h, after, relative, absolute);
        if (fixedStep === undefined && !(error <= 1)) {
          rejected++;
          if (++trials > mostTrials || h < 4 * Number.EPSILON * after) {
            return finish(
              `no step is short enough, ${shown(h)} s was too long for ${place(this.#worst)}. ` +
                "Check the laws there for jumps and values that are not finite, or raise the tolerances.",
            );
          }
          const shorter = caution * error ** (-1 / this.#method.order);
          step = h * (Number.isFinite(error) ? Math.max(largestShrinkage, shorter) : 0.1);
          continue;
        }
        if (!Number.isFinite(error))
          return finish(`fixedStep is too long for ${place(this.#worst)}`);
        steps++;
        after = isLast ? length : after + h;
        const end = isLast ? stretch.to : stretch.from + after;
        trajectory.step(end, h, this.#moved, this.#stages, this.#method);
        state.set(this.#moved);
        for (const watch of watched) {
          let from = 0;
          for (const to of looks) {
            const above = trajectory.within(watch.at, to) > watch.level;
            if (above !== watch.above) {
              watch.above = above;
              const miss = (theta: number) => trajectory.within(watch.at, theta) - watch.level;
              const time = end - (1 - root(miss, from, to)) * h;
              crossings.push({
                node: watch.node,
                temperature: watch.temperature,
                time,
                rising: above,
              });
            }
            from = to;
          }
        }
        this.#begin();
        if (fixedStep === undefined) {
          const worth = Math.max(error, 1e-6);
          const exponent = 1 / this.#method.order;
          let growth = caution * worth ** -exponent;
          if (lastStep > 0) {
            const foreseen = caution * (h / lastStep) * (lastError / worth ** 2) ** exponent;
            growth = Math.min(growth, foreseen);
          }
          growth = Math.min(largestGrowth, Math.max(largestShrinkage, growth));
          // A step that was refused once is not tried longer at once.
          if (trials > 0) growth = Math.min(1, growth);
          lastStep = h;
          lastError = Math.max(0.01, worth);
          step = Math.min(longest, h * growth);
        }
        trials = 0;
      }
    }
    return finish();
  }

  get #isTimed(): boolean {
    return this.#plan !== undefined && this.#plan.loads.length + this.#plan.temperatures.length > 0;
  }

  /** Temperatures before the first pulse; returns whether there are any. */
  #start(start: "steady" | ReadonlyMap<string, number>): boolean {
    const { freeCount: n, numbers } = this;
    this.#time = 0;
    for (const { node, at, temperature } of this.#plan!.temperatures) {
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
      const needed = T !== undefined || this.#stores[i] !== undefined;
      numbers[i] = needed ? positive(`start.${name}`, T!, "K") : this.coldestFixed;
    }
    return true;
  }

  /** Lets the nodes that store nothing follow the others at the start of a stretch. */
  #settle(): boolean {
    this.#setClock(0);
    if (!this.#stores.includes(undefined)) return true;
    this.#holding = true;
    const settled = this.trySolve(undefined, "present");
    this.#holding = false;
    return settled;
  }

  protected override coolDown(): void {
    if (!this.#holding) super.coolDown();
    for (let i = 0; this.#holding && i < this.freeCount; i++) {
      if (this.#stores[i] === undefined) this.numbers[i] = this.coldestFixed;
    }
  }

  /** Time since the start of the stretch; never quite a break, where a function may be either. */
  #setClock(after: number): void {
    const { from, to } = this.#stretch;
    const margin = Number.EPSILON * to;
    this.#time = Math.max(from + margin, Math.min(to - margin, from + after));
    const { temperatures } = this.#plan!;
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
    if (this.#plan === undefined) return;
    const { numbers, freeCount: n, imbalanceAt, sumsAt } = this;
    const { loads } = this.#plan;
    if (loads.length === 0 && !this.#holding) return;
    for (let i = 0; i < loads.length; i++) {
      const { at, power, slope } = loads[i]!;
      numbers[imbalanceAt + at]! += power(this.#time, numbers[at]!);
      numbers[sumsAt + at]! -= slope!(this.#time, numbers[at]!);
    }
    let norm = 0;
    for (let i = 0; i < n; i++) {
      if (this.#holding && this.#stores[i] !== undefined) {
        numbers[imbalanceAt + i] = 0;
        numbers[sumsAt + i] = held;
      }
      norm += Math.abs(numbers[imbalanceAt + i]!);
    }
    this.norm = norm;
  }

  protected override evaluateImbalance(): void {
    super.evaluateImbalance();
    const { loads } = this.#plan!;
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
    const { loads } = this.#plan!;
    let sum = 0;
    for (let i = 0; i < this.freeCount; i++) sum += this.loadOf(i);
    for (let b = 0; b < this.bodies.length; b++) sum += this.bodies[b]!.load;
    for (let i = 0; i < loads.length; i++) {
      sum += loads[i]!.power(this.#time, this.numbers[loads[i]!.at]!);
    }
    return sum;
  }

  /** Keeps T and C of the present state for the step that begins. */
  #begin(): void {
    for (let i = 0; i < this.freeCount; i++) {
      const T = this.numbers[i]!;
      this.#before[i] = T;
      this.#capacity[i] = this.#stores[i]?.heatCapacity(T) ?? 1;
    }
  }

  /** A step in which no node changes by more than a small part of its temperature. */
  #firstStep(length: number): number {
    const { numbers, imbalanceAt } = this;
    const glimpse = 1e-6 * length;
    if (this.#isTimed) this.#findDrift(glimpse, 0);
    else this.evaluateImbalance();
    let step = length;
    for (let i = 0; i < this.freeCount; i++) {
      if (this.#stores[i] === undefined) continue;
      const allowed = firstChange * this.#before[i]! * this.#capacity[i]!;
      step = Math.min(step, allowed / Math.abs(numbers[imbalanceAt + i]!));
      if (this.#isTimed) step = Math.min(step, Math.sqrt(allowed / Math.abs(this.#drift[i]!)));
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
   * Tries a step, which leaves its end in `#moved` and the temperatures, its stages in `#stages`.
   * @param after - time since the start of the stretch [s]
   * @returns the largest error in parts of what is allowed; infinite when it left the possible
   */
  #step(h: number, after: number, relative: number, absolute: number): number {
    const { numbers, freeCount: n, imbalanceAt, sumsAt } = this;
    const { stages: count, gamma, a, c, alpha, gammas } = this.#method;
    const stores = this.#stores;
    const state = this.#state;
    const moved = this.#moved;
    const stages = this.#stages;
    const drift = this.#drift;
    const before = this.#before;
    const capacity = this.#capacity;
    const lost = this.#lost;
    const gained = this.#gained;
    const width = n + 3;
    const timed = this.#isTimed;
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
      const { loads } = this.#plan!;
      for (let i = 0; i < loads.length; i++) {
        const { at, slope } = loads[i]!;
        gained[at]! += slope!(this.#time, numbers[at]!);
      }
    }

    for (let s = 0; s < count; s++) {
      if (s > 0) {
        for (let i = 0; i < width; i++) moved[i] = state[i]!;
        for (let j = 0; j < s; j++) {
          const weight = a[s * count + j]!;
          for (let i = 0, u = j * width; i < width; i++, u++) moved[i]! += weight * stages[u]!;
        }
        if (!this.#follow()) return Number.POSITIVE_INFINITY;
        if (timed) this.#setClock(after + alpha[s]! * h);
        this.evaluateImbalance();
      }
      const slant = timed ? gammas[s]! * h : 0;
      let out = this.#out() + slant * drift[n]!;
      let given = this.#given() + slant * drift[n + 1]!;
      if (timed) for (let i = 0; i < n; i++) numbers[imbalanceAt + i]! += slant * drift[i]!;
      for (let j = 0; j < s; j++) {
        const weight = c[s * count + j]! / h;
        const at = j * width;
        for (let i = 0; i < n; i++) {
          if (stores[i] !== undefined) numbers[imbalanceAt + i]! += weight * stages[at + i]!;
        }
        out += weight * stages[at + n]!;
        given += weight * stages[at + n + 1]!;
      }
      if (s > 0) this.elimination.solveAgain(numbers);
      else {
        const unstable = this.elimination.solve(numbers);
        if (unstable >= 0) {
          this.#worst = unstable;
          return Number.POSITIVE_INFINITY;
        }
      }
      const at = s * width;
      for (let i = 0; i < n; i++) {
        const change = numbers[imbalanceAt + i]!;
        stages[at + i] = stores[i] === undefined ? change : capacity[i]! * change;
        out += (lost[i]! + gained[i]!) * change;
        given += gained[i]! * change;
      }
      stages[at + n] = out / scale;
      stages[at + n + 1] = given / scale;
    }
    // The last stage is what the embedded solution lacks, and its error.
    let largest = 0;
    const last = (count - 1) * width;
    for (let i = 0; i < width; i++) moved[i]! += stages[last + i]!;
    moved[n + 2] = state[n + 2]! + h * crossing;
    if (!this.#follow()) return Number.POSITIVE_INFINITY;
    for (let i = 0; i < n; i++) {
      const allowed = absolute + relative * Math.max(before[i]!, numbers[i]!);
      const error = Math.abs(numbers[imbalanceAt + i]!) / allowed;
      if (!(error <= largest)) {
        largest = error;
        this.#worst = i;
      }
    }
    return Number.isNaN(largest) ? Number.POSITIVE_INFINITY : largest;
  }

  /** Temperatures of the unknowns in `#moved`; returns whether all are possible. */
  #follow(): boolean {
    const { numbers, freeCount: n } = this;
    for (let i = 0; i < n; i++) {
      const value = this.#moved[i]!;
      const T = this.#stores[i]?.temperature(value, numbers[i]!) ?? value;
      if (!(T > 0 && T < Number.POSITIVE_INFINITY)) {
        this.#worst = i;
        return false;
      }
      numbers[i] = T;
    }
    return true;
  }
}

function shown(value: number): string {
  return value.toPrecision(4);
}

/**
 * Temperatures of a network in time.
 * @throws FieldError, UnknownNameError for a wrong field; TransientError when the run stopped short,
 * unless `throw` is false
 * @example runInTime({ nodes: [{ name: "chip", store: { … } }, { name: "stage", temperature: 0.1 }],
 *   links: [{ name: "bonds", from: "chip", to: "stage", conductor: powerConductor(1e-5, 2) }] },
 *   { duration: 1, pulses: [{ time: 0, node: "chip", energy: 1e-13 }] })
 */
export function runInTime(
  description: NetworkDescription,
  options: TransientOptions,
): TransientSolution {
  return new TransientNetwork(description).run(options);
}
