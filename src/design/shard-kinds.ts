/**
 * The kinds of work that can be split over the tasks of a cluster: sweeps, and samples of an uncertain
 * mount.
 * @module
 */
import type { CatalogueChoice } from "../materials/types.js";
import type { Mount } from "../mount/mount.js";
import { csvLine } from "../units/table.js";
import type { Confidence } from "./confidence/confidence.js";
import {
  type ConfidenceOptions,
  confidenceOf,
  samplingOf,
  solveSamples,
} from "./confidence/uncertainty.js";
import type { MountField } from "./field.js";
import {
  type ComputedRows,
  merge,
  type RowWork,
  type Shard,
  type ShardFile,
  shard,
} from "./shard.js";
import type { Axis } from "./sweeping/axis.js";
import type { Sweep } from "./sweeping/sweep-result.js";
import { readSweep, solvePoints, sweepOf } from "./sweeping/sweep-work.js";

/** A sweep, a row a point. @throws FieldError as `sweep` */
export function sweepWork<A extends MountField, B extends MountField>(
  mount: Mount,
  first: Axis<A>,
  second: Axis<B> | undefined,
  { catalogue }: CatalogueChoice = {},
): RowWork<Sweep, ComputedRows> {
  const work = readSweep(mount, first, second, catalogue);
  return {
    what: "sweep",
    dependsOn: {
      mount: work.mount,
      axes: work.axes.map(({ field, values }) => [field, [...values]]),
      catalogue: work.catalogue.origin,
    },
    rows: work.rows,
    compute(from, to) {
      const { places, temperatures, low, high } = solvePoints(work, from, to);
      const columns = places.map((name) => `${name} [K]`);
      return { columns, values: temperatures, more: { low: [...low], high: [...high] } };
    },
    finish({ columns, values, more }) {
      const ends = more as readonly Readonly<Record<"low" | "high", number[]>>[];
      const over = (side: "low" | "high", best: (...all: number[]) => number) =>
        Float64Array.from(ends[0]!.low, (_, n) => best(...ends.map((end) => end[side][n]!)));
      const places = columns.map((name) => name.replace(/ \[K\]$/, ""));
      const [low, high] = [over("low", Math.min), over("high", Math.max)];
      return sweepOf(work, { places, temperatures: values, low, high });
    },
    csv({ axes, places, temperatures }) {
      const inner = axes[1]?.values.length ?? 1;
      const lines = Array.from({ length: work.rows }, (_, row) => {
        const at = [Math.floor(row / inner), row % inner];
        const here = temperatures.subarray(row * places.length, (row + 1) * places.length);
        return csvLine([...axes.map(({ values }, i) => values[at[i]!]!), ...here]);
      });
      const columns = places.map((name) => `${name} [K]`);
      const head = csvLine([...axes.map(({ field }) => field), ...columns]);
      return `${[head, ...lines].join("\n")}\n`;
    },
    lines: ({ warnings }) => warnings,
  };
}

/** The samples of `confidence`, a row a sample. @throws FieldError as `confidence` */
export function sampleWork(
  mount: Mount,
  options: ConfidenceOptions = {},
): RowWork<Confidence, Promise<ComputedRows>> {
  const sampling = samplingOf(mount, options);
  const { job, replicates, each } = sampling;
  const { catalogue, recipe, seed } = job;
  return {
    what: "samples",
    dependsOn: { mount: job.mount, catalogue, inputs: recipe.rows, seed, replicates, each },
    rows: replicates * each,
    async compute(from, to) {
      const values = await solveSamples(sampling, from, to, options);
      return { columns: ["chip [K]", "stage [K]", "limit [K]", "ranges left"], values, more: null };
    },
    finish: ({ values }) => confidenceOf(sampling, values, options),
    csv: ({ temperatures }) => `chip [K]\n${temperatures.join("\n")}\n`,
    lines: (confidence) => [confidence.toText()],
  };
}

/**
 * One part of a sweep as CSV, under a header that pins mount, axes, catalogue and rows.
 * @throws FieldError as `sweep`, or for a shard there is none of
 * @example sweepShard(mount, { field: "bonds.count", from: 10, to: 40, count: 31 }, undefined,
 *   { index: 3, of: 16 })
 */
export function sweepShard<A extends MountField, B extends MountField>(
  mount: Mount,
  first: Axis<A>,
  second: Axis<B> | undefined,
  part: Shard,
  options: CatalogueChoice = {},
): string {
  return shard(sweepWork(mount, first, second, options), part);
}

/**
 * The sweep that its shards make up: the same to the last bit as `sweep` gives undivided.
 * @throws FieldError for a shard that is missing, there twice, torn, or of another mount, axes, catalogue
 * or version
 */
export function mergeSweep<A extends MountField, B extends MountField>(
  mount: Mount,
  first: Axis<A>,
  second: Axis<B> | undefined,
  files: readonly ShardFile[],
  options: CatalogueChoice = {},
): Sweep {
  return merge(sweepWork(mount, first, second, options), files);
}

/**
 * One part of the samples of `confidence` as CSV, one sample a row, under a header that pins mount,
 * inputs, seed, catalogue and rows.
 * @throws FieldError as `confidence`, or for a shard there is none of
 * @example await sampleShard(mount, { index: 3, of: 16 }, { samples: 65_536 })
 */
export async function sampleShard(
  mount: Mount,
  part: Shard,
  options: ConfidenceOptions = {},
): Promise<string> {
  return shard(sampleWork(mount, options), part);
}

/**
 * What the shards of a sampling make up: the same to the last bit as `confidence` gives undivided.
 * @param options - those of the shards
 * @throws FieldError for a shard that is missing, there twice, torn, or of another mount, inputs, seed,
 * number of samples, catalogue or version
 */
export function mergeSamples(
  mount: Mount,
  files: readonly ShardFile[],
  options: ConfidenceOptions = {},
): Confidence {
  return merge(sampleWork(mount, options), files);
}
