/**
 * Samples of an uncertain mount in chunks, which may be solved anywhere: in this process, or by workers.
 * A chunk's samples depend on its indices alone, and the
 * chunks are put together in order, so the result is the same wherever and by however many it is made.
 * @module
 */
import { catalogueFrom } from "../../materials/catalogue.js";
import type { CatalogueOrigin } from "../../materials/types.js";
import type { Mount } from "../../mount/mount.js";
import { type Random, random } from "../../numerics/random.js";
import { Sobol } from "../../numerics/sobol.js";
import type { UncertainInput } from "./uncertain-inputs.js";
import { type MountRecipe, type UncertainMount, uncertainMount } from "./uncertain-mount.js";

/** What to solve; plain data, so that it can be sent. */
export interface SampleJob {
  /** The mount as it was written. */
  readonly mount: Mount;
  /** Where its data come from, so that another thread can read them. */
  readonly catalogue: CatalogueOrigin;
  /** What compiling found out, so that a worker need not search again. */
  readonly recipe: MountRecipe;
  /** In the place of the mount's own number. */
  readonly bonds?: number;
  /** That the arrangements are drawn with. */
  readonly seed: number;
}

/** Points of one arrangement of the sequence. */
export interface SampleChunk {
  /** Which arrangement, from 0. */
  readonly replicate: number;
  /** Its first point, from 0. */
  readonly from: number;
  /** How many points. */
  readonly count: number;
}

/** Numbers of each sample: chip, stage and limit [K], and the bits of the ranges that it left. */
export const perSample = 4;

/** What a run is told, and told to tell. */
export interface RunOptions {
  /** Aborts the run. */
  readonly signal?: AbortSignal;
  /** Called after each chunk with how many samples are solved. */
  readonly progress?: (done: number, total: number) => void;
}

/** Solves chunks; the results are in the order of the chunks. Rejects unless all of them are whole. */
export type SampleRunner = (
  job: SampleJob,
  chunks: readonly SampleChunk[],
  options: RunOptions,
) => Promise<readonly Float64Array[]>;

/** Solves chunk by chunk in this process, pausing after each so that others can run. */
export const solveHere: SampleRunner = async (job, chunks, { signal, progress }) => {
  const results: Float64Array[] = [];
  const total = chunks.reduce((sum, { count }) => sum + count, 0);
  let done = 0;
  for (const chunk of chunks) {
    signal?.throwIfAborted();
    results.push(solveChunk(job, chunk));
    done += chunk.count;
    progress?.(done, total);
    await new Promise<void>((resolve) => setTimeout(resolve, 0));
  }
  signal?.throwIfAborted();
  return results;
};

/** The mount last compiled: chunks of one job come one after the other. */
let kept: { readonly key: string; readonly compiled: UncertainMount } | undefined;

function compiledFor(job: SampleJob): UncertainMount {
  const key = keyOf(job);
  if (kept?.key !== key) {
    const { mount, catalogue, recipe } = job;
    const options = { catalogue: catalogueFrom(catalogue), recipe };
    kept = { key, compiled: uncertainMount(mount, options) };
  }
  return kept.compiled;
}

function keyOf({ mount, catalogue, recipe }: SampleJob): string {
  return JSON.stringify([mount, catalogue, recipe.rows]);
}

/** Keeps a mount that is compiled already for the chunks that will be solved here. */
export function keepCompiled(job: SampleJob, compiled: UncertainMount): void {
  kept = { key: keyOf(job), compiled };
}

/** The numbers of each sample of a chunk. @throws FieldError for a value the mount refuses */
export function solveChunk(job: SampleJob, chunk: SampleChunk): Float64Array {
  const whole = compiledFor(job);
  const mount = job.bonds === undefined ? whole : whole.withBonds(job.bonds);
  const scrambling = random(job.seed, chunk.replicate);
  const results = new Float64Array(perSample * chunk.count);
  let at = 0;
  for (const values of draws(mount.inputs, chunk.count, scrambling, chunk.from)) {
    const { chip, stage, limit, left } = mount.evaluate(values);
    results[at++] = chip;
    results[at++] = stage;
    results[at++] = limit;
    results[at++] = left;
  }
  return results;
}

/** Values of the inputs at the points of a scrambled sequence, in one array that is written again. */
export function* draws(
  inputs: readonly Pick<UncertainInput, "quantile">[],
  samples: number,
  scrambling: Random,
  from = 0,
) {
  const sequence = new Sobol(Math.max(1, inputs.length), scrambling);
  sequence.start(from);
  const point = new Float64Array(sequence.dimension);
  const values = new Float64Array(inputs.length);
  for (let n = 0; n < samples; n++) {
    sequence.next(point);
    for (let i = 0; i < values.length; i++) values[i] = inputs[i]!.quantile(point[i]!);
    yield values;
  }
}

/** Samples cut into chunks: each replicate by itself, and no chunk longer than `longest`. */
export function chunksOf(replicates: number, each: number, longest: number): SampleChunk[] {
  const chunks: SampleChunk[] = [];
  for (let replicate = 0; replicate < replicates; replicate++) {
    for (let from = 0; from < each; from += longest) {
      chunks.push({ replicate, from, count: Math.min(longest, each - from) });
    }
  }
  return chunks;
}
