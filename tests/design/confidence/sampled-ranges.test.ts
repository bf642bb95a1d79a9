import { describe, expect, it } from "vitest";
import type { TemperatureRange } from "../../../src/conductor.js";
import {
  bitsOf,
  leavesRefused,
  RangeGuard,
  RangeTally,
} from "../../../src/design/confidence/sampled-ranges.js";

const range = (
  of: string,
  from: number,
  to: number,
  outside: TemperatureRange["outside"] = "warn",
) => ({ of, from, to, outside }) as TemperatureRange;
const placed = (name: string, nodes: readonly string[], ...ranges: TemperatureRange[]) => ({
  name,
  law: { ranges },
  nodes,
});
const guard = new RangeGuard(
  [
    placed("clamps", ["die", "box"], range("a ball", 0.2, 0.6)),
    placed("glue", ["die"], range("a fit", 0.05, 0.3, "refuse")),
    placed("bolt", ["box"], {
      ...range("force", 1, 2),
      given: { quantity: "force", value: 9, unit: "N" },
    }),
  ],
  ["box", "die"],
);

describe("the ranges of a sample", () => {
  it("are a bit each, refused ones first; a given number has none", () => {
    expect(guard.ranges.map(({ name }) => name)).toEqual(["glue", "clamps"]);
    // Box and die [K].
    expect(guard.left([0.25, 0.25])).toBe(0);
    expect(guard.left([0.25, 0.5])).toBe(1);
    expect(guard.left([0.1, 0.25])).toBe(2);
    // Both ends of one law outside are one bit.
    expect(guard.left([0.1, 0.1])).toBe(2);
    expect(guard.left([0.1, 0.7])).toBe(3);
  });

  it("may be asked of an extent: between a lowest and a highest temperature", () => {
    expect(guard.left([0.25, 0.25], [0.25, 0.35])).toBe(1);
    expect(guard.left([0.15, 0.25], [0.25, 0.25])).toBe(2);
  });

  it("are told of another list by its places", () => {
    expect(bitsOf(0b11, [3, undefined])).toBe(0b1000);
    expect(bitsOf(0b10, [0, 1])).toBe(0b10);
    expect(bitsOf(0b11, [5, 5])).toBe(0b100000);
    expect(bitsOf(0, [1, 2])).toBe(0);
    expect([0, 1, 2, 3].map((left) => leavesRefused(left, guard.ranges))).toEqual([
      false,
      true,
      false,
      true,
    ]);
  });

  it("beyond the digits of a number share the last bit", () => {
    const names = Array.from({ length: 60 }, (_, k) => `law ${k}`);
    const many = new RangeGuard(
      names.map((name) => placed(name, ["die"], range(name, 0.2, 0.6))),
      ["die"],
    );
    const left = many.left([0.1]);
    expect(left).toBe(2 ** 53 - 1);
    const tally = new RangeTally(many.ranges);
    tally.count(left);
    expect(tally.warnings("samples")).toHaveLength(60);
  });
});

describe("a count of samples", () => {
  it("tells the share that left each range", () => {
    const tally = new RangeTally(guard.ranges);
    for (let k = 0; k < 200; k++) tally.count(k < 1 ? 1 : k < 51 ? 2 : 0);
    expect(tally.share).toBe(1 / 200);
    expect(tally.warnings("samples")).toEqual([
      expect.stringMatching(
        /^glue: 0\.5 % of the samples are outside 50\.0 mK to 300 mK \(a fit\)/,
      ),
      expect.stringMatching(/^clamps: 25 % of the samples are outside 200 mK to 600 mK \(a ball\)/),
    ]);
  });

  it("refuses where more than one in a hundred left a refused range, unless that is accepted", () => {
    const tally = new RangeTally(guard.ranges);
    for (let k = 0; k < 100; k++) tally.count(k < 2 ? 1 : 0);
    expect(() => tally.warnings("samples")).toThrow(
      /^glue: 2\.0 % of the samples .*too many to answer for.*acceptOutside/,
    );
    expect(tally.warnings("samples", { acceptOutside: true })).toHaveLength(1);
    // Another sample takes the place of one of them.
    tally.count(1, -1);
    tally.count(0, 1);
    expect(tally.share).toBe(0.01);
    expect(tally.warnings("samples")).toHaveLength(1);
    expect(new RangeTally(guard.ranges).share).toBe(0);
  });
});
