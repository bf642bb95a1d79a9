/**
 * One steady state after another, one count changed each time: the same Newton in C++ as the limit,
 * SciPy's root, a script with mathjs's lusolve, and the circuit simulator.
 * @module
 */
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { SteadyNetwork } from "../../dist/network/index.js";
import { newtonByMathjs } from "../reference/mathjs-newton.js";
import { tightTemperatures } from "../reference/tight.js";
import {
  apart,
  peakMemory,
  python,
  quick,
  quickest,
  race,
  referenceFile,
  report,
  timed,
} from "./harness.js";
import { sixNodes, tenNodes } from "./networks.js";
import { circuit } from "./simulator.js";

/** About a millisecond: short enough to fit between what else the machine does. */
const solvesPerStretch = 1_000;
const stretches = 50;
const rounds = quick ? 8 : 40;
/** The link whose count changes, one in the middle of the network. */
const changed = 2;
const count = (i) => 1 + (i % 100) / 100;

function solver(description) {
  const network = new SteadyNetwork(description);
  const stretch = () => {
    for (let i = 0; i < solvesPerStretch; i++) {
      network.setCount(changed, count(i));
      if (!network.trySolve()) throw new Error(network.failure);
    }
    return [...network.temperatures];
  };
  return () => quickest(Array.from({ length: stretches }, () => timed(stretch)));
}

/** The same in C++, compiled into a temporary folder; undefined where there is no compiler. */
function limit(folder) {
  const program = join(folder, "limit");
  try {
    const source = referenceFile("limit.cpp");
    execFileSync("g++", ["-O3", "-std=c++17", source, "-o", program], { stdio: "pipe" });
  } catch (error) {
    if (error.code === "ENOENT") return undefined;
    throw error;
  }
  return ({ nodes, links }) => {
    const index = new Map(nodes.map((node, i) => [node.name, i]));
    const input = [
      [nodes.length, links.length, stretches, solvesPerStretch, changed],
      ...nodes.map((n) => [n.temperature ?? 0, n.load ?? 0]),
      ...links.map(({ from, to, conductor: { powers } }) => {
        const [{ coefficient, exponent }] = powers;
        return [index.get(from), index.get(to), coefficient, exponent];
      }),
    ];
    const text = input.map((row) => row.join(" ")).join("\n");
    return () => {
      const [seconds, ...rest] = execFileSync(program, { input: text, encoding: "utf8" })
        .trim()
        .split(" ")
        .map(Number);
      return { seconds, value: rest.slice(2) };
    };
  };
}

const rows = [];
const later = [];
const folder = mkdtempSync(join(tmpdir(), "coldpath-bench-"));
try {
  const compiled = limit(folder);
  for (const [what, description] of [
    ["steady, 6 nodes", sixNodes],
    ["steady, 10 nodes", tenNodes],
  ]) {
    const last = count(solvesPerStretch - 1);
    const network = new SteadyNetwork(description);
    const order = description.nodes.map(({ name }) => network.nodeNames.indexOf(name));
    const lastDescription = {
      ...description,
      links: description.links.map((link, i) => (i === changed ? { ...link, count: last } : link)),
    };
    const own = solver(description);
    const perSolve = ({ seconds }) => seconds / solvesPerStretch;
    const cpp = compiled?.(description);
    const [ours, theirs] = race(rounds, own, cpp ?? (() => undefined));
    const found = order.map((i) => ours.value[i]);
    const tight = tightTemperatures(lastDescription, found);
    const both = {
      what,
      ours: perSolve(ours),
      ourError: apart(found, tight),
      memory: peakMemory(),
    };
    rows.push({
      ...both,
      reference: "C++, the same Newton",
      theirs: theirs ? perSolve(theirs) : "not installed",
      ...(theirs && { theirError: apart(theirs.value, tight) }),
    });

    const script = () => python("scipy_steady.py", problem(lastDescription));
    const [again, scipy] = race(quick ? 1 : 3, own, script);
    rows.push({
      ...both,
      ours: perSolve(again),
      reference: scipy ? `SciPy ${scipy.scipy}, root` : "SciPy, root",
      theirs: scipy?.seconds ?? "not installed",
      theirMemory: scipy?.memory,
      ...(scipy && { theirError: apart(scipy.temperatures, tight) }),
    });

    const newton = newtonByMathjs(lastDescription);
    const times = quick ? 20 : 100;
    const several = () => {
      const { seconds, value } = timed(() => Array.from({ length: times }, newton).at(-1));
      return { seconds: seconds / times, value };
    };
    const [third, mathjs] = race(quick ? 3 : 10, own, several);
    rows.push({
      ...both,
      ours: perSolve(third),
      reference: "mathjs, Newton by lusolve",
      theirs: mathjs.seconds,
      theirError: apart(mathjs.value, tight),
    });

    later.push({ both, own: () => perSolve(own()), lastDescription, tight });
  }
} finally {
  rmSync(folder, { recursive: true });
}
// The simulator last: it takes half a gigabyte in this process.
for (const { both, own, lastDescription, tight } of later) {
  const spice = await circuit(lastDescription);
  const runs = [];
  const ours = [];
  for (let i = 0; spice && i < (quick ? 3 : 10); i++) {
    runs.push(await spice());
    ours.push(own());
  }
  const theirs = spice && quickest(runs);
  rows.push({
    ...both,
    ours: spice ? Math.min(...ours) : both.ours,
    reference: "SPICE, operating point",
    theirs: theirs?.seconds ?? "not installed",
    ...(theirs && { theirError: apart(theirs.value, tight) }),
  });
}
report(rows.sort((a, b) => a.what.length - b.what.length));

function problem({ nodes, links }) {
  const index = new Map(nodes.map(({ name }, i) => [name, i]));
  return {
    temperatures: nodes.map(({ temperature = 0 }) => temperature),
    loads: nodes.map(({ load = 0 }) => load),
    links: links.map(({ from, to, count = 1, conductor: { powers } }) => [
      index.get(from),
      index.get(to),
      count * powers[0].coefficient,
      powers[0].exponent,
    ]),
    repeats: quick ? 50 : 300,
  };
}
