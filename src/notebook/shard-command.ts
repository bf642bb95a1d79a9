/**
 * The commands `shard` and `merge`: one part of a work for each task of a cluster, and all put together.
 * @module
 */
import { readFileSync } from "node:fs";
import { basename, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { mergeSamples, sampleShard } from "../design/confidence/sample-shards.js";
import type { Confidence, ConfidenceOptions } from "../design/confidence/uncertainty.js";
import type { MountField } from "../design/field.js";
import { type Shard, shardName } from "../design/shard.js";
import type { Axis, Sweep } from "../design/sweeping/sweep.js";
import { mergeSweep, sweepShard } from "../design/sweeping/sweep-shards.js";
import type { Catalogue } from "../materials/types.js";
import type { Mount } from "../mount/description.js";
import { FieldError } from "../units/errors.js";
import { writeWhole } from "./page/pagefile.js";

const usage = `Usage: npm start -- shard FILE.mjs I N [--out DIR]
       npm start -- merge FILE.mjs SHARD.csv ... [--out DIR]

shard computes part I (1 to N) of the sweep or the samples that FILE.mjs asks for and writes it to DIR
(default: out). merge checks that all parts are there and of one run, and writes them as one CSV file.

FILE.mjs:
  export const mount = { ... };
  export const axes = [{ field: "bonds.count", from: 1, to: 400, count: 400 }];   // one or two
  export const samples = 1048576;   // in the place of axes: how sure the mount is of its temperature;
                                    // or { samples, replicates, seed, rows }
  export const catalogue = ...;   // when it is not the library's own
`;

/** What a file describes. */
interface Work {
  readonly mount: Mount;
  readonly catalogue?: Catalogue;
  readonly axes: readonly [Axis<MountField>, Axis<MountField>?] | undefined;
  /** In the place of axes. */
  readonly samples: Samples;
}

type Samples = Pick<ConfidenceOptions, "samples" | "replicates" | "seed" | "rows">;

/** Runs `shard` or `merge`. @throws FieldError, PageFileError and as the shards and merges */
export async function shardCommand(words: readonly string[]): Promise<void> {
  const { values, positionals } = parseArgs({
    args: [...words],
    allowPositionals: true,
    options: {
      out: { type: "string", default: "out" },
      help: { type: "boolean", short: "h" },
    },
  });
  const [command, file, ...rest] = positionals;
  if (values.help || file === undefined) return void process.stdout.write(usage);
  const { mount, axes, samples, catalogue } = await readWork(file);
  const name = basename(file).replace(/\.[^.]*$/, "");
  const options = catalogue ? { catalogue } : {};
  if (command === "shard") {
    if (rest.length !== 2) throw new FieldError("shard", "a part and how many, such as 3 16", rest);
    const shard: Shard = { index: Number(rest[0]), of: Number(rest[1]) };
    const csv = axes
      ? sweepShard(mount, axes[0], axes[1], shard, options)
      : await sampleShard(mount, shard, { ...samples, ...options });
    const path = writeWhole(values.out, shardName(name, shard), csv);
    process.stdout.write(`Part ${shard.index} of ${shard.of}: ${path}\n`);
    return;
  }
  const shards = rest.map((path) => ({ file: path, text: readText(path) }));
  const write = (csv: string, words: readonly string[]) => {
    const path = writeWhole(values.out, `${name}.csv`, csv);
    process.stdout.write(`${[...words, `All ${shards.length} parts: ${path}`].join("\n")}\n`);
  };
  if (axes) {
    const sweep = mergeSweep(mount, axes[0], axes[1], shards, options);
    return write(sweepCsv(sweep), sweep.warnings);
  }
  const confidence = mergeSamples(mount, shards, { ...samples, ...options });
  write(temperaturesCsv(confidence), [confidence.toText()]);
}

/** @throws FieldError for a file that can't be read */
function readText(file: string): string {
  try {
    return readFileSync(file, "utf8");
  } catch (error) {
    throw new FieldError(file, "a file that can be read", (error as { code?: string }).code);
  }
}

async function readWork(file: string): Promise<Work> {
  const { mount, axes, samples, catalogue } = (await import(pathToFileURL(resolve(file)).href)) as {
    readonly [name in keyof Work]?: unknown;
  } & Pick<Partial<Work>, "mount" | "catalogue">;
  if (mount === undefined) throw new FieldError(`${file} mount`, "an exported mount", mount);
  const own = catalogue ? { catalogue } : {};
  if (axes === undefined && samples !== undefined) {
    return { mount, axes, samples: readSamples(file, samples), ...own };
  }
  if (samples !== undefined) {
    throw new FieldError(`${file} samples`, "either axes or samples, not both", samples);
  }
  if (!Array.isArray(axes) || axes.length < 1 || axes.length > 2) {
    throw new FieldError(`${file} axes`, "a list of one axis or two, exported", axes);
  }
  return { mount, axes: axes as unknown as Work["axes"], samples: {}, ...own };
}

/** How many samples, or that and more. */
function readSamples(file: string, samples: unknown): Samples {
  if (typeof samples === "number") return { samples };
  if (typeof samples === "object" && samples !== null && !Array.isArray(samples)) {
    const known = ["samples", "replicates", "seed", "rows"];
    const other = Object.keys(samples).find((key) => !known.includes(key));
    if (other === undefined) return samples as Samples;
    throw new FieldError(`${file} samples`, `some of ${known.join(", ")}`, other);
  }
  throw new FieldError(`${file} samples`, "how many, or { samples, seed, … }, exported", samples);
}

/** The sampled temperatures of the chip, rising. */
function temperaturesCsv({ temperatures }: Confidence): string {
  return `chip [K]\n${temperatures.join("\n")}\n`;
}

/** A line a point: the swept fields, then every place. */
function sweepCsv({ axes, places, temperatures }: Sweep): string {
  const quoted = (name: string) => (/[",]/.test(name) ? `"${name.replace(/"/g, '""')}"` : name);
  const head = [...axes.map(({ field }) => field), ...places.map((name) => `${name} [K]`)];
  const inner = axes[1]?.values.length ?? 1;
  const lines = Array.from({ length: temperatures.length / places.length }, (_, row) => {
    const at = [Math.floor(row / inner), row % inner];
    const here = temperatures.subarray(row * places.length, (row + 1) * places.length);
    return [...axes.map(({ values }, i) => values[at[i]!]!), ...here].join(",");
  });
  return `${[head.map(quoted).join(","), ...lines].join("\n")}\n`;
}
