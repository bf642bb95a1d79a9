/**
 * Work made of rows, split over the tasks of a cluster: each task computes a range of rows and writes them
 * as CSV under a header that pins what was computed. Merged, they are the undivided result to the last bit.
 * @module
 */
import { readLines } from "../materials/table.js";
import { fingerprint } from "../numerics/fingerprint.js";
import { FieldError } from "../units/errors.js";
import { csvLine } from "../units/table.js";
import { version } from "../version.js";

/** One of equal parts of a work. */
export interface Shard {
  /** From 1 to `of`. */
  readonly index: number;
  /** How many parts there are. */
  readonly of: number;
}

/** Rows as they are computed. */
export interface ComputedRows {
  /** Names of the columns. */
  readonly columns: readonly string[];
  /** Row by row. */
  readonly values: Float64Array;
  /** What else the shard carries: plain data. */
  readonly more: unknown;
}

/** A kind of work made of rows: how it is computed, finished and written. */
export interface RowWork<Result, Computed = ComputedRows | Promise<ComputedRows>> {
  /** Kind of work: `sweep`. */
  readonly what: string;
  /** Everything the result depends on: plain data. */
  readonly dependsOn: object;
  /** How many rows. */
  readonly rows: number;
  /** The rows from one up to another, counted from 0. */
  compute(from: number, to: number): Computed;
  /** The result of all rows. */
  finish(all: Merged): Result;
  /** The result as a CSV file. */
  csv(result: Result): string;
  /** The result in the terminal. */
  lines(result: Result): readonly string[];
}

/** All rows of a work. */
export interface Merged {
  /** Which kind of run the shards are of. */
  readonly what: string;
  /** Which run: the same for all of its shards. */
  readonly run: string;
  /** Names of the columns. */
  readonly columns: readonly string[];
  /** Row by row. */
  readonly values: Float64Array;
  /** Of each shard, in order. */
  readonly more: readonly unknown[];
}

/** A shard's file: its name, for errors, and its text. */
export interface ShardFile {
  /** Name of the file, for messages. */
  readonly file: string;
  /** What stands in it. */
  readonly text: string;
}

const mark = "# coldpath shard ";

/**
 * First row of a shard and the row behind its last; shards differ by one row at most.
 * @throws FieldError for parts that are not whole, or an index beyond them
 */
export function shardRange(
  { index, of }: Shard,
  rows: number,
): readonly [from: number, to: number] {
  if (!Number.isInteger(of) || of < 1 || of > rows) {
    throw new FieldError("shard.of", `a whole number from 1 to ${rows}, the rows there are`, of);
  }
  if (!Number.isInteger(index) || index < 1 || index > of) {
    throw new FieldError("shard.index", `a whole number from 1 to ${of}`, index);
  }
  const at = (i: number) => Math.floor((i * rows) / of);
  return [at(index - 1), at(index)];
}

/** Name of a shard's file: sorts in order. */
export function shardName(name: string, { index, of }: Shard): string {
  return `${name}.${String(index).padStart(String(of).length, "0")}-of-${of}.csv`;
}

/** Computes one shard, as text. @throws FieldError for a shard there is none of; as `compute` */
export function shard<Computed extends ComputedRows | Promise<ComputedRows>>(
  work: RowWork<unknown, Computed>,
  part: Shard,
): Computed extends ComputedRows ? string : Promise<string>;
export function shard(work: RowWork<unknown>, part: Shard): string | Promise<string> {
  const { what, rows } = work;
  const [from, to] = shardRange(part, rows);
  const write = ({ columns, values, more }: ComputedRows) => {
    const width = columns.length;
    const lines = Array.from({ length: to - from }, (_, k) =>
      csvLine([from + k, ...values.subarray(k * width, (k + 1) * width)]),
    );
    const body = [csvLine(["row", ...columns]), ...lines, ""].join("\n");
    const check = fingerprint(body);
    const header = { what, run: runOf(work), shard: part, from, to, rows, more, check, version };
    return `${mark}${JSON.stringify(header)}\n${body}`;
  };
  const computed = work.compute(from, to);
  return computed instanceof Promise ? computed.then(write) : write(computed);
}

/** The result that the shards of a work make up. @throws FieldError as `mergeShards` */
export function merge<Result>(work: RowWork<Result>, files: readonly ShardFile[]): Result {
  return work.finish(mergeShards(files, runOf(work)));
}

function runOf({ what, dependsOn }: RowWork<unknown>): string {
  return fingerprint({ what, ...dependsOn });
}

/**
 * All shards of a work put together.
 * @param run - the fingerprint they must have, when it is known
 * @throws FieldError naming the file: for one that is no shard, is of another run or version, or is torn;
 * and for a shard that is missing or there twice
 */
export function mergeShards(files: readonly ShardFile[], run?: string): Merged {
  if (files.length === 0) throw new FieldError("shards", "a file or more", "none");
  const read = files.map(readShard);
  const [first] = read as [ReadShard];
  const { what, rows, shard } = first.header;
  const wanted = run ?? first.header.run;
  const whose = run === undefined ? `the run of ${first.file}` : "the run that is asked for";
  const byIndex = new Map<number, ReadShard>();
  for (const each of read) {
    const { file, header, columns } = each;
    const { index, of } = header.shard;
    const expect = (isRight: boolean, field: string, wanted: string, got: unknown) => {
      if (!isRight) throw new FieldError(`${file} ${field}`, wanted, got);
    };
    const [own, all] = [columns, first.columns].map((names) => names.join(", "));
    const isRun = header.run === wanted && header.what === what;
    const isPart = of === shard.of && header.rows === rows;
    const isVersion = header.version === version;
    const other = byIndex.get(index);
    expect(isRun, "run", `${whose}, ${wanted}`, header.run);
    expect(isVersion, "version", `that of this library, ${version}`, header.version);
    expect(isPart, "shard", `one of ${shard.of}, as in ${first.file}`, of);
    expect(own === all, "columns", all!, own);
    expect(!other, "shard", `each shard once; ${index} is in ${other?.file}`, index);
    byIndex.set(index, each);
  }
  const indices = Array.from({ length: shard.of }, (_, i) => i + 1);
  const missing = indices.filter((i) => !byIndex.has(i));
  if (missing.length > 0) {
    const listed = missing.slice(0, 20).join(", ") + (missing.length > 20 ? ", ..." : "");
    throw new FieldError("shards", `all ${shard.of} of them`, `none of number ${listed}`);
  }
  const ordered = indices.map((i) => byIndex.get(i)!);
  const values = new Float64Array(rows * first.columns.length);
  for (const part of ordered) values.set(part.values, part.header.from * first.columns.length);
  const more = ordered.map(({ header }) => header.more);
  return { what, run: first.header.run, columns: first.columns, values, more };
}

type ReadShard = ReturnType<typeof readShard>;

function readShard({ file, text }: ShardFile) {
  const line = typeof text === "string" ? (text.split("\n", 1)[0] ?? "") : "";
  let header: Omit<Merged, "columns" | "values"> & {
    readonly version: string;
    readonly shard: Shard;
    /** First row of this shard, counted from 0, and the row behind its last. */
    readonly from: number;
    readonly to: number;
    /** Of the whole work. */
    readonly rows: number;
    /** Fingerprint of all that stands below the header. */
    readonly check: string;
  };
  try {
    if (!line.startsWith(mark)) throw new SyntaxError();
    header = JSON.parse(line.slice(mark.length)) as typeof header;
    const [from, to] = shardRange(header.shard, header.rows);
    if (from !== header.from || to !== header.to) throw new SyntaxError();
  } catch {
    throw new FieldError(`${file}:1`, "the header of a shard", line.slice(0, 60));
  }
  const body = text.slice(line.length + 1);
  if (fingerprint(body) !== header.check) {
    const wanted = "what was written below its header";
    throw new FieldError(file, wanted, "another text: torn, or changed");
  }
  const [names, ...lines] = body.split("\n");
  const columns = readLines(file, names!)[0]!.record.slice(1);
  const values = new Float64Array((header.to - header.from) * columns.length);
  // The last one is empty: each line has an end.
  const written = lines.slice(0, -1);
  if (lines.at(-1) !== "" || written.length !== header.to - header.from) {
    const wanted = `rows ${header.from} to ${header.to - 1}, as it says on top`;
    throw new FieldError(file, wanted, `${written.length} rows`);
  }
  written.forEach((each, k) => {
    const [row, ...cells] = each.split(",");
    const isRow = row === String(header.from + k) && cells.length === columns.length;
    if (!isRow || !cells.every((cell) => plain.test(cell))) {
      const wanted = `row ${header.from + k} and ${columns.length} numbers`;
      throw new FieldError(`${file}:${k + 3}`, wanted, each);
    }
    values.set(cells.map(Number), k * columns.length);
  });
  return { file, header, columns, values };
}

/** A number as JavaScript prints it. */
const plain = /^(?:-?(?:\d+(?:\.\d+)?(?:e[+-]?\d+)?|Infinity)|NaN)$/;
