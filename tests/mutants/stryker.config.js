/**
 * Mutation testing of the solver, the sheet and the joints: each change of a number, comparison or
 * branch must make a test fail. `npm run mutants` takes all of it; `npm run mutants -- --mutate
 * 'src/joints/*.ts'` one folder, and COLDPATH_MUTANTS_SHARE=0.1 before it a tenth, drawn by lot.
 */
import { fileURLToPath } from "node:url";
import { share } from "./sample.js";

export default {
  mutate: ["src/{network,chip,joints}/**/*.ts"],
  mutator: {
    // Texts of errors and names of sources. Each text has a test of its own beside its feature, and a
    // branch on a text is mutated as a comparison.
    excludedMutations: ["StringLiteral", ...(share < 1 ? ["BlockStatement"] : [])],
  },
  plugins: ["@stryker-mutator/vitest-runner", fileURLToPath(new URL("sample.js", import.meta.url))],
  ignorers: ["sample"],
  testRunner: "vitest",
  vitest: { configFile: "tests/mutants/vitest.config.js", related: false },
  coverageAnalysis: "perTest",
  // What runs when a file is read, and in no test, would cost all tests a mutant.
  ignoreStatic: true,
  concurrency: 1,
  timeoutMS: 3000,
  timeoutFactor: 2,
  tempDirName: "out/mutants/sandbox",
  ignorePatterns: ["out", "notebooks", ".jupyter", "tests/bench"],
  incrementalFile: "out/mutants/incremental.json",
  reporters: ["clear-text", "json", "html"],
  clearTextReporter: {
    allowColor: false,
    logTests: false,
    reportTests: false,
    reportMutants: false,
  },
  jsonReporter: { fileName: "out/mutants/mutants.json" },
  htmlReporter: { fileName: "out/mutants/mutants.html" },
};
