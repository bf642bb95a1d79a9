/**
 * One run in time of a network, segment by segment.
 *
 * Steps (rosenbrock-stepper.ts) are as long as the error of an embedded solution allows. A run is cut
 * at every pulse and break, and time is counted from the last cut, so that nanoseconds after hours are
 * resolved.
 * @module
 */
import { root } from "../numerics/root.js";
import { rodas5p } from "../numerics/rosenbrock.js";
import { balanceOthers, type Stores, setStart } from "./initial-state.js";
import type { RosenbrockStepper } from "./rosenbrock-stepper.js";
import type { SteadyNetwork } from "./steady.js";
import type { Segment, Timeline } from "./timeline.js";
import { type Crossing, Trajectory, type TransientSolution } from "./trajectory.js";

/** Rejected steps at one place after which the run stops. */
const mostTrials = 50;
/** Bounds of a change of the step, and the part of the predicted step that is taken. */
const largestGrowth = 6;
const largestShrinkage = 0.2;
const caution = 0.9;
/** Part of a step that is tried next where its end has no temperatures. */
const afterFailure = 0.1;
/** Errors below these parts of what is allowed do not predict the next. */
const leastError = 1e-6;
const leastErrorBefore = 0.01;
/** Places within a step at which the sign of the difference is tested. */
const tested = [0.25, 0.5, 0.75, 1];

/** A run, and how far it has come. */
export class TransientRun {
  /** Steps taken, steps rejected, and time since the last cut [s]. */
  #taken = 0;
  #rejected = 0;
  #after = 0;
  readonly #trajectory: Trajectory;
  readonly #detectors: readonly EventDetector[];
  readonly #crossings: Crossing[] = [];

  constructor(
    private readonly network: SteadyNetwork,
    private readonly stores: Stores,
    private readonly stepper: RosenbrockStepper,
    private readonly plan: Timeline,
  ) {
    const { freeCount, nodeNames: names, temperatures } = network;
    const fixed: ((time: number) => number)[] = [];
    for (let node = freeCount; node < names.length; node++) {
      const T = temperatures[node]!;
      const timed = plan.inputs.temperatures.find(({ at }) => at === node);
      fixed.push(timed?.temperature ?? (() => T));
    }
    this.#trajectory = new Trajectory({ names, freeCount, stores, fixed });
    this.#detectors = plan.thresholds.map(
      ({ node, temperature, at }) =>
        new EventDetector(node, temperature, at, stores[at]?.value(temperature) ?? temperature),
    );
  }

  /** Runs to the end, or to where it has to stop. @throws FieldError for a wrong start */
  solve(start: "steady" | ReadonlyMap<string, number>): TransientSolution {
    const trajectory = this.#trajectory;
    this.stepper.segment = this.plan.segments[0]!;
    const problem = this.#start(start) ?? this.#crossAll();
    const reached = () => shown(this.stepper.segment.from + this.#after);
    return {
      status: problem === undefined ? "finished" : "stopped",
      message: problem
        ? `transient: stopped at ${reached()} s after ${this.#taken} steps: ${problem}`
        : `finished in ${this.#taken} steps`,
      steps: this.#taken,
      rejected: this.#rejected,
      nodes: this.network.nodeNames,
      ...trajectory.readers(),
      energy: trajectory.energyAt(),
      crossings: this.#crossings.sort((a, b) => a.time - b.time),
    };
  }

  /** Finds the state before the first pulse; returns why there is none. */
  #start(start: "steady" | ReadonlyMap<string, number>): string | undefined {
    const { network, stores } = this;
    const { state, segment } = this.stepper;
    for (const [node, T] of this.plan.inputs.start()) network.setTemperature(node, T);
    const found = setStart(network, stores, start);
    this.stepper.clear();
    stores.forEach((store, i) => {
      const T = network.temperatures[i]!;
      state[i] = store?.value(T) ?? T;
    });
    if (!found) {
      this.#trajectory.start(0, state);
      return `no steady state to start from, ${network.failureAtNode()}. Give the temperatures at the start.`;
    }
    // The state before a pulse at time 0 is a record of its own.
    if (segment.pulses.length > 0 && this.#balanceOthers()) this.#trajectory.start(0, state);
    return undefined;
  }

  /** Segment after segment; returns why it stopped short. */
  #crossAll(): string | undefined {
    for (const segment of this.plan.segments) {
      const { state } = this.stepper;
      this.stepper.segment = segment;
      this.#after = 0;
      const problem = this.#jump(segment);
      this.#trajectory.start(segment.from, state);
      if (problem !== undefined) return problem;
      for (const detector of this.#detectors) {
        detector.jump(state[detector.unknown]!, segment.from, this.#crossings);
      }
      const stop = this.#cross(segment);
      if (stop !== undefined) return stop;
    }
    return undefined;
  }

  /** Adds the pulses at the start of a segment, and balances the nodes that store nothing. */
  #jump({ pulses }: Segment): string | undefined {
    const { stores } = this;
    const { state } = this.stepper;
    const { temperatures, freeCount: n, nodeNames } = this.network;
    for (const { node, energy } of pulses) {
      state[node]! += energy;
      state[n + 1]! += energy;
    }
    for (let i = 0; i < n; i++) {
      const store = stores[i];
      if (store) temperatures[i] = store.temperature(state[i]!, temperatures[i]!);
      if (!(temperatures[i]! > 0))
        return `no temperature stores the heat of node "${nodeNames[i]}"`;
    }
    if (this.#balanceOthers()) return undefined;
    return `the nodes that store no heat find no balance, ${this.network.failureAtNode()}. Give them a store.`;
  }

  /** Balances the nodes that store nothing at the start of a segment; returns whether they can be. */
  #balanceOthers(): boolean {
    const { network, stores } = this;
    const { state, segment } = this.stepper;
    this.plan.inputs.setClock(segment, 0, network.balance.numbers);
    const found = balanceOthers(network, stores);
    stores.forEach((store, i) => {
      if (!store) state[i] = network.temperatures[i]!;
    });
    return found;
  }

  /** Steps from the start of a segment to its end; returns why it stopped short. */
  #cross({ from, to }: Segment): string | undefined {
    const { stepper } = this;
    const { relative, absolute, maxStep, maxSteps, fixedStep } = this.plan.limits;
    const length = to - from;
    const longest = Math.min(maxStep, this.plan.inputs.isTimed ? length / 20 : length);
    // The estimated error is that of the embedded solution, of one order less.
    const control = new StepControl(rodas5p.order);
    stepper.begin();
    const first = stepper.firstStep(length);
    // Where the first step is not a number, the longest is tried.
    // biome-ignore lint/complexity/useMathMinMax: the smaller of NaN and another would be NaN
    let step = fixedStep ?? (first < longest ? first : longest);
    while (this.#after < length) {
      if (this.#taken + this.#rejected >= maxSteps) {
        return (
          `${maxSteps} steps did not suffice; the shortest are for ${this.#place}. ` +
          "Raise maxSteps or relativeTolerance."
        );
      }
      const left = length - this.#after;
      const isLast = step >= left * (1 - 1e-12);
      // Halving what is left avoids a short last step.
      const h = isLast ? left : fixedStep === undefined && step > left / 2 ? left / 2 : step;
      const error = stepper.step(h, this.#after, relative, absolute);
      if (fixedStep !== undefined && !Number.isFinite(error)) {
        return `fixedStep is too long for ${this.#place}`;
      }
      if (fixedStep === undefined && !(error <= 1)) {
        this.#rejected++;
        step = control.shorter(h, error);
        if (control.trials > mostTrials || h < 4 * Number.EPSILON * this.#after) {
          return (
            `no step is short enough, ${shown(h)} s was too long for ${this.#place}. ` +
            "Check the laws there for jumps and values that are not finite, or raise the tolerances."
          );
        }
        continue;
      }
      this.#taken++;
      this.#after = isLast ? length : this.#after + h;
      const end = isLast ? to : from + this.#after;
      this.#trajectory.step(end, h, stepper.moved, stepper.stages);
      for (const detector of this.#detectors) {
        detector.step(this.#trajectory, h, end, this.#crossings);
      }
      stepper.accept();
      if (fixedStep === undefined) step = Math.min(longest, control.next(h, error));
    }
    return undefined;
  }

  /** The node with the largest error, in words. */
  get #place(): string {
    const { worst, before } = this.stepper;
    return `node "${this.network.nodeNames[worst]}" (T = ${shown(before[worst]!)} K)`;
  }
}

/**
 * How long the next step in one segment of time between breaks may be. The error is a factor times a power
 * of the step, and the change of that factor from one step to the next is extrapolated: the predictive
 * controller of Gustafsson, Control-theoretic techniques for stepsize selection in implicit Runge-Kutta
 * methods, ACM Trans. Math. Softw. 20, 496 (1994), in the form of Hairer and Wanner, Solving Ordinary
 * Differential Equations II (1996), eq. IV.8.24.
 */
export class StepControl {
  /** Steps rejected since the last one taken. */
  trials = 0;
  #lastStep = 0;
  #lastError = 1;
  readonly #exponent: number;

  /** @param order - power of the step with which its error grows */
  constructor(order: number) {
    this.#exponent = 1 / order;
  }

  /** A shorter step for one whose error, in parts of what is allowed, was above 1 or infinite. */
  shorter(step: number, error: number): number {
    this.trials++;
    if (!Number.isFinite(error)) return afterFailure * step;
    return step * Math.max(largestShrinkage, caution * error ** -this.#exponent);
  }

  /** The step after one that was taken. */
  next(step: number, error: number): number {
    const worth = Math.max(error, leastError);
    let growth = caution * worth ** -this.#exponent;
    if (this.#lastStep > 0) {
      const change = (step / this.#lastStep) * (this.#lastError / worth ** 2) ** this.#exponent;
      growth = Math.min(growth, caution * change);
    }
    growth = Math.min(largestGrowth, Math.max(largestShrinkage, growth));
    // The step after a rejected one is not lengthened.
    if (this.trials > 0) growth = Math.min(1, growth);
    this.trials = 0;
    this.#lastStep = step;
    this.#lastError = Math.max(leastErrorBefore, worth);
    return step * growth;
  }
}

/** One threshold during a run. */
class EventDetector {
  #above: boolean | undefined;

  /**
   * @param unknown - the node's place among the unknowns
   * @param level - the value of the unknown at the threshold
   */
  constructor(
    readonly node: string,
    readonly temperature: number,
    readonly unknown: number,
    readonly level: number,
  ) {}

  /** Adds a crossing where a jump passes the threshold. */
  jump(value: number, time: number, crossings: Crossing[]): void {
    const above = value > this.level;
    if (this.#above !== undefined && this.#above !== above) this.#add(above, time, crossings);
    this.#above = above;
  }

  /** Adds the crossings within the last step of a trajectory, of a length and to an end [s]. */
  step(trajectory: Trajectory, length: number, end: number, crossings: Crossing[]): void {
    let from = 0;
    for (const to of tested) {
      const above = trajectory.within(this.unknown, to) > this.level;
      if (above !== this.#above) {
        this.#above = above;
        const difference = (theta: number) => trajectory.within(this.unknown, theta) - this.level;
        this.#add(above, end - (1 - root(difference, from, to)) * length, crossings);
      }
      from = to;
    }
  }

  #add(rising: boolean, time: number, crossings: Crossing[]): void {
    const { node, temperature } = this;
    crossings.push({ node, temperature, time, rising });
  }
}

function shown(value: number): string {
  return value.toPrecision(4);
}
