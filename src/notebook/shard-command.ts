/**
 * The commands `shard` and `merge`: one part of a work for each task of a cluster, and all put together.
 * @module
 */
import { readFileSync } from "node:fs";
import { basename, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import type { MountField } from "../design/field.js";
import { type Shard, shardName } from "../design/shard.js";
import type { Axis, Sweep } from "../design/sweep.js";
import { mergeSweep, sweepShard } from "../design/sweep-shards.js";
import { readDataFolder } from "../materials/files.js";
import { supplyStandardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import type { Mount } from "../mount/description.js";
import { FieldError } from "../units/errors.js";
import { writeWhole } from "./pagefile.js";

const usage = `Usage: npm start -- shard FILE.mjs I N [--out DIR]
       npm start -- merge FILE.mjs SHARD.csv ... [--out DIR]

shard computes part I (1 to N) of the sweep that FILE.mjs exports and writes it to DIR (default: out).
merge checks that all parts are there and of one run, and writes the whole sweep as one CSV file.

FILE.mjs:
  export const mount = { ... };
  export const axes = [{ field: "bonds.count", from: 1, to: 400, count: 400 }];   // one or two
  export const catalogue = ...;   // when it is not the library's own
`;

/** What a file describes. */
interface Work {
  readonly mount: Mount;
  readonly axes: readonly [Axis<MountField>, Axis<MountField>?];
  readonly catalogue?: Catalogue;
}

/** Runs `shard` or `merge`. @throws FieldError, PageFileError and as `sweepShard`, `mergeSweep` */
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
  supplyStandardCatalogue(readDataFolder);
  const { mount, axes, catalogue } = await readWork(file);
  const name = basename(file).replace(/\.[^.]*$/, "");
  const options = catalogue ? { catalogue } : {};
  if (command === "shard") {
    if (rest.length !== 2) throw new FieldError("shard", "a part and how many, such as 3 16", rest);
    const shard: Shard = { index: Number(rest[0]), of: Number(rest[1]) };
    const csv = sweepShard(mount, axes[0], axes[1], shard, options);
    const path = writeWhole(values.out, shardName(name, shard), csv);
    process.stdout.write(`Part ${shard.index} of ${shard.of}: ${path}\n`);
    return;
  }
  const shards = rest.map((path) => ({ file: path, text: readText(path) }));
  const sweep = mergeSweep(mount, axes[0], axes[1], shards, options);
  const path = writeWhole(values.out, `${name}.csv`, sweepCsv(sweep));
  for (const warning of sweep.warnings) process.stdout.write(`${warning}\n`);
  process.stdout.write(`All ${shards.length} parts: ${path}\n`);
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
  const { mount, axes, catalogue } = (await import(
    pathToFileURL(resolve(file)).href
  )) as Partial<Work>;
  if (mount === undefined) throw new FieldError(`${file} mount`, "an exported mount", mount);
  if (!Array.isArray(axes) || axes.length < 1 || axes.length > 2) {
    throw new FieldError(`${file} axes`, "a list of one axis or two, exported", axes);
  }
  return { mount, axes: axes as unknown as Work["axes"], ...(catalogue && { catalogue }) };
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
