import { describe, expect, it } from "vitest";
import * as oneThread from "../../../src/design/confidence/one-thread.js";
import { defaultRunner } from "../../../src/design/confidence/pool.js";
import {
  chunksOf,
  keepCompiled,
  type SampleJob,
  solveHere,
} from "../../../src/design/confidence/samples.js";
import type { UncertainMount } from "../../../src/design/confidence/uncertain-mount.js";

/** A model that only this thread has: a worker would try to compile the mount, and fail. */
const job = {
  mount: { name: "here alone" },
  catalogue: {},
  recipe: { rows: [] },
  seed: 1,
} as unknown as SampleJob;
const model = {
  inputs: [{ quantile: (u: number) => u }],
  evaluate: ([u]: Float64Array) => ({ chip: u!, stage: 0, limit: 1, left: 0 }),
} as unknown as UncertainMount;

describe("who solves samples", () => {
  it("is this thread where they are few, or one chunk", async () => {
    for (const chunks of [chunksOf(2, 512, 512), chunksOf(1, 60_000, 60_000)]) {
      keepCompiled(job, model);
      const found = await defaultRunner(job, chunks, {});
      expect(found.map(({ length }) => length)).toEqual(chunks.map(({ count }) => 4 * count));
    }
  });

  it("is the only thread there is in a web page", () => {
    expect(oneThread.defaultRunner).toBe(solveHere);
  });
});
