/**
 * The tests: `npm test` leaves out *.slow.test.ts, which start whole programs or repeat what others do
 * on more cases; `npm run test:all` takes them, too. A worker keeps the modules it has read for all its
 * files, so a test must put back what it changes outside its file: spies, variables of the process.
 */
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    dir: "tests",
    testTimeout: 120_000,
    isolate: false,
    // Vitest would leave one core free, half of a machine of two.
    maxWorkers: "100%",
  },
});
