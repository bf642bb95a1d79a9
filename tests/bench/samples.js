/**
 * Draws of all unknowns of the example mount, each solved: its spreads and the uncertain rows of the
 * catalogue. Then the same samples on one worker and on as many as there are processors.
 * @module
 */
import { readFileSync } from "node:fs";
import { availableParallelism } from "node:os";
import { confidence, spread, uncertainMount } from "../../dist/index.js";
import { samplePool } from "../../dist/notebook/pool.js";
import { exponent, peakMemory, quick, report } from "./harness.js";

const file = new URL("../../data/mounts/ombrel-camera.json", import.meta.url);
const example = JSON.parse(readFileSync(file, "utf8"));
const mount = {
  ...example,
  die: { ...example.die, model: "centre and edge", meanFreePath: spread("0.1 mm", "2 mm") },
  pads: { ...example.pads, residualResistivityRatio: spread(3, 12) },
  bonds: { ...example.bonds, residualResistivityRatio: spread(20, 60) },
  box: { ...example.box, residualResistivityRatio: spread(30, 100) },
};
const rows = [];
const say = (number) => number.toLocaleString("en");

// What is asked for first compiles the mount; it stays compiled for the rest.
const start = performance.now();
const { inputs } = uncertainMount(mount);
rows.push({
  what: `a mount of ${inputs.length} unknowns compiled`,
  ours: (performance.now() - start) / 1e3,
});

const sizes = quick ? [1_024, 16_384] : [1_024, 16_384, 131_072];
const seconds = [];
for (const samples of sizes) {
  const before = performance.now();
  await confidence(mount, { samples });
  seconds.push((performance.now() - before) / 1e3);
  const what = `${say(samples)} samples of a mount, compiled for it`;
  rows.push({ what, ours: seconds.at(-1), memory: peakMemory() });
}
rows.at(-1).note =
  `time grows as the ${exponent(sizes, seconds).toFixed(2)}th power of the samples`;

/** Samples alone, when the workers have started and compiled: the quickest of a few, they take turns. */
const samples = quick ? 16_384 : 131_072;
const counts = [1, availableParallelism()];
const pools = counts.map((count) => samplePool(count));
const best = counts.map(() => ({ wall: Number.POSITIVE_INFINITY, processors: 0, last: undefined }));
for (let round = 0; round < 4; round++) {
  for (const [i, { runner }] of pools.entries()) {
    const clocked = async (...all) => {
      const [from, used] = [performance.now(), process.cpuUsage()];
      const results = await runner(...all);
      const wall = (performance.now() - from) / 1e3;
      const { user, system } = process.cpuUsage(used);
      const processors = (user + system) / 1e6;
      if (round > 0 && wall < best[i].wall) Object.assign(best[i], { wall, processors });
      return results;
    };
    best[i].last = await confidence(mount, { samples, runner: clocked });
  }
}
await Promise.all(pools.map((pool) => pool.close()));
const [one, all] = best;
const same = one.last.temperatures.every((T, k) => T === all.last.temperatures[k]);
rows.push({
  what: `${say(samples)} samples on ${counts[1]} workers, ready`,
  reference: "1 worker",
  ours: all.wall,
  theirs: one.wall,
  note:
    `${all.processors.toFixed(2)} s of processors, ${one.processors.toFixed(2)} s with one worker; ` +
    `${same ? "the same to the last bit" : "NOT the same"}`,
});
report(rows);
