/** The tests that meet the mutants: of the lower floors, those that take milliseconds. */
import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";
import { keptWorker } from "./kept-worker.js";

const mathjs = fileURLToPath(new URL("../../dist/units/mathjs.js", import.meta.url));
const sources = fileURLToPath(new URL("../../src/", import.meta.url));
const mutated = ["network", "chip", "joints"].flatMap((floor) =>
  readdirSync(sources + floor).map((name) => `${sources}${floor}/${name}`),
);

/** Stryker asks for threads of one run each; this takes their place. */
const keep = {
  name: "keep-worker",
  configureVitest({ vitest, project }) {
    const pool = keptWorker(vitest, mutated);
    project.config.pool = pool.name;
    project.config.poolRunner = pool;
  },
};

export default defineConfig({
  plugins: [keep],
  // Nine tenths of reading the library would be mathjs (src/units/mathjs.ts).
  resolve: { alias: [{ find: /^mathjs$/, replacement: mathjs }] },
  test: {
    include: ["tests/{network,chip,joints,exact}/**/*.test.ts"],
    exclude: ["tests/network/{properties,transient-properties}.test.ts"],
    // On a busy machine a slow test is no fault.
    testTimeout: 60_000,
    setupFiles: ["tests/mutants/setup.ts"],
    server: { deps: { external: [mathjs] } },
    isolate: false,
    // Stryker reports.
    reporters: [{}],
  },
});
