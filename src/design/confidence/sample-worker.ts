/**
 * What a worker of the pool runs: one chunk of samples.
 * @module
 */
import { deserialize } from "node:v8";
import { type SampleChunk, type SampleJob, solveChunk } from "./samples.js";

/** The job that came last: all chunks of a run come with the same one. */
let last: { readonly sent: Uint8Array; readonly job: SampleJob } | undefined;

export default (task: { readonly job: Uint8Array; readonly chunk: SampleChunk }): Float64Array => {
  if (!last || Buffer.compare(last.sent, task.job) !== 0) {
    last = { sent: task.job, job: deserialize(task.job) as SampleJob };
  }
  return solveChunk(last.job, task.chunk);
};
