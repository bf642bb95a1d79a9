import { describe, expect, it } from "vitest";
import { solveHere } from "../../src/design/confidence/samples.js";
import { confidence } from "../../src/design/confidence/uncertainty.js";
import { mergeSamples, sampleShard } from "../../src/design/shard-kinds.js";
import { type Mount, standardCatalogue } from "../../src/index.js";
import { spread } from "../../src/units/spread.js";
import { exampleMount, quickMount } from "../mount/example.js";

const mount: Mount = {
  ...quickMount(),
  loads: [{ kind: "infrared", power: spread("1 nW", "30 nW") }],
  stage: spread("0.1 K", "0.12 K"),
};
const options = { samples: 64, replicates: 4, seed: 3, rows: "none", runner: solveHere } as const;

async function shards(of: number, from = mount, own = {}) {
  const files: { readonly file: string; readonly text: string }[] = [];
  for (let index = 1; index <= of; index++) {
    const text = await sampleShard(from, { index, of }, { ...options, ...own });
    files.push({ file: `part-${index}.csv`, text });
  }
  return files;
}

describe("shards of samples", () => {
  it("make up the undivided result, to the last bit, in any order and number", async () => {
    const whole = await confidence(mount, options);
    for (const of of [1, 3]) {
      const merged = mergeSamples(mount, (await shards(of)).reverse(), options);
      expect(new Uint8Array(merged.temperatures.buffer), `${of}`).toEqual(
        new Uint8Array(whole.temperatures.buffer),
      );
      expect(merged.toText()).toBe(whole.toText());
      expect([merged.mean, merged.variance, merged.chance]).toEqual([
        whole.mean,
        whole.variance,
        whole.chance,
      ]);
    }
  });

  it("do so with the rows of the catalogue, and for a mount without a limit", async () => {
    const { limit: _, ...open } = mount;
    const own = { ...options, rows: "all" } as const;
    const whole = await confidence(open, own);
    const merged = mergeSamples(open, await shards(2, open, { rows: "all" }), own);
    expect(merged.temperatures).toEqual(whole.temperatures);
    expect(merged.limits).toBeUndefined();
  });

  it("do so for a die that is a sheet", async () => {
    const example = exampleMount();
    const { loads } = mount;
    const sheet: Mount = { ...example, loads, die: { ...example.die, cells: 32 } };
    const own = { ...options, samples: 16 };
    const whole = await confidence(sheet, own);
    const merged = mergeSamples(sheet, await shards(2, sheet, { samples: 16 }), own);
    expect(merged.temperatures).toEqual(whole.temperatures);
    expect(merged.toText()).toBe(whole.toText());
  });

  it("are refused when one is missing, there twice or of another run", async () => {
    const all = await shards(3);
    const merge = (files: typeof all, own = {}, of = mount) =>
      mergeSamples(of, files, { ...options, ...own });
    expect(() => merge(all.slice(1))).toThrow(
      'shards: expected all 3 of them, got "none of number 1"',
    );
    expect(() => merge([...all, { ...all[1]!, file: "copy.csv" }])).toThrow(
      "copy.csv shard: expected each shard once; 2 is in part-2.csv, got 2",
    );
    for (const own of [{ seed: 4 }, { samples: 128 }, { replicates: 8 }]) {
      expect(() => merge(all, own)).toThrow("part-1.csv run: expected the run that is asked for, ");
    }
    const wider = { ...mount, stage: spread("0.1 K", "0.13 K") };
    expect(() => merge(all, {}, wider)).toThrow("part-1.csv run");
    const [key] = standardCatalogue().rows();
    const catalogue = standardCatalogue().withFactors(new Map([[key!.key, 1.01]]));
    expect(() => merge(all, { catalogue })).toThrow("part-1.csv run");
    const other = await shards(3, mount, { seed: 4 });
    expect(() => merge([all[0]!, other[1]!, all[2]!])).toThrow("part-2.csv run");
  });

  it("refuse a part that there is none of", async () => {
    await expect(sampleShard(mount, { index: 65, of: 65 }, options)).rejects.toThrow(
      "shard.of: expected a whole number from 1 to 64, the rows there are, got 65",
    );
  });
});
