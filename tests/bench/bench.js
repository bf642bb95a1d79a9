/**
 * How fast the solver is, beside the same solver in C++. Prints a table and writes out/bench.json.
 * Run by `npm run bench`. The measurements take turns and the quickest short stretch of each is kept,
 * so that other work on the machine falls on none of them.
 * @module
 */
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { performance } from "node:perf_hooks";
import * as coldpath from "../../dist/index.js";
import { sixNodes, tenNodes } from "./networks.js";
import { benchSheet } from "./sheet.js";
import { benchTransient } from "./transient.js";

const { SteadyNetwork } = coldpath;
const rounds = 40;
/** A few milliseconds: short enough to fit between what else the machine does. */
const solvesPerStretch = 5_000;
const stretches = 10;

/** Solves with one count changed each time; the link is one in the middle of the network. */
function solver(description) {
  const network = new SteadyNetwork(description);
  const changed = 2;
  const stretch = () => {
    let steps = 0;
    let sum = 0;
    const start = performance.now();
    for (let i = 0; i < solvesPerStretch; i++) {
      network.setCount(changed, 1 + (i % 100) / 100);
      if (!network.trySolve()) throw new Error(network.failure);
      steps += network.steps;
      sum += network.temperatures[0];
    }
    const seconds = (performance.now() - start) / 1000;
    return { seconds, steps: steps / solvesPerStretch, mean: sum / solvesPerStretch };
  };
  return () => quickest(Array.from({ length: stretches }, stretch));
}

const quickest = (results) => results.reduce((a, b) => (b.seconds < a.seconds ? b : a));

/** The same in C++, compiled into a temporary folder; undefined where there is no compiler. */
function limit(folder) {
  const program = join(folder, "limit");
  const source = new URL("limit.cpp", import.meta.url).pathname;
  try {
    execFileSync("g++", ["-O3", "-std=c++17", source, "-o", program], { stdio: "pipe" });
  } catch (error) {
    if (error.code === "ENOENT") return undefined;
    throw error;
  }
  return (description) => {
    const { nodes, links } = description;
    const index = new Map(nodes.map((node, i) => [node.name, i]));
    const input = [
      [nodes.length, links.length, stretches, solvesPerStretch, 2],
      ...nodes.map((n) => [n.temperature ?? 0, n.load ?? 0]),
      ...links.map(({ from, to, conductor: { powers } }) => {
        const [{ coefficient, exponent }] = powers;
        return [index.get(from), index.get(to), coefficient, exponent];
      }),
    ]
      .map((row) => row.join(" "))
      .join("\n");
    return () => {
      const answer = execFileSync(program, { input, encoding: "utf8" });
      const [seconds, steps, mean] = answer.split(" ").map(Number);
      return { seconds, steps, mean };
    };
  };
}

/** The quickest of each runner's rounds, the runners taking turns. */
function race(runners) {
  const results = runners.map(() => []);
  for (let round = 0; round < rounds; round++) {
    runners.forEach((run, i) => {
      results[i].push(run());
    });
  }
  return results
    .map(quickest)
    .map((best) => ({ ...best, perSecond: solvesPerStretch / best.seconds }));
}

/** Bytes the heap grows by in 100,000 solves; a number of 16 bytes a solve would show as 1.6 MB. */
function growth(description) {
  const network = new SteadyNetwork(description);
  const solve = (times) => {
    for (let i = 0; i < times; i++) {
      network.setCount(2, 1 + (i % 100) / 100);
      network.trySolve();
    }
  };
  solve(100_000);
  globalThis.gc?.();
  const before = process.memoryUsage().heapUsed;
  solve(100_000);
  return process.memoryUsage().heapUsed - before;
}

/** 200 × 200 points over the count of one link and the length of another. */
function networkSweep() {
  const network = new SteadyNetwork(sixNodes);
  const map = new Float64Array(200 * 200);
  const start = performance.now();
  for (let i = 0; i < 200; i++) {
    for (let j = 0; j < 200; j++) {
      network.setCount(2, (1 + i) / (1 + j / 50));
      if (!network.trySolve()) throw new Error(network.failure);
      map[200 * i + j] = network.temperatures[0];
    }
  }
  return (performance.now() - start) / 1000;
}

/** Sweeps of the example mount, everything included: a map with a die of two nodes, a curve with a sheet. */
function mountSweeps() {
  const file = new URL("../../data/mounts/ombrel-camera.json", import.meta.url);
  const mount = JSON.parse(readFileSync(file, "utf8"));
  const simple = { ...mount, die: { ...mount.die, model: "centre and edge" } };
  const seconds = (run) => {
    const start = performance.now();
    run();
    return (performance.now() - start) / 1000;
  };
  const best = (run) => Math.min(...Array.from({ length: 5 }, () => seconds(run)));
  const counts = { field: "bonds.count", from: 10, to: 209, count: 200 };
  const lengths = { field: "bonds.length", from: "0.5 mm", to: "5 mm", count: 200 };
  return [
    {
      what: "mount map of 200 × 200 counts and lengths, simple die: s",
      value: best(() => coldpath.sweep(simple, counts, lengths)),
    },
    {
      what: "mount curve of 200 lengths, die as a sheet: s",
      value: best(() => coldpath.sweep(mount, lengths)),
    },
  ];
}

const folder = mkdtempSync(join(tmpdir(), "coldpath-bench-"));
const rows = [];
const results = { node: process.version, processor: cpus()[0]?.model ?? "", rows };
try {
  const compile = limit(folder);
  for (const [name, description] of [
    ["six nodes, seven links", sixNodes],
    ["ten nodes, thirteen links", tenNodes],
  ]) {
    const runners = [solver(description), ...(compile ? [compile(description)] : [])];
    const [ours, theirs] = race(runners);
    if (theirs && Math.abs(ours.mean / theirs.mean - 1) > 1e-12) {
      throw new Error(`${name}: ${ours.mean} K here, ${theirs.mean} K in C++`);
    }
    rows.push({ what: `${name}: solves/s`, value: Math.round(ours.perSecond) });
    rows.push({ what: `${name}: steps a solve`, value: ours.steps });
    rows.push({
      what: `${name}: solves/s in C++`,
      value: theirs ? Math.round(theirs.perSecond) : "not installed",
    });
    if (theirs)
      rows.push({ what: `${name}: C++ is faster by`, value: theirs.perSecond / ours.perSecond });
  }
  rows.push({
    what: "network sweep of 200 × 200 points: s",
    value: Math.min(...Array.from({ length: 5 }, networkSweep)),
  });
  rows.push(...mountSweeps());
  rows.push({ what: "heap growth over 100,000 solves: bytes", value: growth(sixNodes) });
  rows.push({ what: "memory of the process: MB", value: process.memoryUsage.rss() / 1e6 });
} finally {
  rmSync(folder, { recursive: true });
}

results.sheet = benchSheet();
results.transient = benchTransient();

const width = Math.max(...rows.map(({ what }) => what.length));
for (const { what, value } of rows) {
  const shown =
    typeof value === "number" && !Number.isInteger(value) ? value.toPrecision(3) : value;
  console.log(`${what.padEnd(width)}  ${shown.toLocaleString("en")}`);
}
const out = new URL("../../out/", import.meta.url);
mkdirSync(out, { recursive: true });
writeFileSync(new URL("bench.json", out), `${JSON.stringify(results, undefined, 2)}\n`);
