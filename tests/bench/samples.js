/**
 * Draws of all unknowns of the example mount, each solved: its spreads and the uncertain rows of the
 * catalogue. Then the same samples on one worker and on as many as there are processors.
 * @module
 */
import { readFileSync } from "node:fs";
import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import { samplePool } from "../../dist/design/confidence/pool.js";
import { Inputs } from "../../dist/design/confidence/uncertain-inputs.js";
import {
  confidence,
  sizeWithConfidence,
  spread,
  standardCatalogue,
  uncertainMount,
} from "../../dist/index.js";
import { MountModel } from "../../dist/mount/model.js";
import { readMount } from "../../dist/mount/read.js";
import { exponent, peakMemory, quick, quickest, race, report, timed } from "./harness.js";

const file = new URL("../../data/mounts/ombrel-camera.json", import.meta.url);
const example = JSON.parse(readFileSync(file, "utf8"));
const mount = {
  ...example,
  die: { ...example.die, model: "two nodes", meanFreePath: spread("0.1 mm", "2 mm") },
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

const sizes = quick ? [1_024, 16_384] : [1_024, 16_384, 131_072, 1_048_576, 16_777_216];
const seconds = [];
for (const samples of sizes) {
  const before = performance.now();
  await confidence(mount, { samples });
  seconds.push((performance.now() - before) / 1e3);
  const what = `${say(samples)} samples of a mount, compiled for it`;
  rows.push({ what, ours: seconds.at(-1), memory: peakMemory() });
}
rows.at(-1).note =
  `time grows as the ${exponent(sizes.slice(-3), seconds.slice(-3)).toFixed(2)}th power of the samples`;

/** Work that shares nothing but the machine: what it says of two workers is the most that can be had. */
const spin = `
  const { parentPort } = require("node:worker_threads");
  parentPort.on("message", (turns) => {
    let sum = 0;
    for (let i = 1; i < turns; i++) sum += Math.exp(-1e-8 * i) / i;
    parentPort.postMessage(sum);
  });`;
/** Two halves of the same arithmetic, one after the other on one worker or side by side. */
function spinning(count) {
  const workers = Array.from({ length: count }, () => new Worker(spin, { eval: true }));
  const turn = (worker, turns) =>
    new Promise((resolve) => {
      worker.once("message", resolve);
      worker.postMessage(turns);
    });
  const turns = (quick ? 1e7 : 4e7) / count;
  return {
    run: () => Promise.all(workers.map((worker) => turn(worker, turns))),
    close: () => Promise.all(workers.map((worker) => worker.terminate())),
  };
}

/** Samples alone, when the workers have started and compiled; all take turns. */
const samples = quick ? 16_384 : 131_072;
const counts = [1, availableParallelism()];
const pools = counts.map((count) => samplePool(count));
const spins = counts.map(spinning);
const runs = [[], []];
const spun = [[], []];
const last = [];
for (let round = 0; round < (quick ? 4 : 12); round++) {
  for (const i of counts.keys()) {
    const clocked = async (...all) => {
      const [from, used] = [performance.now(), process.cpuUsage()];
      const results = await pools[i].runner(...all);
      const { user, system } = process.cpuUsage(used);
      const run = { seconds: (performance.now() - from) / 1e3, processors: (user + system) / 1e6 };
      if (round > 0) runs[i].push(run);
      return results;
    };
    last[i] = await confidence(mount, { samples, runner: clocked });
    const from = performance.now();
    await spins[i].run();
    if (round > 0) spun[i].push((performance.now() - from) / 1e3);
  }
}
await Promise.all([...pools, ...spins].map((each) => each.close()));
const [one, all] = runs.map(quickest);
const same = last[0].temperatures.every((T, k) => T === last[1].temperatures[k]);
rows.push(
  {
    what: `${say(samples)} samples on ${counts[1]} workers, ready`,
    reference: "1 worker",
    ours: all.seconds,
    theirs: one.seconds,
    note:
      `${all.processors.toFixed(2)} s of processors, ${one.processors.toFixed(2)} s with one worker; ` +
      `${same ? "the same to the last bit" : "NOT the same"}`,
  },
  {
    what: `plain arithmetic on ${counts[1]} workers: what the machine allows`,
    reference: "1 worker",
    ours: Math.min(...spun[1]),
    theirs: Math.min(...spun[0]),
  },
);

// The chance on the 2-D die, compiled for it, beside plain samples of it that would have as small an error.
const { model: _, ...die } = mount.die;
const field = { ...mount, die };
const wanted = 3e-3;
const clock = async (run) => {
  const [from, used] = [performance.now(), process.cpuUsage()];
  const value = await run();
  const seconds = (performance.now() - from) / 1e3;
  const { user, system } = process.cpuUsage(used);
  return { value, seconds, processors: `${((user + system) / 1e6).toFixed(1)} s of processors` };
};
const found = await clock(() => confidence(field, { within: wanted }));
const few = quick ? 1024 : 8192;
const plain = await clock(() => confidence(field, { samples: few }));
const share = found.value.chance.value;
const alike = Math.round((share * (1 - share)) / wanted ** 2);
rows.push({
  what: "chance on the 2-D die to 0.3 points",
  reference: `plain samples, from ${say(few)}`,
  ours: found.seconds,
  theirs: (plain.seconds / few) * alike,
  note:
    `${found.processors}; ${found.value.expensive} solves of the 2-D die for ± ` +
    `${(100 * found.value.chance.error).toFixed(2)} points, ${say(alike)} plain: ` +
    `${Math.round(alike / found.value.expensive)} times as many`,
});
// Under another name, so that it is compiled again.
const counted = await clock(() => sizeWithConfidence({ ...field, name: "counted" }));
const { count, tried, expensive } = counted.value;
rows.push({
  what: "number of bonds for 95 % on the 2-D die",
  reference: "as many chances by plain samples",
  ours: counted.seconds,
  theirs: tried.length * (plain.seconds / few) * (0.95 * 0.05) * (1 / wanted ** 2),
  note: `${counted.processors}; ${count} bonds, ${tried.length} numbers tried, ${expensive} solves of the 2-D die`,
});

// A sample of the 2-D die from its contacts beside the same in full.
const compiled = uncertainMount(field);
const stream = Array.from({ length: 64 }, (_, k) =>
  Float64Array.from(compiled.inputs, ({ quantile }, i) =>
    quantile((((k + 1) * (i + 1) * 0.618) % 0.98) + 0.01),
  ),
);
const model = new MountModel(readMount(field), standardCatalogue());
const unknowns = new Inputs(compiled.inputs, readMount(field), standardCatalogue());
compiled.evaluate(compiled.medians);
let worst = 0;
const [lean, whole] = race(
  quick ? 2 : 5,
  () => timed(() => stream.map((values) => compiled.evaluate(values))),
  () =>
    timed(() =>
      stream.map((values) => {
        const at = unknowns.at(values);
        model.take(at.mount, at.catalogue);
        const { chip, stage } = model.point();
        return { chip, stage };
      }),
    ),
);
lean.value.forEach(({ chip, stage }, k) => {
  const own = whole.value[k];
  worst = Math.max(worst, Math.abs((chip - stage) / (own.chip - own.stage) - 1));
});
rows.push({
  what: "a sample of the 2-D die, 80 bonds, from its contacts",
  reference: "the whole model",
  ours: lean.seconds / stream.length,
  theirs: whole.seconds / stream.length,
  ourError: worst,
  note: "off: in parts of the rise, against the whole model",
});
report(rows);
