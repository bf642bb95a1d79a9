/**
 * Coverage of floors 0 to 4 by the tests of these floors: what only the notebooks reach does not count.
 * `npm run coverage` fails where a floor has fewer than 95 % of its lines; the report is in out/coverage.
 */
import { defineConfig } from "vitest/config";

const floors = ["units", "numerics", "materials", "network", "chip", "joints", "loads", "device"];
const folders = [...floors, "mount", "design"].map((floor) => `src/${floor}/**`);
const covered = ["src/conductor.ts", "src/provenance.ts", ...folders];

export default defineConfig({
  test: {
    include: [
      `tests/{${floors},mount,design,exact,reference}/**/*.test.ts`,
      "tests/{conductor,data,example-mount}.test.ts",
    ],
    testTimeout: 480_000,
    coverage: {
      enabled: true,
      provider: "v8",
      include: covered,
      reporter: ["text", "json-summary", "html"],
      reportsDirectory: "out/coverage",
      thresholds: Object.fromEntries(covered.map((path) => [path, { lines: 95 }])),
    },
  },
});
