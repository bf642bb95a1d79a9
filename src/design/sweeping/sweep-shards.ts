/**
 * Sweeps split over the tasks of a cluster.
 * @module
 */
import type { CatalogueChoice } from "../../materials/types.js";
import type { Mount } from "../../mount/description.js";
import { fingerprint } from "../../numerics/fingerprint.js";
import type { MountField } from "../field.js";
import { mergeShards, type Shard, type ShardFile, shardCsv, shardRange } from "../shard.js";
import { type Axis, readSweep, type SweepWork, solvePoints, sweepOf } from "./sweep.js";
import type { Sweep } from "./sweep-result.js";

const what = "sweep";

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
  shard: Shard,
  options: CatalogueChoice = {},
): string {
  const work = readSweep(mount, first, second, options.catalogue);
  const [from, to] = shardRange(shard, work.rows);
  const { places, temperatures, low, high } = solvePoints(work, from, to);
  const more = { low: [...low], high: [...high] };
  return shardCsv(
    { what, run: runOf(work), shard, from, to, rows: work.rows, more },
    places.map((name) => `${name} [K]`),
    temperatures,
  );
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
  const work = readSweep(mount, first, second, options.catalogue);
  const { columns, values, more } = mergeShards(files, runOf(work));
  const ends = more as readonly { readonly low: number[]; readonly high: number[] }[];
  const over = (side: "low" | "high", best: (...all: number[]) => number) =>
    Float64Array.from(columns, (_, n) => best(...ends.map((end) => end[side][n]!)));
  return sweepOf(work, {
    places: columns.map((name) => name.replace(/ \[K\]$/, "")),
    temperatures: values,
    low: over("low", Math.min),
    high: over("high", Math.max),
  });
}

/** Everything that a sweep's result depends on. */
function runOf({ mount, axes, catalogue }: SweepWork): string {
  return fingerprint({
    what,
    mount,
    axes: axes.map(({ field, values }) => [field, [...values]]),
    catalogue: catalogue.origin,
  });
}
