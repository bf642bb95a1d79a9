/**
 * An hour of particle hits on a mount: how warm the chip is for which share of the time.
 * @module
 */
import { type ParticleSource, particleHits } from "../../loads/particle-source.js";
import { standardCatalogue } from "../../materials/standard.js";
import type { CatalogueChoice } from "../../materials/types.js";
import { dieModel } from "../../mount/assemble.js";
import { loadedNetwork, mostStepsEach } from "../../mount/follow.js";
import { inTime } from "../../mount/in-time.js";
import { MountModel } from "../../mount/model.js";
import type { Mount } from "../../mount/mount.js";
import { provenanceInTime } from "../../mount/numbers.js";
import { particleSources } from "../../mount/particle-sources.js";
import { readMount } from "../../mount/read.js";
import type { TransientSolution } from "../../network/trajectory.js";
import { TransientNetwork } from "../../network/transient.js";
import { distinct } from "../../provenance.js";
import { positive } from "../../units/checks.js";
import { FieldError } from "../../units/errors.js";
import type { Temperature, Time } from "../../units/quantity.js";
import { type OutsideOptions, RangeGuard, RangeTally } from "../confidence/sampled-ranges.js";
import { HitSimulation, type RecordedHit } from "./hit-simulation.js";

/** What to simulate. */
export interface HitSimulationOptions extends CatalogueChoice, OutsideOptions {
  /** How long to follow it [s]; `"1 h"` when absent. */
  readonly duration?: Time;
  /** Whole number; the same one gives the same hits. 1 when absent. */
  readonly seed?: number;
  /** Particles that hit the die; the mount's muons and background, as they are, when absent. */
  readonly sources?: readonly ParticleSource[];
  /** The chip is counted as dead while it is above this [K]; the mount's limit when absent. */
  readonly above?: Temperature;
  /** Of a temperature, 1e-6 when absent. */
  readonly relativeTolerance?: number;
}

/** Levels of the rise of which the share of time above is counted: so many in each factor of ten. */
const levelsPerDecade = 20;
/** From 1 nK to 10 K. */
const levels = Float64Array.from(
  { length: 10 * levelsPerDecade + 1 },
  (_, i) => 10 ** (i / levelsPerDecade - 9),
);

/**
 * Lets the particles of a mount hit it one by one for a span of time, and counts how warm the chip
 * was for how long. The die has one node or two here, or with flights of phonons one node
 * and a way to each contact, and a hit warms all of it at once; a single hit on a 2-D die is for `heatPulse`. The mean heat of the particles is left out of the
 * steady loads, since the hits bring it.
 * @throws FieldError, UnknownNameError; RangeError where more than 1 % of the hits lead to where a law is
 * refused; SolveError
 * @example simulateHits({ ...mount, loads: [{ kind: "muons" }] }, { duration: "10 min" }).toText()
 */
export function simulateHits(mount: Mount, options: HitSimulationOptions = {}): HitSimulation {
  const { seed = 1, relativeTolerance = 1e-6 } = options;
  const catalogue = options.catalogue ?? standardCatalogue();
  const duration = positive("duration", options.duration ?? "1 h", "time");
  const plain = readMount(mount);
  const hasCells = dieModel(plain) === "sheet";
  const model = new MountModel(plain, catalogue, hasCells ? { die: "two nodes" } : {});
  const given = options.sources?.map((source) => ({ on: "die", source }));
  const particles = given ?? particleSources(plain, catalogue);
  const sources = particles.map(({ source }) => source);
  const onWhat = new Map(particles.map(({ on, source }) => [source.name, on]));
  if (sources.length === 0) {
    throw new FieldError("loads", "muons or background in the mount, or `sources`", undefined);
  }
  const run = inTime(model);
  const quiet = run.loads.filter(({ source }) => !source.particles);
  const network = new TransientNetwork(loadedNetwork(run, quiet));
  const hits = particleHits(sources, { duration, seed });

  const { structure } = run;
  const chip = structure.chip.name;
  const isDie = (on: string) => structure.dies.some(({ name }) => name === on);
  const beside = new Map(
    structure.heated.flatMap(({ on, place }) => (isDie(on) ? [] : [[on, place.name] as const])),
  );
  let solution = network.run({ duration: 1e-9, relativeTolerance });
  const baseline = solution.temperature(chip, 0);
  const stage = solution.temperature(structure.stage.name, 0);
  const threshold =
    options.above === undefined
      ? model.limit?.(stage)
      : positive("above", options.above, "temperature");
  const clock = new Clock(baseline, threshold);
  const { nodes: names } = solution;
  const guard = new RangeGuard(run.laws, names);
  const tally = new RangeTally(guard.ranges);
  const leftBy = (of: TransientSolution) => {
    const extents = names.map((name) => of.extent(name));
    return guard.left(
      extents.map(([low]) => low),
      extents.map(([, high]) => high),
    );
  };
  const storing = run.network.nodes.filter(({ store }) => store);
  const recorded: RecordedHit[] = [];
  let state: ReadonlyMap<string, number> = solution.at(0);
  clock.quiet(hits[0]?.time ?? duration);
  if (hits.length === 0) tally.count(leftBy(solution));
  hits.forEach((hit, i) => {
    const until = hits[i + 1]?.time ?? duration;
    if (!(until > hit.time)) {
      throw new FieldError("hits", "hits at different times", hit.time);
    }
    const on = onWhat.get(hit.source)!;
    const elsewhere = beside.get(on);
    const nodes = elsewhere ? [{ node: elsewhere, share: 1 }] : run.hit(undefined, "hits", on);
    const pulses = nodes.map(({ node, share }) => ({ time: 0, node, energy: share * hit.energy }));
    solution = network.run({
      duration: until - hit.time,
      start: new Map(storing.map(({ name }) => [name, state.get(name)!])),
      pulses,
      maxSteps: mostStepsEach,
      relativeTolerance,
    });
    tally.count(leftBy(solution));
    const before = state.get(chip)!;
    recorded.push({ ...hit, height: clock.count(solution, chip) - before });
    state = solution.at(until - hit.time);
  });
  return new HitSimulation({
    name: mount.name,
    sources,
    hits: recorded,
    duration,
    seed,
    baseline,
    threshold,
    deadTime: clock.deadTime,
    excursions: clock.excursions,
    distribution: { rises: levels, times: clock.timesAbove() },
    meanRise: clock.integral / duration,
    warnings: [
      ...run.warnings,
      ...tally.warnings("hits", options),
      ...run.loads.flatMap(({ load }) => load.warnings),
      ...(hasCells ? ["The die has two nodes here: each hit warms all of it at once."] : []),
    ],
    provenance: () =>
      distinct([...provenanceInTime(run), ...sources.flatMap(({ provenance }) => provenance)]),
  });
}

/** Adds up how long the chip is above each level, and above the threshold. */
class Clock {
  deadTime = 0;
  excursions = 0;
  /** ∫ rise dt [K s] */
  integral = 0;
  #isAbove = false;
  /** Time spent between each level and the next [s]. */
  readonly #between = new Float64Array(levels.length);

  constructor(
    readonly baseline: number,
    readonly threshold: number | undefined,
  ) {
    this.#isAbove = threshold !== undefined && baseline > threshold;
    if (this.#isAbove) this.excursions = 1;
  }

  /** Time in the steady state. */
  quiet(time: number): void {
    if (this.#isAbove) this.deadTime += time;
  }

  /** Counts a run. @returns the highest temperature in it [K] */
  count(solution: TransientSolution, chip: string): number {
    const { times } = solution;
    const T = solution.temperatures(chip);
    let highest = T[0]!;
    for (let i = 1; i < times.length; i++) {
      highest = Math.max(highest, T[i]!);
      const step = times[i]! - times[i - 1]!;
      if (step === 0) {
        this.#cross(T[i]!);
        continue;
      }
      // A step is cut in four, and each piece is a straight line.
      let from = times[i - 1]!;
      let warm = T[i - 1]!;
      for (let k = 1; k <= 4; k++) {
        const to = times[i - 1]! + (step * k) / 4;
        const next = k === 4 ? T[i]! : solution.temperature(chip, to);
        this.#piece(warm, next, to - from);
        from = to;
        warm = next;
      }
    }
    return highest;
  }

  /** Time above each level [s]. */
  timesAbove(): Float64Array {
    const above = new Float64Array(levels.length);
    let sum = 0;
    for (let i = levels.length - 1; i >= 0; i--) {
      sum += this.#between[i]!;
      above[i] = sum;
    }
    return above;
  }

  #cross(to: number): void {
    if (this.threshold === undefined) return;
    const above = to > this.threshold;
    if (above && !this.#isAbove) this.excursions++;
    this.#isAbove = above;
  }

  #piece(a: number, b: number, time: number): void {
    const [low, high] = [Math.min(a, b) - this.baseline, Math.max(a, b) - this.baseline];
    this.integral += ((low + high) / 2) * time;
    if (this.threshold !== undefined) {
      const limit = this.threshold - this.baseline;
      this.deadTime += time * shareAbove(low, high, limit);
      this.#cross(b);
    }
    const first = Math.max(0, indexBelow(low));
    for (let i = first; i < levels.length && levels[i]! < high; i++) {
      const top = levels[i + 1] ?? Number.POSITIVE_INFINITY;
      const share = shareAbove(low, high, levels[i]!) - shareAbove(low, high, top);
      this.#between[i] = this.#between[i]! + share * time;
    }
  }
}

/** Of a straight line from low to high, the share above a level. */
function shareAbove(low: number, high: number, level: number): number {
  if (level <= low) return 1;
  if (level >= high) return 0;
  return (high - level) / (high - low);
}

/** Index of the last level not above a rise; −1 when it is below all. */
function indexBelow(rise: number): number {
  if (!(rise > 0)) return -1;
  return Math.min(levels.length - 1, Math.floor((Math.log10(rise) + 9) * levelsPerDecade));
}
