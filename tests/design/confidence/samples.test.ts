import { describe, expect, it } from "vitest";
import {
  chunksOf,
  compiledOnce,
  draws,
  forPoints,
  perSample,
  type SampleJob,
  solveChunk,
  solveHere,
} from "../../../src/design/confidence/samples.js";
import { uncertainMount } from "../../../src/design/confidence/uncertain-mount.js";
import type { Mount } from "../../../src/mount/mount.js";
import { random } from "../../../src/numerics/random.js";
import { spread } from "../../../src/units/spread.js";
import { catalogue, padded, smallest } from "../../mount/things/smallest.js";

const points = (chunk: Parameters<typeof forPoints>[1], seed = 7, dimension = 3) => {
  const found: number[][] = [];
  forPoints(seed, chunk, dimension, (point, n) => {
    found[n] = [...point];
  });
  return found;
};

const base = smallest({
  ...padded,
  bonds: { ...padded.bonds, length: spread("1 mm", "3 mm") },
  loads: [{ kind: "given", power: spread("0.5 nW", "2 nW") }],
});
const mount: Mount = { ...base, die: { ...base.die, model: "one node" } };
const compiled = uncertainMount(mount, { catalogue, rows: "none" });
const job: SampleJob = { mount, catalogue: catalogue.origin, recipe: compiled.recipe, seed: 7 };
/** Chip of each of some values of the inputs, in their order. */
const chips = (values: readonly Float64Array[], model = compiled) =>
  values.map((each) => model.evaluate(each).chip);

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
    const chunk = { replicate: 0, from: 2, count: 3 };
    const first = (found: Float64Array) => [...found].filter((_, k) => k % perSample === 0);
    const valuesAt = (dimension: number, at: readonly number[]) =>
      points(chunk, 7, dimension).map((point) =>
        Float64Array.from(at, (d, i) => compiled.inputs[i]!.quantile(point[d]!)),
      );
    const found = solveChunk({ ...job, bonds: 12 }, chunk);
    expect(first(found)).toEqual(chips(valuesAt(2, [0, 1]), compiled.withBonds(12)));
    expect(found).toHaveLength(perSample * 3);
    expect(found[1]).toBe(0.1);
    // Inputs of another model may be some of the mount's own, in another order.
    const quick = { die: "two nodes", inputs: 3, at: [2, 0] } as const;
    const two = uncertainMount(mount, { catalogue, rows: "none", die: "two nodes" });
    const others = solveChunk({ ...job, recipe: two.recipe, quick }, chunk);
    expect(first(others)).toEqual(chips(valuesAt(3, [2, 0]), two));
  });

  it("are solved here in order, with word of each chunk, until that is stopped", async () => {
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

  it("are of a mount that is compiled once for the same rows and model of the die", () => {
    const asked = { catalogue, rows: "none" } as const;
    const once = compiledOnce(mount, asked);
    expect(compiledOnce(structuredClone(mount), asked)).toBe(once);
    expect(compiledOnce(mount, { ...asked, die: "two nodes" })).not.toBe(once);
    expect(compiledOnce({ ...mount, stage: 0.11 }, asked)).not.toBe(once);
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
