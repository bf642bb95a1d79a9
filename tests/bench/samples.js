/**
 * A hundred thousand draws of all unknowns of the example mount, each solved.
 * @module
 */
import { readFileSync } from "node:fs";
import * as coldpath from "../../dist/index.js";
import { exponent, peakMemory, quick, report } from "./harness.js";

const file = new URL("../../data/mounts/ombrel-camera.json", import.meta.url);
const example = JSON.parse(readFileSync(file, "utf8"));
const mount = { ...example, die: { ...example.die, model: "centre and edge" } };
const rows = [];
if (coldpath.confidence === undefined) {
  rows.push({ what: "100,000 samples of a mount", theirs: "not in this build" });
} else {
  const sizes = quick ? [1_000, 10_000] : [1_000, 10_000, 100_000];
  const seconds = [];
  for (const samples of sizes) {
    const start = performance.now();
    await coldpath.confidence(mount, { samples });
    seconds.push((performance.now() - start) / 1e3);
    const what = `${samples.toLocaleString("en")} samples of a mount`;
    rows.push({ what, ours: seconds.at(-1), memory: peakMemory() });
  }
  rows.at(-1).note =
    `time grows as the ${exponent(sizes, seconds).toFixed(2)}th power of the samples`;
}
report(rows);
