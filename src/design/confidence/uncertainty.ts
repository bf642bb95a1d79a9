/**
 * How warm the chip gets when not everything is known: its median, its band, and the chance that it
 * stays under its limit; and how many bonds it takes to be as sure as one wants to be.
 *
 * Samples are points of a scrambled Sobol' sequence, in several independent replicates; how much these
 * differ among each other says how far each quoted number may be off for being sampled (A. B. Owen,
 * Scrambled net variance for integrals of smooth functions, Ann. Statist. 25, 1541 (1997)).
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { CatalogueChoice } from "../../materials/types.js";
import { dieModel } from "../../mount/assemble.js";
import type { Mount } from "../../mount/mount.js";
import { provenanceLater } from "../../mount/numbers.js";
import { readMount } from "../../mount/read.js";
import { isResolved } from "../../mount/things/die.js";
import { FieldError } from "../../units/errors.js";
import { roomToCount } from "../sizing/size.js";
import { Confidence } from "./confidence.js";
import { ConfidentSizing } from "./confident-sizing.js";
import { sharedError } from "./flown-samples.js";
import { defaultRunner } from "./pool.js";
import { fewestWith, type QuickSearch, searchedQuickly } from "./quick-search.js";
import { type OutsideOptions, RangeTally } from "./sampled-ranges.js";
import {
  chunksOf,
  compiledOnce,
  joined,
  perSample,
  type RunOptions,
  type SampleJob,
  type SampleRunner,
} from "./samples.js";
import {
  correctedSamples,
  correctionOf,
  drawnFrom,
  type Levelled,
  type Levels,
  levelsOf,
  pilotSolves,
  shareBelow,
} from "./two-levels.js";
import type { UncertainRows } from "./uncertain-mount.js";

/** How to sample. */
export interface ConfidenceOptions extends RunOptions, CatalogueChoice, OutsideOptions {
  /** Uncertain rows of the catalogue: all that move the result when absent. */
  readonly rows?: UncertainRows;
  /**
   * Wanted standard error of the chance to meet the limit; 0.003 by default. As many samples are taken as
   * that needs, at 0.003 16,384 or more; for a 2-D die by the two-node model of it, with some by the 2-D one, so that
   * the chance is that of the 2-D die without bias.
   */
  readonly within?: number;
  /**
   * In the place of `within`: how many samples, all by the mount's own model of the die, such as for shards;
   * rounded up to a power of two for each replicate.
   */
  readonly samples?: number;
  /** Independent replicates, 4 to 64; 16, or 8 for samples of a 2-D die. */
  readonly replicates?: number;
  /** A whole number; one seed, one result. 1 when absent. */
  readonly seed?: number;
  /** Who solves the samples; all processors when absent, where there are workers. */
  readonly runner?: SampleRunner;
}

/**
 * Samples a mount over its spreads and the uncertain rows of the catalogue.
 * @throws FieldError or UnknownNameError as `thermalBudget`; RangeError where more than 1 % of the samples
 * leave a range beyond which a law is refused; the signal's reason when it is aborted: a part of the
 * samples is never returned for the whole
 * @example (await confidence(mount)).summary
 */
export async function confidence(
  mount: Mount,
  options: ConfidenceOptions = {},
): Promise<Confidence> {
  return sampled(samplingOf(mount, options), options);
}

/**
 * The smallest number of bonds with which the chip stays at or below its limit with a wanted chance. All numbers of
 * bonds are tried on the same samples, so that they differ by the bonds alone. More bonds are taken
 * never to warm the chip.
 * @param options - probability: between 0 and 1, 0.95 when absent
 * @throws FieldError when the mount has no bonds or no limit; and as `confidence`
 */
export async function sizeWithConfidence(
  mount: Mount,
  options: ConfidenceOptions & { readonly probability?: number } = {},
): Promise<ConfidentSizing> {
  const { probability = 0.95 } = options;
  if (!(probability > 0 && probability < 1)) {
    throw new FieldError("probability", "a number between 0 and 1", probability);
  }
  const plain = readMount(mount);
  const room = roomToCount(plain);
  const sampling = samplingOf(mount, options);
  const found = new Map<number, Confidence>();
  const start = mount.bonds!.count;
  const levels =
    sampling.levels &&
    (await searchedQuickly(sampling.levels(), sampling, probability, room, start, options));
  // How many are to be tried is not known; from a near guess it is about this many.
  const foreseen = levels ? 3 : 5;
  const chanceOf = async (bonds: number): Promise<number> => {
    const tried = found.size;
    const known = found.get(bonds);
    if (known) return known.chance!.value;
    const progress: RunOptions["progress"] = (done, total) =>
      options.progress?.(tried * total + done, Math.max(tried + 1, foreseen) * total);
    const own = { ...sampling, job: { ...sampling.job, bonds } };
    // What a number that is not the answer leaves is told beside it.
    const made = await sampled(own, { ...options, progress, acceptOutside: true }, levels);
    found.set(bonds, made);
    return made.chance!.value;
  };
  let guess = levels?.guess ?? (await roughly(sampling, probability, room, options));
  // By how much the 2-D die is off from what was fitted to it is about the same for numbers near by.
  if (levels) guess = await levels.fewest(guess, await chanceOf(guess));
  const count = await fewestWith(probability, room, guess, chanceOf);
  // Fewer tries than were foreseen: nothing is left to do.
  options.progress?.(1, 1);
  const tried = [...found]
    .map(([bonds, { chance, outside }]) => ({ count: bonds, chance: chance!, outside }))
    .sort((a, b) => a.count - b.count);
  const shown = found.get(count ?? room)!;
  shown.demandBacked(options);
  const fit = levels?.correction.expensive ?? 0;
  const expensive = [...found.values()].reduce((sum, own) => sum + own.expensive - fit, fit);
  return new ConfidentSizing({ probability, count, room, confidence: shown, tried, expensive });
}

/** Samples of each replicate that tell about where to search. */
const few = 64;

/** Where to search, by the first few samples of each replicate. */
async function roughly(
  sampling: Sampling,
  probability: number,
  room: number,
  options: ConfidenceOptions,
): Promise<number> {
  const start = sampling.job.mount.bonds!.count;
  if (sampling.each <= few) return start;
  const { runner, signal } = options;
  const still = { ...(runner && { runner }), ...(signal && { signal }) };
  const chanceOf = async (bonds: number) => {
    const own = { ...sampling, each: few, job: { ...sampling.job, bonds } };
    return shareBelow([await solveSamples(own, 0, few * sampling.replicates, still)])[0];
  };
  return (await fewestWith(probability, room, start, chanceOf)) ?? room;
}

type Sampling = ReturnType<typeof samplingOf>;

/**
 * What is sampled, and how: everything for a run but the number of bonds.
 * @throws FieldError as `confidence`
 */
export function samplingOf(mount: Mount, options: ConfidenceOptions) {
  const sheet = isResolved(dieModel(readMount(mount)));
  const { within = options.samples === undefined ? 3e-3 : undefined } = options;
  const both = sheet && within !== undefined;
  const { seed = 1, replicates = sheet && !both ? 8 : 16 } = options;
  // To begin with as many as if they were independent, of any chance.
  const first = Math.min(16_384, Math.max(1024, Math.ceil(0.25 / (within ?? 1) ** 2)));
  const { samples = first } = options;
  if (options.samples !== undefined && options.within !== undefined) {
    throw new FieldError("samples", "either samples or within, not both", options.samples);
  }
  if (within !== undefined && !(within >= 1e-4 && within <= 0.1)) {
    throw new FieldError("within", "a standard error from 0.0001 to 0.1", within);
  }
  if (!(Number.isInteger(replicates) && replicates >= 4 && replicates <= 64)) {
    throw new FieldError("replicates", "a whole number from 4 to 64", replicates);
  }
  if (!(Number.isInteger(samples) && samples >= replicates && samples <= 1e8)) {
    throw new FieldError("samples", `a whole number from ${replicates} to 100000000`, samples);
  }
  const catalogue = options.catalogue ?? standardCatalogue();
  const compiled = compiledOnce(mount, { catalogue, rows: options.rows ?? "all" });
  const { inputs, recipe, ranges, together } = compiled;
  const job: SampleJob = { mount, catalogue: catalogue.origin, recipe, seed, together };
  let known: Levels | undefined;
  let error: number | undefined;
  const isThinned = recipe.flownFactor !== undefined;
  return {
    compiled,
    job,
    replicates,
    /** Samples of each replicate. */
    each: 2 ** Math.ceil(Math.log2(samples / replicates)),
    /** Most samples of a chunk. */
    longest: sheet ? 16 : 2048,
    /** Wanted standard error of the chance; undefined where the number of samples is given. */
    within,
    /** Compiles the two-node model of a 2-D die, where samples are to be taken by both. */
    levels: both ? () => (known ??= levelsOf(job, inputs, ranges, catalogue)) : undefined,
    provenance: provenanceLater(mount, catalogue),
    /** Standard error of the rise by the chance of flights, in parts of it. */
    flown: () => (error ??= sharedError(readMount(mount), catalogue, isThinned)),
  };
}

/**
 * Samples from one up to another, counted through all replicates: `perSample` numbers of each.
 * @throws the signal's reason when it is aborted
 */
export async function solveSamples(
  { job, replicates, each, longest }: Sampling,
  from: number,
  to: number,
  options: ConfidenceOptions,
): Promise<Float64Array> {
  const { runner = defaultRunner, signal } = options;
  signal?.throwIfAborted();
  const chunks = chunksOf(replicates, each, longest).flatMap((chunk) => {
    const start = chunk.replicate * each + chunk.from;
    const [first, end] = [Math.max(start, from), Math.min(start + chunk.count, to)];
    return first < end ? [{ ...chunk, from: chunk.from + first - start, count: end - first }] : [];
  });
  const results = await runner(job, chunks, options);
  signal?.throwIfAborted();
  const whole =
    results.length === chunks.length &&
    results.every((own, k) => own.length === perSample * chunks[k]!.count);
  if (!whole) throw new Error("confidence: the runner did not return every sample.");
  return joined(results);
}

/**
 * @param values - of all samples, replicate by replicate
 * @throws RangeError as `confidence`
 */
export function confidenceOf(
  sampling: Sampling,
  values: Float64Array,
  options: OutsideOptions,
): Confidence {
  const { replicates } = sampling;
  const each = values.length / replicates;
  const parts = Array.from({ length: replicates }, (_, r) =>
    values.slice(r * each, (r + 1) * each),
  );
  return answered(sampling, parts, options);
}

function answered(
  { job, compiled: { inputs, ranges, warnings, pairs }, provenance, flown }: Sampling,
  replicates: readonly Float64Array[],
  options: OutsideOptions,
  levelled?: Levelled,
): Confidence {
  const tally = new RangeTally(ranges);
  for (const own of replicates) {
    for (let k = perSample - 1; k < own.length; k += perSample) tally.count(own[k]!);
  }
  for (const [own, quick, weight] of levelled?.lefts ?? []) {
    if (own === quick) continue;
    tally.count(own, weight);
    tally.count(quick, -weight);
  }
  const told = [...tally.warnings("samples", { acceptOutside: true }), ...warnings];
  const { name, limit } = job.mount;
  const limited = limit !== undefined;
  const content = { seed: job.seed, limited, warnings: told, provenance, pairs };
  const made = new Confidence(name, inputs, replicates, content, tally, levelled, flown());
  made.demandBacked(options);
  return made;
}

/** Most samples that are taken in all to bring an error down. */
const mostSamples = 2 ** 24;

async function sampled(
  sampling: Sampling,
  options: ConfidenceOptions,
  search?: QuickSearch,
): Promise<Confidence> {
  if (sampling.levels) return levelled(sampling, options, search);
  const { replicates, within = Number.POSITIVE_INFINITY } = sampling;
  for (let { each } = sampling; ; each *= 2) {
    const now = { ...sampling, each };
    const values = await solveSamples(now, 0, replicates * each, options);
    const isLast = 2 * each * replicates > mostSamples;
    const made = confidenceOf(now, values, { acceptOutside: true });
    if (!isLast && made.chance && made.chance.error > within) continue;
    made.demandBacked(options);
    return made;
  }
}

/** Samples of the two-node model of a 2-D die, with as many of the 2-D one as the error that is wanted takes. */
async function levelled(
  sampling: Sampling,
  options: ConfidenceOptions,
  search?: QuickSearch,
): Promise<Confidence> {
  const { replicates, job } = sampling;
  const { runner = defaultRunner, signal } = options;
  const { bonds } = job;
  const levels = { ...sampling.levels!(), own: job };
  // What is done is told in solves of the 2-D die, about as many as will be.
  const toFit = search ? 0 : pilotSolves(levels);
  const foreseen = toFit + 64;
  const telling = (from: number): RunOptions => ({
    ...(signal && { signal }),
    progress: (done) => options.progress?.(Math.min(from + done, foreseen - 1), foreseen),
  });
  const still: RunOptions = { ...(signal && { signal }) };
  const correction = search?.correction ?? (await correctionOf(levels, [], runner, telling(0)));
  let wanted = sampling.within!;
  for (let { each } = sampling; ; each *= 2) {
    const of = { replicates, each, bonds };
    const samples =
      search && each === sampling.each
        ? await search.samples(bonds!)
        : await correctedSamples(levels, correction, of, runner, still);
    const isLast = 2 * each * replicates > mostSamples;
    if (!isLast && job.mount.limit && shareBelow(samples)[1] > 0.8 * sampling.within!) continue;
    const by = { bonds, within: 0.7 * wanted, draw: search?.draw };
    const found = await drawnFrom(levels, correction, samples, by, runner, telling(toFit));
    if (search) search.draw ??= found.draw;
    const made = answered(sampling, samples, { acceptOutside: true }, found);
    // The draw told more than it was foreseen to leave: another, with more.
    if (!isLast && made.chance && made.chance.error > sampling.within! && wanted > 1e-5) {
      wanted /= 2;
      if (search) search.draw = undefined;
      continue;
    }
    options.progress?.(foreseen, foreseen);
    made.demandBacked(options);
    return made;
  }
}
