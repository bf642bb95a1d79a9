/**
 * An hour of 10,000 particle hits on the example mount, one run in time after the other.
 * The mean rise is compared with that of a hundredth of the tolerance.
 * @module
 */
import { readFileSync } from "node:fs";
import { simulateHits } from "../../dist/index.js";
import { peakMemory, quick, race, report, timed } from "./harness.js";

const file = new URL("../../data/mounts/ombrel-camera.json", import.meta.url);
const example = JSON.parse(readFileSync(file, "utf8"));
const spectrum = {
  points: [
    ["40 keV", 1],
    ["300 keV", 0.2],
    ["2.6 MeV", 0.001],
  ],
};
const mount = {
  ...example,
  die: { ...example.die, model: "two nodes" },
  loads: [...example.loads, { kind: "background", rate: 10_000 / 3600, spectrum }],
};
const duration = quick ? "5 min" : "1 h";
simulateHits(mount, { duration: "1 min" });
const [ours] = race(1, () => timed(() => simulateHits(mount, { duration })));
const memory = peakMemory();
const few = simulateHits(mount, { duration: "2 min" });
const tight = simulateHits(mount, { duration: "2 min", relativeTolerance: 1e-8 });
const count = ours.value.hits.length;
report([
  {
    what: `${duration} of hits, one by one`,
    ours: ours.seconds,
    memory,
    ourError: Math.abs(few.meanRise / tight.meanRise - 1),
    note: `${count} hits, ${((1e3 * ours.seconds) / count).toFixed(2)} ms a hit; off is that of the mean rise`,
  },
]);
