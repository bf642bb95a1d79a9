/**
 * A die with eighty nonlinear pads, first and with all bonds and the load changed, beside one sparse
 * Newton iteration over all cells in SciPy.
 * @module
 */
import { Sheet } from "../../dist/chip/sheet.js";
import { powerConductor } from "../../dist/conductor.js";
import { SteadyNetwork } from "../../dist/network/steady.js";
import { apart, peakMemory, python, quick, quickest, race, report, timed } from "./harness.js";

const side = 25e-3;

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
function firstSolve(cells) {
  const sheet = new Sheet({ width: side, length: side, cellsX: cells, cellsY: cells });
  const condensed = sheet.condense(pads);
  const body = condensed.body(powerConductor(law, 4), maps);
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
    bodies: [{ name: "die", terminals: condensed.terminals, body }],
  });
  if (!network.trySolve()) throw new Error(network.failure);
  const places = condensed.terminals.map((name) => network.nodeNames.indexOf(name));
  const field = () =>
    condensed.field(
      body,
      places.map((place) => network.temperatures[place]),
    );
  return { sheet, condensed, body, network, places, hottest: field().hottest };
}

/** A further solve with every bond and the load changed: all temperatures and the hottest. */
function furtherSolve({ condensed, body, network, places }, k) {
  bonds(k).forEach((bond, i) => {
    network.setConductor(3 + 3 * i, powerConductor(bond, 2));
  });
  const factor = scale(k);
  const loaded = condensed.body(
    body.law,
    maps.map((map) => ({ ...map, power: factor * map.power })),
  );
  network.setBody(0, loaded);
  if (!network.trySolve(200, "present")) throw new Error(network.failure);
  const temperatures = places.map((place) => network.temperatures[place]);
  const field = condensed.field(loaded, temperatures);
  return { temperatures: field.temperatures, hottest: field.hottest };
}

/** The same problem for SciPy: solve 0, and so many further ones. */
function problem({ sheet }, cells, repeated, orders, tight) {
  const shares = pads.flatMap(({ area }, pad) => {
    const [columns, rows] = [sheet.grid.columns(area), sheet.grid.rows(area)];
    return [...rows.shares].flatMap((row, j) =>
      [...columns.shares].map((column, i) => [
        pad,
        (rows.first + j) * cells + columns.first + i,
        row * column,
      ]),
    );
  });
  const numbers = Array.from({ length: repeated + 1 }, (_, k) => k);
  return {
    cellsX: cells,
    cellsY: cells,
    cellWidth: sheet.grid.cellWidth,
    cellLength: sheet.grid.cellLength,
    shares,
    law,
    boundary: boundaries,
    film: filmLaw,
    box: boxLaw,
    stage,
    powers: [...sheet.powers(maps)],
    scales: numbers.map(scale),
    bonds: numbers.map(bonds),
    orders,
    tight,
  };
}

const rows = [];
for (const [cells, repeated, orders] of [
  [128, quick ? 2 : 4, ["as it comes (COLAMD)", "ordered for symmetry"]],
  [512, 1, ["ordered for symmetry"]],
]) {
  const { seconds: first, value: die } = timed(() => firstSolve(cells));
  let k = 0;
  const several = () =>
    quickest(Array.from({ length: quick ? 20 : 100 }, () => timed(() => furtherSolve(die, ++k))));
  several();
  const memory = peakMemory();
  const skip = quick && cells > 128;
  const script = () =>
    skip
      ? undefined
      : python("scipy_sheet.py", problem(die, cells, repeated, orders, cells <= 128));
  const [ours, theirs] = race(1, several, script, several);
  // The last of SciPy's.
  const own = furtherSolve(die, repeated).temperatures;
  const missing = skip ? "left out" : "not installed";
  const size = `sheet ${cells}², 80 pads`;
  const ourError = theirs?.tight && { ourError: apart(own, theirs.tight) };
  rows.push({
    what: `${size}, first`,
    ours: first,
    memory,
    reference: "SciPy, sparse Newton",
    theirs: theirs?.first ?? missing,
  });
  for (const name of theirs ? orders : ["sparse Newton"]) {
    const found = theirs?.orders.find(({ order }) => order === name);
    rows.push({
      what: `${size}, again`,
      ours: ours.seconds,
      memory,
      reference: `SciPy, ${name}`,
      theirs: found ? Math.min(...found.further) : missing,
      theirMemory: theirs?.memory,
      ...ourError,
      ...(theirs?.tight && { theirError: apart(theirs.temperatures, theirs.tight) }),
    });
  }
  if (theirs && !theirs.tight) {
    rows.at(-1).note =
      `SciPy's temperatures are within ${apart(own, theirs.temperatures).toExponential(1)} of ours`;
  }
}
report(rows);
