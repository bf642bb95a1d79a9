import { describe, expect, it } from "vitest";
import {
  merge,
  mergeShards,
  type RowWork,
  shard,
  shardName,
  shardRange,
} from "../../src/design/shard.js";
import { fingerprint } from "../../src/numerics/fingerprint.js";
import { csvLine } from "../../src/units/table.js";

/** Squares of the row numbers. */
const work: RowWork<readonly number[]> = {
  what: "squares",
  dependsOn: { power: 2 },
  rows: 7,
  compute: (from, to) => ({
    columns: ["x^2"],
    values: Float64Array.from({ length: to - from }, (_, i) => (from + i) ** 2 / 3),
    more: { from },
  }),
  finish: ({ values }) => [...values],
  csv: () => "",
  lines: () => [],
};
const file = (index: number, of: number, from = work) => ({
  file: shardName("squares", { index, of }),
  text: shard(from, { index, of }) as string,
});

describe("shards of a work", () => {
  it("part its rows so that they differ by one at most", () => {
    const ranges = [1, 2, 3].map((index) => shardRange({ index, of: 3 }, 7));
    expect(ranges).toEqual([
      [0, 2],
      [2, 4],
      [4, 7],
    ]);
    expect(() => shardRange({ index: 1, of: 8 }, 7)).toThrow(
      "shard.of: expected a whole number from 1 to 7, the rows there are, got 8",
    );
    expect(() => shardRange({ index: 4, of: 3 }, 7)).toThrow(
      "shard.index: expected a whole number from 1 to 3, got 4",
    );
  });

  it("are called so that they sort, and write text that reads back", () => {
    expect(shardName("a", { index: 3, of: 128 })).toBe("a.003-of-128.csv");
    expect(csvLine(["a,b", 'say "x"', 1 / 3])).toBe(`"a,b","say ""x""",${1 / 3}`);
  });

  it("are to the last bit the undivided work, in any order", () => {
    const whole = merge(work, [file(1, 1)]);
    expect(whole).toEqual([0, 1, 4, 9, 16, 25, 36].map((x) => x / 3));
    expect(merge(work, [file(3, 3), file(1, 3), file(2, 3)])).toEqual(whole);
    expect(mergeShards([file(2, 2), file(1, 2)]).more).toEqual([{ from: 0 }, { from: 3 }]);
  });

  it("are refused by name when one is missing, there twice, of another run, or torn", () => {
    expect(() => merge(work, [])).toThrow("shards: expected a file or more");
    expect(() => merge(work, [file(1, 3), file(3, 3)])).toThrow(
      'shards: expected all 3 of them, got "none of number 2"',
    );
    expect(() => merge(work, [file(1, 2), file(1, 2)])).toThrow("each shard once; 1 is in");
    expect(() => merge(work, [file(1, 2), file(2, 3)])).toThrow("shard: expected one of 2, as in");
    const other = { ...work, dependsOn: { power: 3 } };
    expect(() => merge(work, [file(1, 2), file(2, 2, other)])).toThrow(
      "squares.2-of-2.csv run: expected the run that is asked for",
    );
    const whole = file(1, 1);
    const torn = { ...whole, text: whole.text.split("\n").slice(0, 5).join("\n") };
    expect(() => merge(work, [torn])).toThrow(
      'squares.1-of-1.csv: expected what was written below its header, got "another text: torn, or changed"',
    );
    expect(() => merge(work, [{ file: "x.csv", text: "row,x\n0,1\n" }])).toThrow(
      "x.csv:1: expected the header of a shard",
    );
  });

  it("are refused wherever they were cut, or had a character changed", () => {
    const { file: name, text } = file(1, 2);
    for (let at = 0; at < text.length; at++) {
      expect(() => mergeShards([{ file: name, text: text.slice(0, at) }, file(2, 2)])).toThrow(
        /^squares\.1-of-2\.csv/,
      );
    }
    const body = text.indexOf("\n") + 1;
    for (let at = body; at < text.length; at++) {
      for (const put of ["7", " ", "\n"]) {
        if (text[at] === put) continue;
        const changed = text.slice(0, at) + put + text.slice(at + 1);
        expect(() => mergeShards([{ file: name, text: changed }, file(2, 2)])).toThrow(name);
      }
    }
  });

  it("hold numbers in JavaScript's own spelling, whatever the check says", () => {
    const { file: name, text } = file(1, 1);
    const [header, ...lines] = text.split("\n");
    for (const cell of ["", " 1", "0x10", "1,2", "1e", "+1"]) {
      const body = lines.join("\n").replace(/^1,.*$/m, `1,${cell}`);
      const check = fingerprint(body);
      const head = header!.replace(/"check":"\w+"/, `"check":"${check}"`);
      expect(() => mergeShards([{ file: name, text: `${head}\n${body}` }]), cell).toThrow(
        `${name}:4: expected row 1 and 1 numbers`,
      );
    }
  });
});
