/**
 * What a web page has in the place of pool.ts (package.json, "browser"): no workers.
 * @module
 */
import { type SampleRunner, solveHere } from "./samples.js";

/** Who solves samples when a call names nobody: this thread. */
export const defaultRunner: SampleRunner = solveHere;
