/**
 * Samples of an uncertain mount in chunks, which may be solved anywhere: in this process, or by workers.
 * A chunk's samples depend on its indices alone, and the
 * chunks are put together in order, so the result is the same wherever and by however many it is made.
 * @module
 */
import { catalogueFrom } from "../../materials/catalogue.js";
import type { Catalogue, CatalogueOrigin } from "../../materials/types.js";
import type { Mount } from "../../mount/mount.js";
import type { DieModel } from "../../mount/things/die.js";
import { type Random, random } from "../../numerics/random.js";
import { Sobol } from "../../numerics/sobol.js";
import { type CorrelatedInputs, correlate } from "./correlated.js";
import type { UncertainInput } from "./uncertain-inputs.js";
import {
  type MountRecipe,
  type UncertainMount,
  type UncertainRows,
  uncertainMount,
} from "./uncertain-mount.js";

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
  /** That the replicates are drawn with. */
  readonly seed: number;
  /** Another model of the die than the mount's own, on the points of the mount's own inputs. */
  readonly quick?: QuickDie;
  /** Of the mount's own inputs, those that vary together. */
  readonly together?: readonly CorrelatedInputs[];
}

/** A mount with another model of its die, at the values of another compiled mount's inputs. */
export interface QuickDie {
  readonly die: DieModel;
  /** Inputs of the mount's own model: dimensions of the sequence. */
  readonly inputs: number;
  /** Which of them each input of the two-node model is. */
  readonly at: readonly number[];
}

/** Points of one replicate of the sequence. */
export interface SampleChunk {
  /** Which replicate, from 0. */
  readonly replicate: number;
  /** Its first point, from 0. */
  readonly from: number;
  /** How many points. */
  readonly count: number;
  /** Only these, counted from the first of the arrangement; `count` of them. */
  readonly points?: readonly number[];
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

/** What was compiled last: a mount by its own model of the die, and by the two-node one. */
const kept: {
  readonly mount: string;
  readonly catalogue: CatalogueOrigin;
  readonly asked: UncertainRows;
  readonly die: DieModel | undefined;
  readonly compiled: UncertainMount;
}[] = [];

/**
 * An uncertain mount, compiled once for calls that follow each other.
 * @param rows - as asked for, by which it is found again
 * @throws as `uncertainMount`
 */
export function compiledOnce(
  mount: Mount,
  { catalogue, rows, die }: { catalogue: Catalogue; rows: UncertainRows; die?: DieModel },
): UncertainMount {
  return found(
    { mount: JSON.stringify(mount), catalogue: catalogue.origin, asked: rows, die },
    (each) => each.catalogue === catalogue.origin && sameRows(each.asked, rows),
    () => uncertainMount(mount, { catalogue, rows, ...(die && { die }) }),
  );
}

type Kept = (typeof kept)[number];

/** What was compiled of a mount and a model of its die, or is now. */
function found(
  wanted: Omit<Kept, "compiled">,
  isIt: (each: Kept) => boolean,
  compile: () => UncertainMount,
): UncertainMount {
  const known = kept.find(
    (each) => each.mount === wanted.mount && each.die === wanted.die && isIt(each),
  );
  if (known) return known.compiled;
  const compiled = compile();
  if (kept.length === 2) kept.shift();
  kept.push({ ...wanted, compiled });
  return compiled;
}

function sameRows(some: UncertainRows, other: UncertainRows): boolean {
  return typeof some === "string" || typeof other === "string"
    ? some === other
    : some.join() === other.join();
}

function compiledFor({ mount, catalogue, recipe, quick }: SampleJob): UncertainMount {
  const die = quick?.die;
  return found(
    { mount: JSON.stringify(mount), catalogue, asked: recipe.rows, die },
    ({ compiled, ...each }) => {
      const rows = compiled.inputs.flatMap(({ row }) => row ?? []);
      // A worker has a copy of the catalogue for each chunk.
      const isSame = () => JSON.stringify(each.catalogue) === JSON.stringify(catalogue);
      return sameRows(rows, recipe.rows) && (each.catalogue === catalogue || isSame());
    },
    () =>
      uncertainMount(mount, {
        catalogue: catalogueFrom(catalogue),
        recipe,
        ...(die && { die }),
      }),
  );
}

/** The numbers of each sample of a chunk. @throws FieldError for a value the mount refuses */
export function solveChunk(job: SampleJob, chunk: SampleChunk): Float64Array {
  const whole = compiledFor(job);
  const mount = job.bonds === undefined ? whole : whole.withBonds(job.bonds);
  const results = new Float64Array(perSample * chunk.count);
  const { inputs = mount.inputs.length, at } = job.quick ?? {};
  const values = new Float64Array(mount.inputs.length);
  forPoints(job.seed, chunk, inputs, (point, n) => {
    correlate(point, job.together);
    for (let i = 0; i < values.length; i++) {
      values[i] = mount.inputs[i]!.quantile(point[at ? at[i]! : i]!);
    }
    const { chip, stage, limit, left } = mount.evaluate(values);
    const place = perSample * n;
    results[place] = chip;
    results[place + 1] = stage;
    results[place + 2] = limit;
    results[place + 3] = left;
  });
  return results;
}

/** Visits the points of a chunk, between 0 and 1 in each dimension, in one array that is written again. */
export function forPoints(
  seed: number,
  { replicate, from, count, points }: SampleChunk,
  dimension: number,
  visit: (point: Float64Array, n: number) => void,
): void {
  const sequence = new Sobol(Math.max(1, dimension), random(seed, replicate));
  const point = new Float64Array(sequence.dimension);
  if (!points) sequence.start(from);
  for (let n = 0; n < count; n++) {
    if (points) sequence.start(points[n]!);
    sequence.next(point);
    visit(point, n);
  }
}

/** Inputs of a model to draw, and which of them vary together. */
export interface DrawnInputs {
  readonly inputs: readonly Pick<UncertainInput, "quantile">[];
  readonly together?: readonly CorrelatedInputs[];
}

/** Values of the inputs at the points of a scrambled sequence, in one array that is written again. */
export function* draws({ inputs, together }: DrawnInputs, samples: number, scrambling: Random) {
  const sequence = new Sobol(Math.max(1, inputs.length), scrambling);
  const point = new Float64Array(sequence.dimension);
  const values = new Float64Array(inputs.length);
  for (let n = 0; n < samples; n++) {
    sequence.next(point);
    correlate(point, together);
    for (let i = 0; i < values.length; i++) values[i] = inputs[i]!.quantile(point[i]!);
    yield values;
  }
}

/** Samples of several chunks in one array. */
export function joined(parts: readonly Float64Array[]): Float64Array {
  const whole = new Float64Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

/** Mean of independent estimates and its standard error. */
export function meanAndError(estimates: readonly number[]): readonly [mean: number, error: number] {
  const n = estimates.length;
  const mean = estimates.reduce((sum, x) => sum + x / n, 0);
  const square = estimates.reduce((sum, x) => sum + (x - mean) ** 2, 0);
  return [mean, Math.sqrt(square / (n * (n - 1)))];
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
