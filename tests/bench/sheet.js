/**
 * How fast a die with eighty nonlinear pads is solved on 128 × 128 cells, beside one sparse Newton
 * iteration over all cells in SciPy. Prints a table; `npm run bench` runs it, or after a build
 * `node tests/bench/sheet.js`.
 * @module
 */
import { execFileSync } from "node:child_process";
import { performance } from "node:perf_hooks";
import { fileURLToPath } from "node:url";
import { Sheet } from "../../dist/chip/sheet.js";
import { powerConductor } from "../../dist/conductor.js";
import { SteadyNetwork } from "../../dist/network/steady.js";

const cells = 128;
const side = 25e-3;
const furtherSolves = 300;
/** How many of them SciPy repeats: it takes its time. */
const repeated = 8;

/** Numbers of the size of a silicon die's with gold pads and bonds; Θ = c·Tᵖ, in W and K. */
const law = 9e-5;
const boundaryLaw = 2.2e-5;
const filmLaw = 2.7e-5;
const boxLaw = 2e-4;
const stage = 0.11;
const bondLaw = 1e-7;
const load = 11e-9;

const pads = Array.from({ length: 80 }, (_, i) => {
  const middle = (((i >> 2) + 1) * side) / 21;
  const [near, far] = i % 2 ? [side - 0.4e-3, side - 0.1e-3] : [0.1e-3, 0.4e-3];
  const [from, to] = [middle - 75e-6, middle + 75e-6];
  const area =
    i % 4 < 2
      ? { left: from, right: to, bottom: near, top: far }
      : { left: near, right: far, bottom: from, top: to };
  return { name: `pad ${i}`, area };
});
const boundaries = pads.map((_, i) => boundaryLaw * (1 + (i % 3)));
/** Bonds of solve k, all of them changed each time, and the load. */
const bonds = (k) => pads.map((_, i) => bondLaw * (1 + ((7 * i + 3 * k) % 11) / 10));
const scale = (k) => 1 + (k % 20) / 40;
const maps = [
  { kind: "uniform", power: 0.6 * load },
  { kind: "spot", power: 0.4 * load, x: 10e-3, y: 16e-3, radius: 2e-3 },
];

/** Everything from nothing: the sheet, its reduction, the network, the solution and the field. */
function firstSolve() {
  const sheet = new Sheet({ width: side, length: side, cellsX: cells, cellsY: cells });
  const powers = sheet.powers(maps);
  const reduced = sheet.reduce(pads);
  const body = reduced.body(powerConductor(law, 4), powers);
  const network = new SteadyNetwork({
    nodes: [
      { name: "box" },
      { name: "stage", temperature: stage },
      ...pads.flatMap(({ name }) => [
        { name },
        { name: `${name} phonons` },
        { name: `${name} electrons` },
      ]),
    ],
    links: [
      { name: "joint", from: "box", to: "stage", conductor: powerConductor(boxLaw, 2) },
      ...pads.flatMap(({ name }, i) => {
        const [phonons, electrons] = [`${name} phonons`, `${name} electrons`];
        const link = (part, from, to, conductor) => ({
          name: `${name} ${part}`,
          from,
          to,
          conductor,
        });
        return [
          link("boundary", name, phonons, powerConductor(boundaries[i], 4)),
          link("film", phonons, electrons, powerConductor(filmLaw, 5)),
          link("bond", electrons, "box", powerConductor(bonds(0)[i], 2)),
        ];
      }),
    ],
    bodies: [{ name: "die", terminals: reduced.terminals, body }],
  });
  if (!network.trySolve()) throw new Error(network.failure);
  const places = reduced.terminals.map((name) => network.nodeNames.indexOf(name));
  const field = () =>
    reduced.field(
      body,
      places.map((place) => network.temperatures[place]),
    );
  return { sheet, reduced, body, powers, network, places, hottest: field().hottest };
}

/** A further solve with every bond changed, or the load, or both: all temperatures and the hottest. */
function furtherSolve(
  { reduced, body, powers, network, places },
  k,
  bondsToo = true,
  loadToo = true,
) {
  if (bondsToo) {
    bonds(k).forEach((bond, i) => {
      network.setConductor(3 + 3 * i, powerConductor(bond, 2));
    });
  }
  let loaded = body;
  if (loadToo) {
    const factor = scale(k);
    const changed = Float64Array.from(powers);
    for (let i = 0; i < changed.length; i++) changed[i] *= factor;
    loaded = reduced.body(body.law, changed);
    network.setBody(0, loaded);
  }
  if (!network.trySolve(200, "present")) throw new Error(network.failure);
  const temperatures = places.map((place) => network.temperatures[place]);
  const field = reduced.field(loaded, temperatures);
  return { temperatures: field.temperatures, hottest: field.hottest };
}

/** The same problem for SciPy; undefined where there is none. */
function scipy({ sheet }) {
  const shares = pads.flatMap(({ area }, pad) => {
    const { columns, rows } = { columns: sheet.grid.columns(area), rows: sheet.grid.rows(area) };
    return [...rows.shares].flatMap((row, j) =>
      [...columns.shares].map((column, i) => [
        pad,
        (rows.first + j) * cells + columns.first + i,
        row * column,
      ]),
    );
  });
  const numbers = Array.from({ length: repeated + 1 }, (_, k) => k);
  const { cellWidth, cellLength } = sheet.grid;
  const problem = {
    cellsX: cells,
    cellsY: cells,
    cellWidth,
    cellLength,
    shares,
    law,
    boundary: boundaries,
    film: filmLaw,
    box: boxLaw,
    stage,
    powers: [...sheet.powers(maps)],
    scales: numbers.map(scale),
    bonds: numbers.map(bonds),
  };
  const script = fileURLToPath(new URL("../reference/scipy_sheet.py", import.meta.url));
  try {
    const options = { input: JSON.stringify(problem), encoding: "utf8", maxBuffer: 1 << 26 };
    const answer = JSON.parse(execFileSync("python3", [script], options));
    return answer.missing ? undefined : answer;
  } catch (error) {
    if (error.code === "ENOENT") return undefined;
    throw error;
  }
}

/** The quickest counts: other work on the machine slows some. */
const quickest = (times) => Math.min(...times);
const milliseconds = (seconds) => `${(1e3 * seconds).toPrecision(3)} ms`;

/** Measures, prints, and returns the numbers in seconds and bytes. */
export function benchSheet() {
  const begin = performance.now();
  const die = firstSolve();
  const first = (performance.now() - begin) / 1e3;
  const time = (bondsToo, loadToo) => {
    const times = [];
    for (let k = 1; k <= furtherSolves; k++) {
      const start = performance.now();
      furtherSolve(die, k, bondsToo, loadToo);
      times.push((performance.now() - start) / 1e3);
    }
    return quickest(times);
  };
  const changedBonds = time(true, false);
  const changedLoad = time(false, true);
  const further = time(true, true);
  const peak = process.resourceUsage().maxRSS * 1024;
  const line = (what, value) => console.log(`  ${what.padEnd(42)} ${value}`);
  console.log(
    `die of ${cells} × ${cells} cells with ${pads.length} nonlinear pads, all temperatures`,
  );
  line("first solve", `${milliseconds(first)} (wanted: below 1 s)`);
  line("further solve, all bonds changed", `${milliseconds(changedBonds)} (wanted: below 5 ms)`);
  line("further solve, the load changed", `${milliseconds(changedLoad)} (wanted: below 5 ms)`);
  line("further solve, bonds and load changed", milliseconds(further));
  line("peak memory of the process", `${(peak / 1e6).toFixed(0)} MB (wanted: below 500 MB)`);
  const own = { first, changedBonds, changedLoad, further, peak };

  const other = scipy(die);
  if (other === undefined) {
    line("sparse Newton over all cells in SciPy", "not installed");
    return own;
  }
  for (const { order, further: times, steps } of other.orders) {
    const theirs = quickest(times);
    const ratio = (theirs / further).toFixed(0);
    line(
      `SciPy ${other.scipy}, ${order}`,
      `${milliseconds(theirs)} in ${steps} steps: ${ratio} times as long`,
    );
  }
  // The last of SciPy's, from another start.
  const { temperatures } = furtherSolve(die, repeated);
  let apart = 0;
  for (let c = 0; c < temperatures.length; c++) {
    apart = Math.max(apart, Math.abs(temperatures[c] / other.temperatures[c] - 1));
  }
  line("temperatures apart", `${apart.toExponential(1)} at most (wanted: 1e-8)`);
  return {
    ...own,
    scipy: other.orders.map(({ order, further }) => ({ order, further: quickest(further) })),
    apart,
  };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) benchSheet();
