/**
 * How warm the chip gets when not everything is known: its median, its band, and the chance that it
 * stays under its limit; and how many bonds it takes to be as sure as one wants to be.
 *
 * Samples are points of a scrambled Sobol' sequence, in several independent arrangements; how much these
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
import type { Provenance } from "../../provenance.js";
import { FieldError } from "../../units/errors.js";
import { leastThatHolds, roomToCount } from "../sizing/size.js";
import { Confidence } from "./confidence.js";
import { ConfidentSizing } from "./confident-sizing.js";
import { defaultRunner } from "./pool.js";
import { type OutsideOptions, RangeTally, type SampledRange } from "./sampled-ranges.js";
import {
  chunksOf,
  keepCompiled,
  perSample,
  type RunOptions,
  type SampleJob,
  type SampleRunner,
} from "./samples.js";
import type { UncertainInput } from "./uncertain-inputs.js";
import { type UncertainRows, uncertainMount } from "./uncertain-mount.js";

/** How to sample. */
export interface ConfidenceOptions extends RunOptions, CatalogueChoice, OutsideOptions {
  /** Uncertain rows of the catalogue: all that move the result when absent. */
  readonly rows?: UncertainRows;
  /** In all; rounded up to a power of two for each arrangement. 16,384, or 1024 for a sheet. */
  readonly samples?: number;
  /** Independent arrangements, 4 to 64; 16, or 8 for a sheet. */
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
 * The fewest bonds with which the chip stays at or below its limit with a wanted chance. All numbers of
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
  const search = leastThatHolds(room, plain.bonds!.count);
  // How many are to be tried is not known; halving takes about this many.
  const foreseen = Math.ceil(Math.log2(room)) + 2;
  let step = search.next();
  while (!step.done) {
    const bonds = step.value;
    const tried = found.size;
    const progress: RunOptions["progress"] = (done, total) =>
      options.progress?.(tried * total + done, Math.max(tried + 1, foreseen) * total);
    const own = { ...sampling, job: { ...sampling.job, bonds } };
    // What a number that is not the answer leaves is told beside it.
    const made = await sampled(own, { ...options, progress, acceptOutside: true });
    found.set(bonds, made);
    step = search.next(made.chance!.value >= probability);
  }
  const count = step.value;
  // Fewer tries than were foreseen: nothing is left to do.
  options.progress?.(1, 1);
  const tried = [...found]
    .map(([bonds, { chance, outside }]) => ({ count: bonds, chance: chance!, outside }))
    .sort((a, b) => a.count - b.count);
  const shown = found.get(count ?? room)!;
  shown.demandBacked(options);
  return new ConfidentSizing({ probability, count, room, confidence: shown, tried });
}

/** What is sampled, and how. */
export interface Sampling {
  readonly job: SampleJob;
  readonly inputs: readonly UncertainInput[];
  readonly replicates: number;
  /** Samples of each replicate. */
  readonly each: number;
  /** Most samples of a chunk. */
  readonly longest: number;
  readonly limited: boolean;
  readonly ranges: readonly SampledRange[];
  /** Told of the mount whatever the values. */
  readonly warnings: readonly string[];
  /** Lists the numbers of the mount. */
  readonly provenance: () => readonly Provenance[];
}

/**
 * Everything for a run but the number of bonds.
 * @throws FieldError as `confidence`
 */
export function samplingOf(mount: Mount, options: ConfidenceOptions): Sampling {
  const sheet = isResolved(dieModel(readMount(mount)));
  const { seed = 1, replicates = sheet ? 8 : 16, samples = sheet ? 1024 : 16_384 } = options;
  if (!(Number.isInteger(replicates) && replicates >= 4 && replicates <= 64)) {
    throw new FieldError("replicates", "a whole number from 4 to 64", replicates);
  }
  if (!(Number.isInteger(samples) && samples >= replicates && samples <= 1e8)) {
    throw new FieldError("samples", `a whole number from ${replicates} to 100000000`, samples);
  }
  const catalogue = options.catalogue ?? standardCatalogue();
  const compiled = uncertainMount(mount, { catalogue, rows: options.rows ?? "all" });
  const { inputs, recipe, ranges, warnings } = compiled;
  const job: SampleJob = { mount, catalogue: catalogue.origin, recipe, seed };
  keepCompiled(job, compiled);
  const each = 2 ** Math.ceil(Math.log2(samples / replicates));
  const limited = mount.limit !== undefined;
  const provenance = provenanceLater(mount, catalogue);
  const longest = sheet ? 16 : 2048;
  return { job, inputs, replicates, each, longest, limited, ranges, warnings, provenance };
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
  const values = new Float64Array(perSample * (to - from));
  let at = 0;
  for (const own of results) {
    values.set(own, at);
    at += own.length;
  }
  return values;
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
  const { job, inputs, replicates, each, limited, ranges, warnings, provenance } = sampling;
  const tally = new RangeTally(ranges);
  for (let k = perSample - 1; k < values.length; k += perSample) tally.count(values[k]!);
  const parts = Array.from({ length: replicates }, (_, r) =>
    values.slice(r * each * perSample, (r + 1) * each * perSample),
  );
  const told = [...tally.warnings("samples", { acceptOutside: true }), ...warnings];
  const content = { seed: job.seed, limited, warnings: told, provenance };
  const made = new Confidence(job.mount.name, inputs, parts, content, tally);
  made.demandBacked(options);
  return made;
}

async function sampled(sampling: Sampling, options: ConfidenceOptions): Promise<Confidence> {
  const values = await solveSamples(sampling, 0, sampling.replicates * sampling.each, options);
  return confidenceOf(sampling, values, options);
}
