/**
 * How fast a die that a particle hit settles, ten nodes over twelve decades of time, beside SciPy's
 * stiff methods on the same network; and a die of 5000 cells. Prints a table; `npm run bench` runs it,
 * or after a build `node tests/bench/transient.js`.
 * @module
 */
import { execFileSync } from "node:child_process";
import { performance } from "node:perf_hooks";
import { fileURLToPath } from "node:url";
import { powerConductor } from "../../dist/conductor.js";
import { TransientNetwork } from "../../dist/network/transient.js";

const tolerance = 1e-6;
const duration = 1e3;
const energy = 3e-13;
const rounds = 40;

const powerStore = (coefficient, exponent) => ({
  heatCapacity: (T) => coefficient * exponent * T ** (exponent - 1),
  enthalpy: (T) => coefficient * T ** exponent,
  powers: [{ coefficient, exponent }],
});
const link = ([from, to, coefficient, exponent], i) => ({
  name: `${i}: ${from} - ${to}`,
  from,
  to,
  conductor: powerConductor(coefficient, exponent),
});

/** Nine nodes with heat capacities over eleven decades, and the stage. */
const description = {
  nodes: [
    ["hit", 2e-12, 4, 0],
    ["chip", 2e-9, 4, 2e-9],
    ["far chip", 5e-9, 4, 1e-9],
    ["pad phonons", 1e-12, 4, 0],
    ["pad electrons", 3e-11, 2, 0],
    ["bonds", 1e-10, 2, 0],
    ["plating", 1e-8, 2, 1e-9],
    ["box", 2e-3, 2, 0],
    ["plate", 2e-1, 2, 0],
  ]
    .map(([name, c, p, load]) => ({ name, load, store: powerStore(c, p) }))
    .concat([{ name: "stage", temperature: 0.1 }]),
  links: [
    ["hit", "chip", 3e-2, 4],
    ["chip", "far chip", 1e-2, 4],
    ["chip", "pad phonons", 3e-4, 4],
    ["far chip", "pad phonons", 1e-4, 4],
    ["pad phonons", "pad electrons", 2e-2, 5],
    ["pad electrons", "bonds", 2e-6, 2],
    ["bonds", "plating", 2e-6, 2],
    ["plating", "box", 1e-4, 2],
    ["far chip", "box", 1e-5, 4],
    ["box", "plate", 1e-4, 3],
    ["plate", "stage", 1e-4, 2],
  ].map(link),
};
const pulses = [{ time: 0, node: "hit", energy }];
/** Four times a decade from 0.1 ns on. */
const times = Array.from({ length: 53 }, (_, i) => 1e-10 * 10 ** (i / 4)).filter(
  (t) => t <= duration,
);

/** Answers of SciPy from the same start, or undefined where there is none. */
function scipy(start) {
  const script = new URL("../reference/scipy_transient.py", import.meta.url).pathname;
  const free = description.nodes.filter((n) => n.store);
  const index = new Map(description.nodes.map(({ name }, i) => [name, i]));
  const problem = {
    stores: free.map(({ store: { powers } }) => [powers[0].coefficient, powers[0].exponent]),
    loads: free.map(({ load }) => load),
    start: free.map(({ name }) => start.get(name)),
    fixed: [0.1],
    links: description.links.map(({ from, to, conductor: { powers } }) => [
      index.get(from),
      index.get(to),
      powers[0].coefficient,
      powers[0].exponent,
    ]),
    duration,
    times,
    tolerance,
    repeats: 5,
  };
  try {
    const options = { input: JSON.stringify(problem), encoding: "utf8" };
    const answer = JSON.parse(execFileSync("python3", [script], options));
    return answer.missing ? undefined : answer;
  } catch (error) {
    if (error.code === "ENOENT") return undefined;
    throw error;
  }
}

/** A square die of n × n cells with a pad chain at every tenth cell of its edge. */
function grid(n) {
  const nodes = [{ name: "stage", temperature: 0.1 }];
  const rows = [];
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      nodes.push({ name: `c${i},${j}`, load: 1e-12, store: powerStore(1e-12, 4) });
      if (i > 0) rows.push([`c${i - 1},${j}`, `c${i},${j}`, 1e-2, 4]);
      if (j > 0) rows.push([`c${i},${j - 1}`, `c${i},${j}`, 1e-2, 4]);
      if (i > 0 || j % 10 !== 5) continue;
      nodes.push({ name: `p${j}` }, { name: `e${j}`, store: powerStore(1e-11, 2) });
      rows.push([`c${i},${j}`, `p${j}`, 3e-5, 4], [`p${j}`, `e${j}`, 2e-3, 5]);
      rows.push([`e${j}`, "stage", 1e-7, 2]);
    }
  }
  return { nodes, links: rows.map(link) };
}

const milliseconds = (seconds) => `${(1e3 * seconds).toPrecision(3)} ms`;

/** Measures, prints, and returns the numbers in seconds. */
export function benchTransient() {
  const line = (what, value) => console.log(`  ${what.padEnd(42)} ${value}`);
  console.log(`ten nodes, a pulse and ${duration} s after it, tolerance ${tolerance}`);
  const network = new TransientNetwork(description);
  const tight = network.run({ duration, pulses, relativeTolerance: 1e-12 });
  const names = description.nodes.slice(0, -1).map(({ name }) => name);
  const apart = (found) => {
    let largest = 0;
    times.forEach((time, t) => {
      names.forEach((name, i) => {
        const ratio = found[t][i] / tight.temperature(name, time);
        largest = Math.max(largest, Math.abs(ratio - 1));
      });
    });
    return largest;
  };
  let own = Number.POSITIVE_INFINITY;
  let solution;
  for (let round = 0; round < rounds; round++) {
    const start = performance.now();
    solution = network.run({ duration, pulses, relativeTolerance: tolerance });
    own = Math.min(own, (performance.now() - start) / 1e3);
  }
  const error = apart(times.map((t) => names.map((name) => solution.temperature(name, t))));
  line(
    "a run",
    `${milliseconds(own)} in ${solution.steps} steps, off by ${error.toExponential(1)} (wanted: below 5 ms)`,
  );
  line("energy given, less out and stored", solution.energy.imbalance.toExponential(1));
  const results = { own, steps: solution.steps, error };

  const other = scipy(solution.at(0));
  if (other === undefined) line("SciPy", "not installed");
  for (const { method, seconds, steps, found } of other?.runs ?? []) {
    const off = apart(found);
    const ratio = seconds / own;
    line(
      `SciPy ${other.scipy}, ${method}`,
      `${milliseconds(seconds)} in ${steps} steps, off by ${off.toExponential(1)}: ` +
        `${ratio.toFixed(0)} times as long (wanted: 50)`,
    );
    results[method] = { seconds, steps, error: off };
  }

  const size = 71;
  const begin = performance.now();
  const die = new TransientNetwork(grid(size));
  const compiled = performance.now();
  const hit = die.run({ duration: 1, pulses: [{ time: 0, node: "c35,35", energy: 1e-14 }] });
  const done = performance.now();
  results.grid = { compile: (compiled - begin) / 1e3, run: (done - compiled) / 1e3 };
  line(
    `die of ${size} × ${size} cells`,
    `compiled in ${milliseconds(results.grid.compile)}, run in ${milliseconds(results.grid.run)}, ` +
      `${hit.steps} steps`,
  );
  return results;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) benchTransient();
