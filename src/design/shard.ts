/**
 * Work split over a cluster: each task computes a range of rows and writes them as CSV under a header
 * that pins what was computed; put together, they are the undivided result to the last bit.
 * @module
 */
import { readNumberedRows } from "../materials/numbered-rows.js";
import { FieldError } from "../units/errors.js";
import { version } from "../version.js";

/** One of equal parts of a work. */
export interface Shard {
  /** From 1 to `of`. */
  readonly index: number;
  /** How many parts there are. */
  readonly of: number;
}

/** What a header says. */
export interface ShardHeader {
  /** Kind of work: `sweep`. */
  readonly what: string;
  /** Of the library. */
  readonly version: string;
  /** Fingerprint of everything the result depends on. */
  readonly run: string;
  readonly shard: Shard;
  /** First row of this shard, counted from 0, and the row behind its last. */
  readonly from: number;
  readonly to: number;
  /** Of the whole work. */
  readonly rows: number;
  /** What else the work must carry: plain data. */
  readonly more: unknown;
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

const mark = "# coldpath shard ";

/** @throws FieldError for parts that are not whole, or an index beyond them */
export function checkShard({ index, of }: Shard, rows: number): void {
  if (!Number.isInteger(of) || of < 1 || of > rows) {
    throw new FieldError("shard.of", `a whole number from 1 to ${rows}, the rows there are`, of);
  }
  if (!Number.isInteger(index) || index < 1 || index > of) {
    throw new FieldError("shard.index", `a whole number from 1 to ${of}`, index);
  }
}

/** First row of a shard and the row behind its last; shards differ by one row at most. */
export function shardRange(shard: Shard, rows: number): readonly [from: number, to: number] {
  checkShard(shard, rows);
  const at = (i: number) => Math.floor((i * rows) / shard.of);
  return [at(shard.index - 1), at(shard.index)];
}

/** Name of a shard's file: sorts in order. */
export function shardName(name: string, { index, of }: Shard): string {
  return `${name}.${String(index).padStart(String(of).length, "0")}-of-${of}.csv`;
}

/**
 * A shard as text.
 * @param values - its rows, one after the other
 */
export function shardCsv(
  header: Omit<ShardHeader, "version">,
  columns: readonly string[],
  values: Float64Array,
): string {
  const lines = [`${mark}${JSON.stringify({ ...header, version })}`];
  lines.push(["row", ...columns].map(cell).join(","));
  const { from, to } = header;
  for (let row = from; row < to; row++) {
    const at = (row - from) * columns.length;
    // A number's shortest text reads back as the same number.
    lines.push([row, ...values.subarray(at, at + columns.length)].join(","));
  }
  return `${lines.join("\n")}\n`;
}

function cell(text: string): string {
  return /[",\n]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text;
}

/** A shard's file: its name, for errors, and its text. */
export interface ShardFile {
  /** Name of the file, for messages. */
  readonly file: string;
  /** What stands in it. */
  readonly text: string;
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
  const first = read[0]!;
  for (const { file, header, columns } of read) {
    if (header.run !== (run ?? first.header.run) || header.what !== first.header.what) {
      const wanted = run === undefined ? `the run of ${first.file}` : "the run that is asked for";
      throw new FieldError(`${file} run`, `${wanted}, ${run ?? first.header.run}`, header.run);
    }
    if (header.version !== version) {
      throw new FieldError(`${file} version`, `that of this library, ${version}`, header.version);
    }
    if (header.shard.of !== first.header.shard.of || header.rows !== first.header.rows) {
      const { of } = first.header.shard;
      throw new FieldError(`${file} shard`, `one of ${of}, as in ${first.file}`, header.shard.of);
    }
    if (columns.join("\n") !== first.columns.join("\n")) {
      throw new FieldError(`${file} columns`, first.columns.join(", "), columns.join(", "));
    }
  }
  const { of } = first.header.shard;
  const byIndex = new Map<number, (typeof read)[number]>();
  for (const shard of read) {
    const { index } = shard.header.shard;
    const other = byIndex.get(index);
    if (other)
      throw new FieldError(
        `${shard.file} shard`,
        `each shard once; ${index} is in ${other.file}`,
        index,
      );
    byIndex.set(index, shard);
  }
  const missing = Array.from({ length: of }, (_, i) => i + 1).filter((i) => !byIndex.has(i));
  if (missing.length > 0) {
    const listed =
      missing.length > 20 ? `${missing.slice(0, 20).join(", ")}, ...` : missing.join(", ");
    throw new FieldError("shards", `all ${of} of them`, `none of number ${listed}`);
  }
  const ordered = Array.from({ length: of }, (_, i) => byIndex.get(i + 1)!);
  const width = first.columns.length;
  const values = new Float64Array(first.header.rows * width);
  for (const { header, values: part } of ordered) values.set(part, header.from * width);
  return {
    what: first.header.what,
    run: first.header.run,
    columns: first.columns,
    values,
    more: ordered.map(({ header }) => header.more),
  };
}

function readShard({ file, text }: ShardFile) {
  const line = typeof text === "string" ? (text.split("\n", 1)[0] ?? "") : "";
  let header: ShardHeader;
  try {
    if (!line.startsWith(mark)) throw new SyntaxError();
    header = JSON.parse(line.slice(mark.length)) as ShardHeader;
    const [from, to] = shardRange(header.shard, header.rows);
    if (from !== header.from || to !== header.to) throw new SyntaxError();
  } catch {
    throw new FieldError(`${file}:1`, "the header of a shard", line.slice(0, 60));
  }
  const { columns, rows } = readNumberedRows(file, text);
  const wanted = header.to - header.from;
  if (rows.length !== wanted || rows.some(({ row }, i) => row !== header.from + i)) {
    throw new FieldError(
      file,
      `rows ${header.from} to ${header.to - 1}, as it says on top`,
      `${rows.length} rows`,
    );
  }
  const values = Float64Array.from(rows.flatMap((each) => each.values));
  return { file, header, columns, values };
}
