/**
 * From nothing: Node by itself, the import of the library, a first budget, and `npm start` from a built
 * tree with its parts; and what a page has to load.
 * @module
 */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { quick, race, report, timed } from "./harness.js";

const root = fileURLToPath(new URL("../../", import.meta.url));
const rounds = quick ? 1 : 3;
const node = (...words) => execFileSync(process.execPath, words, { cwd: root, encoding: "utf8" });
const script = (text) => () => timed(() => node("--input-type=module", "--eval", text));
const budget = `
  import { readFileSync } from "node:fs";
  import { thermalBudget } from "./dist/index.js";
  thermalBudget(JSON.parse(readFileSync("data/mounts/ombrel-camera.json", "utf8")));`;

/** The parts of a run of the first notebook, in a process of its own [s]. */
const parts = `
  import { findNotebook, readNotebook } from "./dist/notebook/run/notebook.js";
  import { executeNotebook } from "./dist/notebook/run/execute.js";
  import { openSession } from "./dist/notebook/run/tslab.js";
  import { page } from "./dist/notebook/page/page.js";
  const began = performance.now();
  const notebook = readNotebook(findNotebook("notebooks", "size-bonds"));
  const starts = [];
  const run = await executeNotebook(notebook, () => starts.push(performance.now()));
  const ended = performance.now();
  page(run, { date: "2000-01-01", versions: [] });
  console.log(JSON.stringify({
    opening: starts[0] - began,
    first: starts[1] - starts[0],
    cells: ended - starts[1],
    page: performance.now() - ended,
    processor: process.cpuUsage().user / 1e3,
  }));`;

const folder = mkdtempSync(join(tmpdir(), "coldpath-bench-"));
let rows;
try {
  const start = () =>
    timed(() => execFileSync("npm", ["start", "--silent", "--", "--out", folder], { cwd: root }));
  const results = race(
    rounds,
    script(""),
    script('import "./dist/index.js";'),
    script(budget),
    start,
    () => {
      const { seconds, value } = script(parts)();
      return { seconds, value: JSON.parse(value) };
    },
  );
  const [empty, imported, first, whole, { value }] = results;
  rows = [
    ["Node with nothing", empty.seconds],
    ["the import of the library", imported.seconds - empty.seconds],
    ["a first budget, import and all", first.seconds],
    ["npm start, a built tree", whole.seconds],
    ["  tslab and its TypeScript loaded", value.opening / 1e3],
    ["  the cell that imports the library", value.first / 1e3],
    ["  the other cells, checked and run", value.cells / 1e3],
    ["  the page", value.page / 1e3],
  ].map(([what, ours]) => ({ what, ours, memory: undefined }));
  const processor = `${(value.processor / 1e3).toPrecision(3)} s of processor time for the parts`;
  rows.find(({ what }) => what.startsWith("npm start")).note = processor;
} finally {
  rmSync(folder, { recursive: true });
}
const bundle = readFileSync(join(root, "dist/notebook/panel/bundle.js"));
const compressed = gzipSync(bundle, { level: 9 }).length;
rows.push({
  what: "library and panel for a page, compressed",
  memory: undefined,
  bytes: compressed,
  note: `${bundle.length} bytes, ${compressed} compressed`,
});
report(rows);
