/**
 * Where this library stands on the same work: one table of times, ratios, memory and accuracy beside
 * C++, SciPy, a circuit simulator and a script with mathjs. Prints it, and writes out/bench.json and
 * out/bench.csv.
 *
 * npm run bench [-- --quick] [NAME ...]   NAME: one of the workloads, all when absent
 *
 * Each workload is a file beside this one, runs in a process of its own, and runs alone, too:
 * `node tests/bench/steady.js`. A reference that is not installed is said to be so;
 * tests/reference/README.md says how to install each.
 * @module
 */
import { fork } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { csv, quick, ratio, table } from "./harness.js";

const workloads = [
  "steady",
  "sweep",
  "questions",
  "samples",
  "fits",
  "sheet",
  "two-dies",
  "real-box",
  "flights",
  "transient",
  "hits",
  "start",
  "growth",
];
const asked = process.argv.slice(2).filter((word) => !word.startsWith("--"));
const unknown = asked.find((name) => !workloads.includes(name));
if (unknown) throw new Error(`no workload "${unknown}"; there are ${workloads.join(", ")}`);

function run(name) {
  const file = new URL(`${name}.js`, import.meta.url);
  const child = fork(file, quick ? ["--quick"] : [], { execArgv: ["--expose-gc"] });
  return new Promise((resolve, reject) => {
    let rows = [];
    child.on("message", (message) => {
      rows = message;
    });
    child.on("error", reject);
    child.on("exit", (code) =>
      code === 0 ? resolve(rows) : reject(new Error(`the workload "${name}" failed`)),
    );
  });
}

const rows = [];
for (const name of asked.length > 0 ? asked : workloads) {
  process.stderr.write(`${name} ...\n`);
  rows.push(...(await run(name)));
}
const machine = `Node ${process.version}, ${cpus().length} × ${cpus()[0]?.model.trim() ?? "processor"}`;
console.log(`${machine}\n\n${table(rows)}`);
const out = new URL("../../out/", import.meta.url);
mkdirSync(out, { recursive: true });
const results = rows.map((row) => ({ ...row, ratio: ratio(row) }));
writeFileSync(
  new URL("bench.json", out),
  `${JSON.stringify({ machine, quick, rows: results }, null, 2)}\n`,
);
writeFileSync(new URL("bench.csv", out), csv(rows));
