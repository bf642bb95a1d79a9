/**
 * What the workloads of the bench share: measuring in turns, calling references, and the table.
 *
 * The quickest of many short stretches counts, since other work on the machine falls on some of them,
 * and ours and a reference's take turns, so that their ratio holds even where the times do not.
 * @module
 */
import { execFileSync } from "node:child_process";
import { performance } from "node:perf_hooks";
import { fileURLToPath } from "node:url";

/** `--quick`: less of everything, and the slowest references left out. */
export const quick = process.argv.includes("--quick");

/**
 * @typedef {object} Row
 * @property {string} what - the workload
 * @property {string} [reference] - what it is compared with
 * @property {number} [ours] - [s]
 * @property {number | string} [theirs] - [s], or why there is none
 * @property {number} [ourError] - largest, in parts of a temperature, against a tight solution
 * @property {number} [theirError] - the same
 * @property {number} [memory] - most our process held [byte]
 * @property {number} [theirMemory] - [byte]
 * @property {string} [note]
 */

/** Seconds that one call takes, and what it gave. */
export function timed(run) {
  const start = performance.now();
  const value = run();
  return { seconds: (performance.now() - start) / 1e3, value };
}

/** The quickest of results with `seconds`. */
export const quickest = (results) => results.reduce((a, b) => (b.seconds < a.seconds ? b : a));

/** The quickest result of each runner; they take turns. */
export function race(rounds, ...runners) {
  const results = runners.map(() => []);
  for (let round = 0; round < rounds; round++) {
    runners.forEach((run, i) => {
      const result = run();
      if (result !== undefined) results[i].push(result);
    });
  }
  return results.map((own) => (own.length === 0 ? undefined : quickest(own)));
}

/** Most memory that this process held [byte]. */
export const peakMemory = () => process.resourceUsage().maxRSS * 1024;

/** Largest |a/b − 1| over two lists. */
export function apart(found, wanted) {
  let largest = 0;
  for (let i = 0; i < wanted.length; i++) {
    largest = Math.max(largest, Math.abs(found[i] / wanted[i] - 1));
  }
  return largest;
}

/** The exponent of a power law through times that grow with a size: least squares of the logarithms. */
export function exponent(sizes, seconds) {
  const [x, y] = [sizes.map(Math.log), seconds.map(Math.log)];
  const mean = (values) => values.reduce((a, b) => a + b, 0) / values.length;
  const [mx, my] = [mean(x), mean(y)];
  const slope = (values, m) => x.reduce((sum, xi, i) => sum + (xi - mx) * (values[i] - m), 0);
  return slope(y, my) / slope(x, mx);
}

export const referenceFile = (name) =>
  fileURLToPath(new URL(`../reference/${name}`, import.meta.url));

/** What a script of tests/reference answers to a problem; undefined where SciPy or Python is missing. */
export function python(script, problem) {
  try {
    const answer = execFileSync("python3", [referenceFile(script)], {
      input: JSON.stringify(problem),
      encoding: "utf8",
      maxBuffer: 1 << 28,
      env: { ...process.env, OMP_NUM_THREADS: "1", OPENBLAS_NUM_THREADS: "1" },
    });
    const read = JSON.parse(answer);
    return read.missing ? undefined : read;
  } catch (error) {
    if (error.code === "ENOENT") return undefined;
    throw error;
  }
}

/** Hands the rows to the bench that started this workload, or prints them where it was started alone. */
export function report(rows) {
  const withMemory = rows.map((row) => ({ memory: peakMemory(), ...row }));
  if (process.send) process.send(withMemory);
  else console.log(table(withMemory));
}

const columns = [
  "workload",
  "ours",
  "against",
  "theirs",
  "ratio",
  "memory",
  "theirs",
  "off",
  "theirs",
];

/** Rows as a table for a terminal. */
export function table(rows) {
  const lines = [columns, ...rows.map(cells)];
  const widths = columns.map((_, c) => Math.max(...lines.map((line) => line[c].length)));
  const text = lines.map((line) =>
    line
      .map((cell, c) => cell.padEnd(widths[c]))
      .join("  ")
      .trimEnd(),
  );
  const notes = rows.filter(({ note }) => note).map(({ what, note }) => `${what}: ${note}`);
  return [...text, "", ...new Set(notes)].join("\n");
}

/** The same rows for a spreadsheet. */
export function csv(rows) {
  const names = ["what", "ours", "reference", "theirs", "ratio", "memory", "theirMemory"];
  names.push("ourError", "theirError", "note");
  const quoted = (value) =>
    typeof value === "string" ? `"${value.replaceAll('"', '""')}"` : value;
  const line = (row) =>
    names.map((name) => quoted({ ...row, ratio: ratio(row) }[name] ?? "")).join(",");
  return `${[names.join(","), ...rows.map(line)].join("\n")}\n`;
}

/** How many times as long the reference takes. */
export const ratio = ({ ours, theirs }) =>
  typeof theirs === "number" && ours !== undefined ? theirs / ours : undefined;

function cells(row) {
  const { what, reference = "", ours, theirs, memory, theirMemory, ourError, theirError } = row;
  const times = ratio(row);
  return [
    what,
    duration(ours),
    reference,
    typeof theirs === "string" ? theirs : duration(theirs),
    times === undefined ? "" : `${times.toPrecision(3)} ×`,
    megabytes(memory),
    megabytes(theirMemory),
    error(ourError),
    error(theirError),
  ];
}

const megabytes = (bytes) => (bytes === undefined ? "" : `${(bytes / 1e6).toFixed(0)} MB`);
/** Below the spacing of numbers there is nothing to compare. */
const error = (value) =>
  value === undefined ? "" : value < Number.EPSILON ? "rounding" : value.toExponential(1);

function duration(seconds) {
  if (seconds === undefined) return "";
  const [factor, unit] =
    seconds >= 1
      ? [1, "s"]
      : seconds >= 1e-3
        ? [1e3, "ms"]
        : seconds >= 1e-6
          ? [1e6, "µs"]
          : [1e9, "ns"];
  return `${(factor * seconds).toPrecision(3)} ${unit}`;
}
