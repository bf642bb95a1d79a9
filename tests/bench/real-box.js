/**
 * The array of notebooks/real-box.ipynb on a 2-D die, whose contacts are cut in a few rounds: first, and again with
 * another load.
 * @module
 */
import { readFileSync } from "node:fs";
import ts from "typescript";
import { readMount, standardCatalogue } from "../../dist/index.js";
import { MountModel } from "../../dist/mount/index.js";
import { peakMemory, quick, quickest, report, timed } from "./harness.js";

/** The mount that the first cell of code makes. */
function mountOfNotebook() {
  const file = new URL("../../notebooks/real-box.ipynb", import.meta.url);
  const { cells } = JSON.parse(readFileSync(file, "utf8"));
  const cell = [cells.find(({ cell_type }) => cell_type === "code").source].flat().join("");
  const own = cell.slice(cell.indexOf("const "), cell.indexOf("const budget"));
  const { outputText } = ts.transpileModule(own, { compilerOptions: { target: "es2022" } });
  return new Function(`${outputText}\nreturn mount;`)();
}

const mount = readMount(mountOfNotebook());
const catalogue = standardCatalogue();
const field = `loads.${mount.loads.findIndex(({ kind }) => kind === "infrared")}.power`;

function firstSolve() {
  const model = new MountModel(mount, catalogue);
  model.vary(field);
  model.solve();
  return model;
}

const { seconds: first, value: model } = timed(firstSolve);
let k = 0;
const again = () => {
  model.set(field, 3e-9 * (1 + (++k % 20) / 40));
  model.solve();
};
const { seconds } = quickest(Array.from({ length: quick ? 20 : 60 }, () => timed(again)));
report([
  { what: "a real box, first", ours: first, memory: peakMemory() },
  { what: "a real box, again", ours: seconds, memory: peakMemory() },
]);
