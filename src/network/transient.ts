/**
 * A thermal network in time: dH/dt = load − Σ flows out at every node that stores heat, and
 * 0 = load − Σ flows out at those that don't.
 *
 * Steps (stepping.ts) are as long as the error of an embedded solution allows (step-control.ts). A run
 * is cut at every pulse and break, and time is counted from the last cut, so that nanoseconds after
 * hours are resolved.
 * @module
 */
import { anObject, wholeNumber } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { type NetworkDescription, positive } from "./description.js";
import { StepControl } from "./step-control.js";
import { SteppingNetwork } from "./stepping.js";
import { type Stretch, type Timeline, type TransientOptions, timeline } from "./timeline.js";
import { type Crossing, Trajectory, TransientError, type TransientSolution } from "./trajectory.js";
import { Watch } from "./watch.js";

const defaultMaxSteps = 100_000;
/** Steps in vain at one place after which no step will do. */
const mostTrials = 50;

/** The numbers of a run's options. */
interface Limits {
  readonly relative: number;
  readonly absolute: number;
  readonly maxStep: number;
  readonly maxSteps: number;
  readonly fixedStep: number | undefined;
}

/** A compiled network that also runs in time: compile once, run many times with changed numbers. */
export class TransientNetwork extends SteppingNetwork {
  /** Of the present run: steps taken, steps tried in vain, and time since the last cut [s]. */
  #taken = 0;
  #rejected = 0;
  #after = 0;

  /**
   * Runs from time 0 to the duration.
   * @throws FieldError, UnknownNameError for a wrong option; TransientError when the run stopped
   * short, unless `throw` is false
   */
  run(options: TransientOptions): TransientSolution {
    const limits = limitsOf(options);
    this.plan = timeline(this, (node) => this.stores[node] !== undefined, options);
    const fixed = this.temperatures.slice(this.freeCount);
    try {
      const solution = this.#run(this.plan, options.start ?? "steady", limits);
      if (solution.status === "stopped" && options.throw !== false) {
        throw new TransientError(solution);
      }
      return solution;
    } finally {
      this.plan = undefined;
      this.holding = false;
      fixed.forEach((temperature, i) => {
        this.setTemperature(this.freeCount + i, temperature);
      });
    }
  }

  #run(
    plan: Timeline,
    start: "steady" | ReadonlyMap<string, number>,
    limits: Limits,
  ): TransientSolution {
    const { freeCount: n, nodeNames: nodes } = this;
    const stores = [...this.stores];
    const fixed = Array.from(this.temperatures.subarray(n), (T, i) => {
      return plan.temperatures.find(({ at }) => at === n + i)?.temperature ?? (() => T);
    });
    const trajectory = new Trajectory({ names: nodes, freeCount: n, stores, fixed }, this.method);
    const crossings: Crossing[] = [];
    const watches = plan.thresholds.map(
      ({ node, temperature, at }) =>
        new Watch(node, temperature, at, stores[at]?.enthalpy(temperature) ?? temperature),
    );
    this.#taken = 0;
    this.#rejected = 0;
    this.#after = 0;
    this.stretch = plan.stretches[0]!;
    const problem =
      this.#prepareStart(start, trajectory) ??
      this.#follow(plan.stretches, limits, trajectory, watches, crossings);
    const reached = `${shown(this.stretch.from + this.#after)} s after ${this.#taken} steps`;
    return {
      status: problem === undefined ? "finished" : "stopped",
      message:
        problem === undefined
          ? `finished in ${this.#taken} steps`
          : `transient: stopped at ${reached}: ${problem}`,
      steps: this.#taken,
      rejected: this.#rejected,
      nodes,
      ...trajectory.readers(),
      energy: trajectory.energyAt(),
      crossings: crossings.sort((a, b) => a.time - b.time),
    };
  }

  /** The state before the first pulse; returns why there is none. */
  #prepareStart(
    start: "steady" | ReadonlyMap<string, number>,
    trajectory: Trajectory,
  ): string | undefined {
    const { state, stores, numbers } = this;
    const found = this.start(start);
    state.fill(0);
    for (let i = 0; i < this.freeCount; i++) {
      state[i] = stores[i]?.enthalpy(numbers[i]!) ?? numbers[i]!;
    }
    if (!found) {
      trajectory.start(0, state);
      return `no steady state to start from, ${this.failure}. Give the temperatures at the start.`;
    }
    // What a pulse at time 0 meets is a record of its own.
    if (this.stretch.pulses.length > 0 && this.settle()) {
      for (let i = 0; i < this.freeCount; i++) if (!stores[i]) state[i] = numbers[i]!;
      trajectory.start(0, state);
    }
    return undefined;
  }

  /** Stretch after stretch; returns why it stopped short. */
  #follow(
    stretches: readonly Stretch[],
    limits: Limits,
    trajectory: Trajectory,
    watches: readonly Watch[],
    crossings: Crossing[],
  ): string | undefined {
    for (const stretch of stretches) {
      this.stretch = stretch;
      this.#after = 0;
      const problem = this.#jump(stretch);
      trajectory.start(stretch.from, this.state);
      if (problem !== undefined) return problem;
      for (const watch of watches) watch.jump(this.state[watch.unknown]!, stretch.from, crossings);
      const stop = this.#cross(stretch, limits, trajectory, (length, end) => {
        for (const watch of watches) watch.step(trajectory, length, end, crossings);
      });
      if (stop !== undefined) return stop;
    }
    return undefined;
  }

  /** Gives the pulses at the start of a stretch, and lets nodes without a store follow. */
  #jump({ pulses }: Stretch): string | undefined {
    const { freeCount: n, state, stores, numbers } = this;
    for (const { node, energy } of pulses) {
      state[node]! += energy;
      state[n + 1]! += energy;
    }
    for (let i = 0; i < n; i++) {
      const store = stores[i];
      if (store) numbers[i] = store.temperature(state[i]!, numbers[i]!);
      if (!(numbers[i]! > 0)) {
        return `no temperature stores the heat of node "${this.nodeNames[i]}"`;
      }
    }
    const settled = this.settle();
    for (let i = 0; i < n; i++) if (!stores[i]) state[i] = numbers[i]!;
    if (settled) return undefined;
    return `the nodes that store no heat find no balance, ${this.failure}. Give them a store.`;
  }

  /** Steps from the start of a stretch to its end; returns why it stopped short. */
  #cross(
    { from, to }: Stretch,
    { relative, absolute, maxStep, maxSteps, fixedStep }: Limits,
    trajectory: Trajectory,
    look: (length: number, end: number) => void,
  ): string | undefined {
    const length = to - from;
    const longest = Math.min(maxStep, this.isTimed ? length / 20 : length);
    // The error that is estimated is that of the embedded solution, of one order less.
    const control = new StepControl(this.method.order);
    this.begin();
    const first = this.firstStep(length);
    // A first step that is not a number is none: the longest is tried, and refused if it must be.
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
      // No short step is left for the end.
      const h = isLast ? left : fixedStep === undefined && step > left / 2 ? left / 2 : step;
      const error = this.step(h, this.#after, relative, absolute);
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
      trajectory.step(end, h, this.moved, this.stages, this.method);
      this.state.set(this.moved);
      look(h, end);
      this.begin();
      if (fixedStep === undefined) step = Math.min(longest, control.next(h, error));
    }
    return undefined;
  }

  /** The node with the largest error, in words. */
  get #place(): string {
    return `node "${this.nodeNames[this.worst]}" (T = ${shown(this.before[this.worst]!)} K)`;
  }
}

function limitsOf(options: TransientOptions): Limits {
  const {
    duration,
    relativeTolerance = 1e-6,
    absoluteTolerance: absolute = 0,
  } = anObject("options", options);
  if (!Number.isFinite(absolute) || absolute < 0) {
    throw new FieldError("absoluteTolerance", "a number in K, not negative", absolute);
  }
  const { maxSteps = defaultMaxSteps, fixedStep } = options;
  positive("duration", duration, "s");
  return {
    relative: positive("relativeTolerance", relativeTolerance, ""),
    absolute,
    maxStep: positive("maxStep", options.maxStep ?? duration, "s"),
    maxSteps: wholeNumber("maxSteps", maxSteps),
    fixedStep: fixedStep === undefined ? undefined : positive("fixedStep", fixedStep, "s"),
  };
}

function shown(value: number): string {
  return value.toPrecision(4);
}

/**
 * Temperatures of a network in time.
 * @throws FieldError, UnknownNameError for a wrong field; TransientError when the run stopped short,
 * unless `throw` is false
 * @example runInTime({ nodes: [{ name: "stage", temperature: 0.1 },
 *     { name: "chip", store: givenHeatStore({ heatCapacity: 1e-9, at: 0.1, exponent: 1 }) }],
 *   links: [{ name: "bonds", from: "chip", to: "stage", conductor: powerConductor(1e-5, 2) }] },
 *   { duration: 1, pulses: [{ time: 0, node: "chip", energy: 1e-13 }] })
 */
export function runInTime(
  description: NetworkDescription,
  options: TransientOptions,
): TransientSolution {
  return new TransientNetwork(description).run(options);
}
