/**
 * An hour of 10,000 particle hits on the example mount, one run in time after the other.
 * The mean rise is compared with that of a tenth of the tolerance.
 */
import { readFileSync } from "node:fs";
import { hitRecord } from "../../dist/index.js";

const example = JSON.parse(
  readFileSync(new URL("../../data/mounts/ombrel-camera.json", import.meta.url), "utf8"),
);
const mount = {
  ...example,
  die: { ...example.die, model: "centre and edge" },
  loads: [
    ...example.loads,
    {
      kind: "background",
      rate: 10_000 / 3600,
      spectrum: { points: [["40 keV", 1], ["300 keV", 0.2], ["2.6 MeV", 0.001]] },
    },
  ],
};

export function hits() {
  hitRecord(mount, { duration: "1 min" });
  const start = performance.now();
  const record = hitRecord(mount, { duration: "1 h" });
  const seconds = (performance.now() - start) / 1e3;
  const few = hitRecord(mount, { duration: "2 min" });
  const tight = hitRecord(mount, { duration: "2 min", relativeTolerance: 1e-8 });
  console.log(
    `one hour, ${record.hits.length} hits: ${seconds.toFixed(1)} s (under 10 wanted), ` +
      `${((1e3 * seconds) / record.hits.length).toFixed(2)} ms a hit; mean rise off by ` +
      `${Math.abs(few.meanRise / tight.meanRise - 1).toExponential(1)}`,
  );
}
if (process.argv[1] === new URL(import.meta.url).pathname) hits();
