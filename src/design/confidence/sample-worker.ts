/**
 * What a worker of the pool runs: one chunk of samples.
 * @module
 */
import { type SampleChunk, type SampleJob, solveChunk } from "./samples.js";

export default (task: { readonly job: SampleJob; readonly chunk: SampleChunk }): Float64Array =>
  solveChunk(task.job, task.chunk);
