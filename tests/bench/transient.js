/**
 * A die that a particle hit settles, ten nodes over thirteen decades of time, beside SciPy's stiff methods
 * on the same network; a pulse on six nodes; and a die of 5000 cells.
 * @module
 */
import { powerConductor } from "../../dist/conductor.js";
import { TransientNetwork } from "../../dist/network/transient.js";
import { peakMemory, python, quick, quickest, race, report, timed } from "./harness.js";

const tolerance = 1e-6;
/** Ours is held to a tenth of it, so that it is at least as near to the tight solution as SciPy's best. */
const ourTolerance = 1e-7;
const duration = 1e3;
const energy = 3e-13;

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
const tenNodes = {
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
/** Six of them: the same chip without what is beyond its box. */
const six = ["chip", "far chip", "pad phonons", "pad electrons", "box"];
const sixNodes = {
  nodes: tenNodes.nodes.filter(({ name }) => six.includes(name) || name === "stage"),
  links: [
    ["chip", "far chip", 1e-2, 4],
    ["chip", "pad phonons", 3e-4, 4],
    ["far chip", "pad phonons", 1e-4, 4],
    ["pad phonons", "pad electrons", 2e-2, 5],
    ["pad electrons", "box", 2e-6, 2],
    ["far chip", "box", 1e-5, 4],
    ["box", "stage", 1e-4, 2],
  ].map(link),
};
/** Four times a decade from 0.1 ns on. */
const times = Array.from({ length: 53 }, (_, i) => 1e-10 * 10 ** (i / 4)).filter(
  (t) => t <= duration,
);

/** The same for SciPy, from the state after the pulse. */
function problem(description, start, options) {
  const free = description.nodes.filter((n) => n.store);
  const index = new Map(description.nodes.map(({ name }, i) => [name, i]));
  return {
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
    ...options,
  };
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

const rows = [];
for (const [what, description, node] of [
  ["pulse over 8 decades, 6 nodes", sixNodes, "chip"],
  ["pulse over 13 decades, 10 nodes", tenNodes, "hit"],
]) {
  const pulses = [{ time: 0, node, energy }];
  const network = new TransientNetwork(description);
  const run = (relativeTolerance) => network.run({ duration, pulses, relativeTolerance });
  const names = description.nodes.slice(0, -1).map(({ name }) => name);
  const at = (solution) => times.map((t) => names.map((name) => solution.temperature(name, t)));
  const off = (found, wanted) => {
    const ratios = found.flatMap((row, t) => row.map((value, i) => value / wanted[t][i] - 1));
    return ratios.reduce((most, ratio) => Math.max(most, Math.abs(ratio)), 0);
  };
  const tight = at(run(1e-12));
  const several = () =>
    quickest(Array.from({ length: quick ? 10 : 400 }, () => timed(() => run(ourTolerance))));
  const start = run(ourTolerance).at(0);
  const options = { repeats: quick ? 2 : 5, tight: quick ? undefined : 1e-10 };
  const script = () => python("scipy_transient.py", problem(description, start, options));
  const [ours, theirs] = race(1, several, script, several);
  const memory = peakMemory();
  const own = { what, ours: ours.seconds, memory, ourError: off(at(ours.value), tight) };
  if (theirs === undefined) {
    rows.push({ ...own, reference: "SciPy, stiff methods", theirs: "not installed" });
    continue;
  }
  for (const { method, seconds, found } of theirs.runs) {
    rows.push({
      ...own,
      reference: `SciPy, ${method}`,
      theirs: seconds,
      theirMemory: theirs.memory,
      theirError: off(found, tight),
    });
  }
  if (theirs.tight) {
    const checked = off(theirs.tight, tight).toExponential(1);
    rows.at(-1).note =
      `${ours.value.steps} steps; the tight solution is our own at 1e-12, and SciPy's Radau at 1e-10 is within ${checked} of it`;
  }
}

const size = 71;
const compiled = timed(() => new TransientNetwork(grid(size)));
const hit = [{ time: 0, node: "c35,35", energy: 1e-14 }];
const settled = timed(() => compiled.value.run({ duration: 1, pulses: hit }));
const memory = peakMemory();
rows.push(
  { what: `die of ${size} × ${size} cells, compiled`, ours: compiled.seconds, memory },
  { what: `die of ${size} × ${size} cells, a hit over a second`, ours: settled.seconds, memory },
);
report(rows);
