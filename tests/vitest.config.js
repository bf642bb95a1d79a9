/**
 * The tests: `npm test`, in the mode "quick", leaves out what starts whole programs or repeats what others
 * do on more cases, *.slow.test.ts and what is marked by slowly.ts; `npm run test:all` takes it, too. A
 * worker keeps the modules it has read for all its files, so a test must put back what it changes outside
 * its file: spies, variables of the process.
 */
import { configDefaults, defineConfig } from "vitest/config";

export default defineConfig(({ mode }) => ({
  test: {
    dir: "tests",
    testTimeout: 120_000,
    isolate: false,
    // Vitest would leave one core free, half of a machine of two.
    maxWorkers: "100%",
    ...(mode === "quick" && {
      exclude: [...configDefaults.exclude, "**/*.slow.test.ts"],
      env: { COLDPATH_TESTS: "quick" },
    }),
  },
}));
