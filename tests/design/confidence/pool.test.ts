import { describe, expect, it } from "vitest";
import * as oneThread from "../../../src/design/confidence/one-thread.js";
import { defaultRunner } from "../../../src/design/confidence/pool.js";
import { chunksOf, type SampleJob, solveHere } from "../../../src/design/confidence/samples.js";
import { uncertainMount } from "../../../src/design/confidence/uncertain-mount.js";
import { spread } from "../../../src/units/spread.js";
import { catalogue, smallest } from "../../mount/things/smallest.js";

describe("who solves samples", () => {
  it("is this thread where they are few", async () => {
    const base = smallest({ loads: [{ kind: "given", power: spread("0.5 nW", "2 nW") }] });
    const mount = { ...base, die: { ...base.die, model: "one node" } } as const;
    const { recipe } = uncertainMount(mount, { catalogue, rows: "none" });
    const job: SampleJob = { mount, catalogue: catalogue.origin, recipe, seed: 1 };
    // A function can't be sent to a worker.
    const here = { ...job, stays: () => "here" };
    const chunks = chunksOf(2, 16, 8);
    expect(() => structuredClone(here)).toThrow();
    const found = await defaultRunner(here, chunks, {});
    expect(found.map(({ length }) => length)).toEqual(chunks.map(({ count }) => 4 * count));
  });

  it("is the only thread there is in a web page", () => {
    expect(oneThread.defaultRunner).toBe(solveHere);
  });
});
