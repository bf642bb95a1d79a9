import { describe, expect, it } from "vitest";
import {
  chunksOf,
  draws,
  keepCompiled,
  perSample,
  pointsOf,
  type SampleJob,
  solveChunk,
  solveHere,
} from "../../../src/design/confidence/samples.js";
import type { UncertainMount } from "../../../src/design/confidence/uncertain-mount.js";
import { random } from "../../../src/numerics/random.js";

const points = (chunk: Parameters<typeof pointsOf>[1], seed = 7) =>
  Array.from(pointsOf(seed, chunk, 3), (point) => [...point]);

/** A model in the place of a mount: a chip at the sum of its inputs, with so many bonds in its stage. */
const model = (bonds = 0): UncertainMount =>
  ({
    inputs: [1, 2].map((by) => ({ quantile: (u: number) => by * u })),
    evaluate: ([a, b]: Float64Array) => ({ chip: a! + b!, stage: bonds, limit: 3, left: 1 }),
    withBonds: model,
  }) as unknown as UncertainMount;
const job = {
  mount: { name: "none" },
  catalogue: {},
  recipe: { rows: [] },
  seed: 7,
} as unknown as SampleJob;

describe("samples in chunks", () => {
  it("are those of the whole, however they are cut", () => {
    const whole = points({ replicate: 2, from: 0, count: 16 });
    const cut = [
      ...points({ replicate: 2, from: 0, count: 5 }),
      ...points({ replicate: 2, from: 5, count: 11 }),
    ];
    expect(cut).toEqual(whole);
    const few = points({ replicate: 2, from: 0, count: 2, points: [9, 3] });
    expect(few).toEqual([whole[9], whole[3]]);
    expect(points({ replicate: 1, from: 0, count: 16 })).not.toEqual(whole);
    expect(points({ replicate: 2, from: 0, count: 16 }, 8)).not.toEqual(whole);
  });

  it("lie evenly: of the first 16 points one is in each sixteenth of every input", () => {
    const whole = points({ replicate: 0, from: 0, count: 16 });
    for (const axis of [0, 1, 2]) {
      const cells = whole.map((point) => Math.floor(16 * point[axis]!)).sort((a, b) => a - b);
      expect(cells).toEqual(Array.from({ length: 16 }, (_, k) => k));
    }
  });

  it("are cut by replicate, none longer than is wanted", () => {
    expect(chunksOf(2, 5, 3)).toEqual([
      { replicate: 0, from: 0, count: 3 },
      { replicate: 0, from: 3, count: 2 },
      { replicate: 1, from: 0, count: 3 },
      { replicate: 1, from: 3, count: 2 },
    ]);
  });

  it("have the values of their inputs, and the bonds that they are asked for", () => {
    keepCompiled(job, model());
    const chunk = { replicate: 0, from: 2, count: 3 };
    const found = solveChunk({ ...job, bonds: 5 }, chunk);
    const wanted = Array.from(pointsOf(7, chunk, 2), ([u, v]) => [u! + 2 * v!, 5, 3, 1]).flat();
    expect([...found]).toEqual(wanted);
    expect(found).toHaveLength(perSample * 3);
    // Inputs of another model may be some of the mount's own, in another order.
    const quick = { die: "two nodes", inputs: 3, at: [2, 0] } as const;
    keepCompiled({ ...job, quick }, model());
    const others = Array.from(pointsOf(7, chunk, 3), ([u, , w]) => w! + 2 * u!);
    expect([...solveChunk({ ...job, quick }, chunk)].filter((_, k) => k % perSample === 0)).toEqual(
      others,
    );
  });

  it("are solved here in order, with word of each chunk, until that is stopped", async () => {
    keepCompiled(job, model());
    const chunks = chunksOf(1, 5, 2);
    const done: (readonly number[])[] = [];
    const progress = (...word: readonly number[]) => done.push(word);
    const all = await solveHere(job, chunks, { progress });
    expect(done).toEqual([
      [2, 5],
      [4, 5],
      [5, 5],
    ]);
    const whole = solveChunk(job, { replicate: 0, from: 0, count: 5 });
    expect(all.flatMap((each) => [...each])).toEqual([...whole]);
    const stop = new AbortController();
    const stopped = solveHere(job, chunks, { signal: stop.signal, progress: () => stop.abort() });
    await expect(stopped).rejects.toThrow(/abort/i);
  });

  it("may be drawn without a job: as many, of the inputs' own distributions", () => {
    const inputs = [{ quantile: (u: number) => 10 + u }];
    const values = Array.from(draws({ inputs }, 8, random(3)), ([value]) => value!);
    expect(values.map((value) => Math.floor(8 * (value - 10))).sort()).toEqual([
      0, 1, 2, 3, 4, 5, 6, 7,
    ]);
    // Of a model without inputs there are as many, all alike.
    expect(Array.from(draws({ inputs: [] }, 3, random(3)), (values) => values.length)).toEqual([
      0, 0, 0,
    ]);
  });
});
