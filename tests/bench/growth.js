/**
 * How cost grows: nodes in a chain and in a grid, cells of a 2-D die. The exponent is fitted to the larger
 * half of the sizes.
 * @module
 */
import { Sheet } from "../../dist/chip/sheet.js";
import { powerConductor } from "../../dist/joints/index.js";
import { SteadyNetwork } from "../../dist/network/index.js";
import { exponent, peakMemory, quick, race, report, timed } from "./harness.js";

function chain(size) {
  const nodes = [{ name: "stage", temperature: 0.1 }];
  const links = [];
  for (let i = 0; i < size; i++) {
    nodes.push({ name: `n${i}`, load: 1e-9 / size });
    const from = i > 0 ? `n${i - 1}` : "stage";
    const conductor = powerConductor(1e-6 * size, 2);
    links.push({ name: `l${i}`, from, to: `n${i}`, conductor });
  }
  return { nodes, links };
}

function grid(size) {
  const side = Math.round(Math.sqrt(size));
  const nodes = [{ name: "stage", temperature: 0.1 }];
  const links = [];
  const link = (from, to, coefficient, exponent) =>
    links.push({
      name: `${from} ${to}`,
      from,
      to,
      conductor: powerConductor(coefficient, exponent),
    });
  for (let i = 0; i < side; i++) {
    for (let j = 0; j < side; j++) {
      const name = `${i},${j}`;
      nodes.push({ name, load: 1e-9 / side ** 2 });
      if (i > 0) link(`${i - 1},${j}`, name, 1e-4, 4);
      if (j > 0) link(`${i},${j - 1}`, name, 1e-4, 4);
      else link("stage", name, 1e-6, 2);
    }
  }
  return { nodes, links };
}

const sizes = quick ? [10, 100, 1_000, 10_000] : [10, 100, 1_000, 10_000, 100_000];
const rows = [];
for (const [shape, describe] of [
  ["a chain", chain],
  ["a grid", grid],
]) {
  const compiled = [];
  const solved = [];
  for (const size of sizes) {
    const description = describe(size);
    // Warm enough to be compiled itself, few enough to be done soon.
    const rounds = Math.max(1, Math.min(50, 20_000 / size));
    const [compile] = race(rounds, () => timed(() => new SteadyNetwork(description)));
    const network = compile.value;
    const [solve] = race(rounds, () =>
      timed(() => {
        if (!network.trySolve()) throw new Error(network.failure);
      }),
    );
    compiled.push(compile.seconds);
    solved.push(solve.seconds);
    const memory = peakMemory();
    rows.push({ what: `${shape} of ${size} nodes, compiled`, ours: compile.seconds, memory });
    rows.push({ what: `${shape} of ${size} nodes, solved`, ours: solve.seconds, memory });
  }
  const grows = (times) => exponent(sizes.slice(-3), times.slice(-3)).toFixed(2);
  rows.at(-2).note = `time grows as the ${grows(compiled)}th power of the nodes`;
  rows.at(-1).note = `time grows as the ${grows(solved)}th power of the nodes`;
}

const sides = quick ? [32, 64, 128, 256] : [32, 64, 128, 256, 512, 1024];
const side = 25e-3;
const pads = Array.from({ length: 80 }, (_, i) => {
  const middle = (((i >> 2) + 1) * side) / 21;
  const [near, far] = i % 2 ? [side - 0.4e-3, side - 0.1e-3] : [0.1e-3, 0.4e-3];
  const [from, to] = [middle - 75e-6, middle + 75e-6];
  const upright = i % 4 < 2;
  const area = upright
    ? { left: from, right: to, bottom: near, top: far }
    : { left: near, right: far, bottom: from, top: to };
  return { name: `pad ${i}`, area };
});
const condensed = sides.map((cells) => {
  const reduce = () =>
    new Sheet({ width: side, length: side, cellsX: cells, cellsY: cells }).condense(pads);
  const [{ seconds }] = race(cells > 256 ? 1 : 3, () => timed(reduce));
  rows.push({ what: `2-D, with ${cells}² cells, condensed`, ours: seconds, memory: peakMemory() });
  return seconds;
});
const cells = sides.map((n) => n ** 2);
rows.at(-1).note =
  `time grows as the ${exponent(cells.slice(-3), condensed.slice(-3)).toFixed(2)}th power of the cells`;
report(rows);
