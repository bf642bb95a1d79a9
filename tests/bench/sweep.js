/**
 * A map of 200 × 200 points over the counts of two links, the network compiled once; and the same map of
 * a whole mount, where a bond's length changes, too.
 * @module
 */
import { readFileSync } from "node:fs";
import { sweep } from "../../dist/index.js";
import { SteadyNetwork } from "../../dist/network/index.js";
import { tightTemperatures } from "../reference/tight.js";
import { apart, peakMemory, python, quick, race, report, timed } from "./harness.js";
import { sixNodes } from "./networks.js";
import { circuitSweep } from "./simulator.js";

const side = 200;
const axes = [
  { link: 2, from: 1, to: 20, count: side },
  { link: 4, from: 0.5, to: 4, count: side },
];
const values = axes.map(({ from, to, count }) =>
  Float64Array.from({ length: count }, (_, i) => from + (i * (to - from)) / (count - 1)),
);
const network = new SteadyNetwork(sixNodes);
const places = sixNodes.nodes.map(({ name }) => network.nodeNames.indexOf(name));
const size = places.length;

/** Temperatures of every node at every point. */
function networkSweep() {
  const map = new Float64Array(side * side * size);
  for (let i = 0, at = 0; i < side; i++) {
    network.setCount(axes[0].link, values[0][i]);
    for (let j = 0; j < side; j++) {
      network.setCount(axes[1].link, values[1][j]);
      if (!network.trySolve()) throw new Error(network.failure);
      for (let n = 0; n < size; n++) map[at++] = network.temperatures[places[n]];
    }
  }
  return map;
}

const own = () => timed(networkSweep);
const [ours] = race(quick ? 5 : 15, own);
/** The tight solution at a few corners of the map. */
const probes = [0, side - 1, side * (side >> 1) + 7, side * (side - 1), side * side - 1];
const tight = probes.map((point) => {
  const factors = [values[0][Math.floor(point / side)], values[1][point % side]];
  const links = sixNodes.links.map((link, l) => {
    const axis = axes.findIndex((a) => a.link === l);
    return axis < 0 ? link : { ...link, count: factors[axis] };
  });
  const start = [...ours.value.subarray(size * point, size * (point + 1))];
  return tightTemperatures({ ...sixNodes, links }, start);
});
const off = (at) => Math.max(...probes.map((point, i) => apart(at(point), tight[i])));
const base = {
  what: `sweep ${side} × ${side}, 6 nodes`,
  memory: peakMemory(),
  ourError: off((point) => ours.value.subarray(size * point, size * (point + 1))),
};

/** SciPy does every so many-th row of the map: the last of each is compared. */
const every = quick ? 40 : 8;
const rowsDone = Array.from({ length: side / every }, (_, i) => every * i + every - 1);
const index = new Map(sixNodes.nodes.map(({ name }, i) => [name, i]));
const script = () => {
  const answer = python("scipy_steady.py", {
    temperatures: sixNodes.nodes.map(({ temperature = 0 }) => temperature),
    loads: sixNodes.nodes.map(({ load = 0 }) => load),
    links: sixNodes.links.map(({ from, to, conductor: { powers } }) => [
      index.get(from),
      index.get(to),
      powers[0].coefficient,
      powers[0].exponent,
    ]),
    sweep: {
      links: axes.map(({ link }) => link),
      first: rowsDone.map((i) => values[0][i]),
      second: [...values[1]],
    },
  });
  return answer && { ...answer, seconds: every * answer.seconds };
};
const [beside, scipy] = race(quick ? 1 : 2, own, script);
const rows = [
  {
    ...base,
    ours: Math.min(ours.seconds, beside.seconds),
    reference: "SciPy, root at each point",
    theirs: scipy?.seconds ?? "not installed",
    theirMemory: scipy?.memory,
    ...(scipy && { theirError: apart(scipy.temperatures.at(-1), tight.at(-1)) }),
    note: `SciPy solves one row in ${every}, its time counted ${every} times`,
  },
];

const file = new URL("../../data/mounts/ombrel-camera.json", import.meta.url);
const mount = JSON.parse(readFileSync(file, "utf8"));
const simple = { ...mount, die: { ...mount.die, model: "two nodes" } };
const counts = { field: "bonds.count", from: 10, to: 209, count: side };
const lengths = { field: "bonds.length", from: "0.5 mm", to: "5 mm", count: side };
const [map] = race(quick ? 2 : 5, () => timed(() => sweep(simple, counts, lengths)));
const [curve] = race(quick ? 2 : 5, () => timed(() => sweep(mount, lengths)));
rows.push(
  { what: `sweep ${side} × ${side}, a whole mount`, ours: map.seconds, memory: peakMemory() },
  { what: `sweep of ${side} lengths, a sheet`, ours: curve.seconds, memory: peakMemory() },
);

const simulated = await circuitSweep(sixNodes, axes);
const [last] = race(3, own);
rows.splice(1, 0, {
  ...base,
  ours: Math.min(ours.seconds, last.seconds),
  reference: "SPICE, its own sweep",
  theirs: simulated?.seconds ?? "not installed",
  ...(simulated && {
    theirError: off((point) => simulated.temperatures.map((list) => list[point])),
  }),
});
report(rows);
