/**
 * A fit of two films of the example camera on its 2-D die to the invented cool-down, beside the same fit by
 * the 2-D die alone, from where it was told to start. Then the cheapest of two fields on the same die.
 * @module
 */
import { readFileSync } from "node:fs";
import { readInputs } from "../../dist/design/fitting/fit-inputs.js";
import { fitModel } from "../../dist/design/fitting/fit-model.js";
import { HeatedMount } from "../../dist/design/fitting/heated-mount.js";
import { cheapest } from "../../dist/design/index.js";
import { calibrate, readThermometry, standardCatalogue } from "../../dist/index.js";
import { peakMemory, quick, race, report, timed } from "./harness.js";

const read = (path) => readFileSync(new URL(`../../data/${path}`, import.meta.url), "utf8");
const data = readThermometry(read("measurements/ombrel-cooldown.csv"));
const sheet = JSON.parse(read("mounts/ombrel-camera.json"));
const coupling = { coefficient: 2.4e9, exponent: 5 };
const mount = { ...sheet, pads: { ...sheet.pads, coupling, boundary: { resistance: 1e-3 } } };
const inputs = ["pads.coupling.coefficient", "pads.boundary.resistance"];

/** Solves of the 2-D die. */
let solves = 0;
const { temperatures } = HeatedMount.prototype;
HeatedMount.prototype.temperatures = function counted(...all) {
  if (this.isResolved) solves++;
  return temperatures.apply(this, all);
};
const counted = (run) => {
  solves = 0;
  return { ...timed(run), solves };
};

const catalogue = standardCatalogue();
const [ours, alone] = race(
  quick ? 1 : 3,
  () => counted(() => calibrate(mount, data, { inputs }).parameters.map(({ value }) => value)),
  () =>
    counted(() => {
      const model = new HeatedMount(mount, data, readInputs(mount, { inputs }), {}, catalogue);
      const refuse = ({ together }) => new Error(`not determined: ${together.join(", ")}`);
      return fitModel(model, refuse).values;
    }),
);
const off = Math.max(...ours.value.map((value, i) => Math.abs(value / alone.value[i] - 1)));
const rows = [
  {
    what: "a fit of 24 lines on the 2-D die",
    reference: "the same by the 2-D die alone",
    ours: ours.seconds,
    theirs: alone.seconds,
    memory: peakMemory(),
    note: `${ours.solves} solves of it for ${alone.solves}; the inputs are ${off.toExponential(0)} apart`,
  },
];

const choices = [
  { field: "bonds.count", from: 20, to: 300 },
  { field: "pads.thickness", from: "200 nm", to: "1 um" },
];
const start = performance.now();
const found = await cheapest(sheet, choices, { least: "gold" });
rows.push({
  what: "the cheapest of two fields on the 2-D die",
  ours: (performance.now() - start) / 1e3,
  note: `${found.solves} solves of the two-node model`,
});
report(rows);
