/**
 * The commands `shard` and `merge`: one part of a work for each task of a cluster, and all put together.
 * @module
 */
import { readFileSync } from "node:fs";
import { basename, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import type { ConfidenceOptions } from "../design/confidence/uncertainty.js";
import type { MountField } from "../design/field.js";
import { merge, type RowWork, shard, shardName } from "../design/shard.js";
import { sampleWork, sweepWork } from "../design/shard-kinds.js";
import type { Axis } from "../design/sweeping/axis.js";
import type { Catalogue } from "../materials/types.js";
import type { Mount } from "../mount/mount.js";
import { FieldError } from "../units/errors.js";
import { writeWhole } from "./page/pagefile.js";
import { calledAs } from "./programs.js";

const usage = `Usage: ${calledAs()} shard FILE.mjs I N [--out DIR]
       ${calledAs()} merge FILE.mjs SHARD.csv ... [--out DIR]

shard computes part I (1 to N) of the sweep or the samples that FILE.mjs asks for and writes it to DIR
(default: out). merge checks that all parts are there and of one run, and writes them as one CSV file.

FILE.mjs:
  export const mount = { ... };
  export const axes = [{ field: "bonds.count", from: 1, to: 400, count: 400 }];   // one or two
  export const samples = 1048576;   // in the place of axes: the spread of its temperature;
                                    // or { samples, replicates, seed, rows }
  export const catalogue = ...;   // when it is not the library's own
`;

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
  const work = await readWork(file);
  const name = basename(file).replace(/\.[^.]*$/, "");
  if (command === "shard") {
    if (rest.length !== 2) throw new FieldError("shard", "a part and how many, such as 3 16", rest);
    const [index, of] = rest.map((text, i) => {
      if (/^\d{1,9}$/.test(text)) return Number(text);
      throw new FieldError(i === 0 ? "shard I" : "shard N", "a whole number from 1", text);
    }) as [number, number];
    const part = { index, of };
    const path = writeWhole(values.out, shardName(name, part), await shard(work, part));
    process.stdout.write(`Part ${part.index} of ${part.of}: ${path}\n`);
    return;
  }
  const shards = rest.map((path) => ({ file: path, text: readText(path) }));
  const result = merge(work, shards);
  const path = writeWhole(values.out, `${name}.csv`, work.csv(result));
  const lines = [...work.lines(result), `All ${rest.length} parts: ${path}`];
  process.stdout.write(`${lines.join("\n")}\n`);
}

/** @throws FieldError for a file that can't be read */
function readText(file: string): string {
  try {
    return readFileSync(file, "utf8");
  } catch (error) {
    throw new FieldError(file, "a file that can be read", (error as { code?: string }).code);
  }
}

async function readWork(file: string): Promise<RowWork<unknown>> {
  readText(file);
  const { mount, axes, samples, catalogue } = await imported(file);
  if (mount === undefined) throw new FieldError(`${file} mount`, "an exported mount", mount);
  const own = catalogue ? { catalogue } : {};
  if (axes === undefined && samples !== undefined) {
    return sampleWork(mount, { ...readSamples(file, samples), ...own });
  }
  if (samples !== undefined) {
    throw new FieldError(`${file} samples`, "either axes or samples, not both", samples);
  }
  if (!Array.isArray(axes) || axes.length < 1 || axes.length > 2) {
    throw new FieldError(`${file} axes`, "a list of one axis or two, exported", axes);
  }
  const [first, second] = axes as unknown as readonly [Axis<MountField>, Axis<MountField>?];
  return sweepWork(mount, first, second, own);
}

interface Exports {
  readonly mount?: Mount;
  readonly axes?: unknown;
  readonly samples?: unknown;
  readonly catalogue?: Catalogue;
}

/** @throws FieldError with what went wrong in the file, on one line */
async function imported(file: string): Promise<Exports> {
  try {
    return (await import(pathToFileURL(resolve(file)).href)) as Exports;
  } catch (error) {
    const { name = "Error", message = String(error) } = (error ?? {}) as Partial<Error>;
    const [said] = message.split("\n");
    throw new FieldError(file, "a module that runs", said, name);
  }
}

/** How many samples, or that and more. */
function readSamples(file: string, samples: unknown): ConfidenceOptions {
  if (typeof samples === "number") return { samples };
  if (typeof samples === "object" && samples !== null && !Array.isArray(samples)) {
    const known = ["samples", "replicates", "seed", "rows"];
    const other = Object.keys(samples).find((key) => !known.includes(key));
    if (other === undefined) return samples;
    throw new FieldError(`${file} samples`, `some of ${known.join(", ")}`, other);
  }
  throw new FieldError(`${file} samples`, "how many, or { samples, seed, … }, exported", samples);
}
