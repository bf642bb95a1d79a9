import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { mergeSweep, sweepShard } from "../../src/design/index.js";
import { shardRange } from "../../src/design/shard.js";
import { type Mount, standardCatalogue, sweep } from "../../src/index.js";
import { fingerprint } from "../../src/numerics/fingerprint.js";
import { version } from "../../src/version.js";
import { exampleMount, quickMount } from "../mount/example.js";

const counts = { field: "bonds.count", values: [3, 20, 80, 300, 310] } as const;
const purities = { field: "pads.residualResistivityRatio", values: [2, 5, 11] } as const;
/** Far from any range it was measured in, so that there are warnings to agree on. */
const warm: Mount = { ...quickMount(), stage: "4 K" };

const shards = (of: number, mount = warm) =>
  Array.from({ length: of }, (_, i) => ({
    file: `part-${i + 1}.csv`,
    text: sweepShard(mount, counts, purities, { index: i + 1, of }),
  }));

describe("shards of a sweep", () => {
  it("make up the undivided sweep, to the last bit, in any order and number", () => {
    const whole = sweep(warm, counts, purities);
    expect(whole.warnings.length).toBeGreaterThan(0);
    for (const of of [1, 2, 4, 7, 15]) {
      const merged = mergeSweep(warm, counts, purities, shards(of).reverse());
      expect(new Uint8Array(merged.temperatures.buffer), `${of}`).toEqual(
        new Uint8Array(whole.temperatures.buffer),
      );
      expect(merged).toEqual(whole);
    }
  });

  it("do so where they begin within a block of points that start from each other", () => {
    const lengths = { field: "bonds.length", from: "0.5 mm", to: "5 mm", count: 35 } as const;
    const parts = Array.from({ length: 9 }, (_, i) => ({
      file: `${i}`,
      text: sweepShard(warm, purities, lengths, { index: i + 1, of: 9 }),
    }));
    expect(mergeSweep(warm, purities, lengths, parts)).toEqual(sweep(warm, purities, lengths));
  });

  it("do so for a die that is a sheet", () => {
    const mount = exampleMount();
    const sheet: Mount = { ...mount, die: { ...mount.die, cells: 32 } };
    const axis = { field: "pads.thickness", values: ["100 nm", "300 nm", "900 nm"] } as const;
    const parts = [1, 2].map((index) => ({
      file: `${index}`,
      text: sweepShard(sheet, axis, undefined, { index, of: 2 }),
    }));
    expect(mergeSweep(sheet, axis, undefined, parts)).toEqual(sweep(sheet, axis));
  });

  it("share the rows out evenly, each to one", () => {
    for (const [rows, of] of [
      [15, 4],
      [16, 16],
      [1000, 7],
    ] as const) {
      const ranges = Array.from({ length: of }, (_, i) => shardRange({ index: i + 1, of }, rows));
      expect(ranges[0]![0]).toBe(0);
      expect(ranges.at(-1)![1]).toBe(rows);
      ranges.forEach(([from, to], i) => {
        expect(Math.abs(to - from - rows / of)).toBeLessThan(1);
        if (i > 0) expect(from).toBe(ranges[i - 1]![1]);
      });
    }
  });

  it("say on top what was computed", () => {
    const [line] = shards(4)[2]!.text.split("\n");
    expect(JSON.parse(line!.replace("# coldpath shard ", ""))).toMatchObject({
      what: "sweep",
      version,
      run: expect.stringMatching(/^[0-9a-f]{28}$/),
      shard: { index: 3, of: 4 },
      from: 7,
      to: 11,
      rows: 15,
    });
  });

  it("are refused when one is missing, there twice, torn or no shard", () => {
    const all = shards(4);
    const merge = (files: typeof all) => () => mergeSweep(warm, counts, purities, files);
    expect(merge([])).toThrow('shards: expected a file or more, got "none"');
    expect(merge([all[0]!, all[3]!])).toThrow(
      'shards: expected all 4 of them, got "none of number 2, 3"',
    );
    expect(merge([...all, { ...all[1]!, file: "copy.csv" }])).toThrow(
      "copy.csv shard: expected each shard once; 2 is in part-2.csv, got 2",
    );
    const torn = all[2]!.text.split("\n").slice(0, -2).join("\n");
    expect(merge([all[0]!, all[1]!, { file: "torn.csv", text: torn }, all[3]!])).toThrow(
      'torn.csv: expected what was written below its header, got "another text: torn, or changed"',
    );
    const half = all[2]!.text.slice(0, -20);
    expect(merge([all[0]!, all[1]!, { file: "half.csv", text: half }, all[3]!])).toThrow(
      "half.csv: expected what was written below its header",
    );
    expect(merge([{ file: "notes.csv", text: "a,b\n1,2\n" }])).toThrow(
      'notes.csv:1: expected the header of a shard, got "a,b"',
    );
  });

  it("are refused when they are of another mount, axes, catalogue, number or version", () => {
    const all = shards(2);
    const other = shards(2, { ...warm, stage: "3.9 K" });
    const merge = (files: typeof all) => () => mergeSweep(warm, counts, purities, files);
    expect(merge([all[0]!, other[1]!])).toThrow(
      /^part-2\.csv run: expected the run that is asked for, /,
    );
    const more = { ...counts, values: [3, 20, 80, 300, 311] };
    expect(() => mergeSweep(warm, more, purities, all)).toThrow("part-1.csv run: expected");
    const [key] = standardCatalogue().rows();
    const catalogue = standardCatalogue().withFactors(new Map([[key!.key, 1.01]]));
    expect(() => mergeSweep(warm, counts, purities, all, { catalogue })).toThrow("part-1.csv run");
    expect(merge([all[0]!, shards(3)[1]!])).toThrow(
      "part-2.csv shard: expected one of 2, as in part-1.csv",
    );
    const old = all.map((each) => ({ ...each, text: each.text.replace(version, "0.0.1") }));
    expect(merge(old)).toThrow(
      `part-1.csv version: expected that of this library, ${version}, got "0.0.1"`,
    );
  });

  it.each([
    [{ index: 0, of: 4 }, "shard.index: expected a whole number from 1 to 4, got 0"],
    [{ index: 5, of: 4 }, "shard.index: expected a whole number from 1 to 4, got 5"],
    [
      { index: 1, of: 16 },
      "shard.of: expected a whole number from 1 to 15, the rows there are, got 16",
    ],
    [{ index: 1, of: 1.5 }, "shard.of: expected a whole number from 1 to 15"],
  ])("refuse %j", (shard, message) => {
    expect(() => sweepShard(warm, counts, purities, shard)).toThrow(message);
  });
});

describe("a fingerprint", () => {
  it("does not hang on the order of keys, and does on everything else", () => {
    const a = fingerprint({ x: 1, y: [{ p: 2, q: "r" }] });
    expect(fingerprint({ y: [{ q: "r", p: 2 }], x: 1 })).toBe(a);
    const others = [
      { x: 2, y: [{ p: 2, q: "r" }] },
      { x: 1, y: [{ p: 2, q: "s" }] },
      { x: 1 },
      [],
      "",
    ];
    expect(new Set([a, ...others.map(fingerprint)]).size).toBe(6);
  });
});

describe("the version in the code", () => {
  it("is that of package.json", () => {
    const text = readFileSync(new URL("../../package.json", import.meta.url), "utf8");
    expect(version).toBe((JSON.parse(text) as { version: string }).version);
  });
});
