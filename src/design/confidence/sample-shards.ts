/**
 * Sampling split over the tasks of a cluster.
 * @module
 */
import type { Mount } from "../../mount/description.js";
import { fingerprint } from "../../numerics/fingerprint.js";
import { mergeShards, type Shard, type ShardFile, shardCsv, shardRange } from "../shard.js";
import type { Confidence } from "./confidence.js";
import {
  type ConfidenceOptions,
  confidenceOf,
  type Sampling,
  samplingOf,
  solveSamples,
} from "./uncertainty.js";

const what = "samples";
const columns = ["chip [K]", "stage [K]", "limit [K]"];

/**
 * One part of the samples of `confidence` as CSV, one sample a row, under a header that pins mount,
 * inputs, seed, catalogue and rows.
 * @throws FieldError as `confidence`, or for a shard there is none of
 * @example await sampleShard(mount, { index: 3, of: 16 }, { samples: 65_536 })
 */
export async function sampleShard(
  mount: Mount,
  shard: Shard,
  options: ConfidenceOptions = {},
): Promise<string> {
  const sampling = samplingOf(mount, options);
  const rows = sampling.replicates * sampling.each;
  const [from, to] = shardRange(shard, rows);
  const values = await solveSamples(sampling, from, to, options);
  const header = { what, run: runOf(sampling), shard, from, to, rows, more: null };
  return shardCsv(header, columns, values);
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
  const sampling = samplingOf(mount, options);
  return confidenceOf(sampling, mergeShards(files, runOf(sampling)).values);
}

/** Everything that the samples depend on. */
function runOf({ job, replicates, each }: Sampling): string {
  const { mount, catalogue, recipe, seed } = job;
  return fingerprint({ what, mount, catalogue, inputs: recipe.rows, seed, replicates, each });
}
