import { describe, expect, it } from "vitest";
import { stillFlying, takenByCover } from "../../../src/chip/flights/burst.js";
import { brokenIn, told } from "../../../src/design/events/burst-counts.js";

const ends = (
  of: readonly number[],
  times: readonly number[],
  more: {
    readonly x?: readonly number[];
    readonly y?: readonly number[];
    readonly f?: readonly number[];
  } = {},
) => ({
  ends: Int32Array.from(of),
  times: Float64Array.from(times),
  x: Float64Array.from(more.x ?? of.map(() => 0)),
  y: Float64Array.from(more.y ?? of.map(() => 0)),
  frequencies: Float64Array.from(more.f ?? of.map(() => 1)),
  scatterings: new Int32Array(of.length),
  reflections: new Int32Array(of.length),
});

describe("packets that broke pairs", () => {
  it("lie in the pixel that holds their place, in order of time; those on the rim in the last", () => {
    const pixels = { columns: 2, rows: 2, width: 1, length: 1 } as never;
    const of = [takenByCover, 0, takenByCover, takenByCover, stillFlying];
    const found = brokenIn(
      pixels,
      ends(of, [3, 1, 1, 2, 9], { x: [0.5, 0, 2, 0.2, 1], y: [0.5, 0, 2, 1.7, 1] }),
    );
    expect([...found.broken.times]).toEqual([1, 2, 3]);
    expect([...found.broken.pixels]).toEqual([3, 2, 0]);
  });
});

describe("who took the packets", () => {
  const tiles = [{ group: "pads" }, { group: "pads" }, { group: "clamps" }];
  const of = [0, 1, 1, takenByCover, stillFlying, stillFlying, stillFlying, 0];
  const times = [1e-8, 2e-8, 4e-8, 3e-8, 1e-7, 1e-7, 1e-7, 8e-8];
  const {
    shares,
    flying,
    frequency,
    times: at,
  } = told(ends(of, times, { f: [1, 1, 1, 1, 5, 9, 7, 1] }), ["pads", "clamps"], tiles, 1e-7);

  it("are groups of contacts, then pixels where some were hit, the most first", () => {
    expect(shares.map(({ name, share }) => [name, share])).toEqual([
      ["pads", 4 / 8],
      ["pixels", 1 / 8],
      ["clamps", 0],
    ]);
    // Of the binomial distribution: √(p(1−p)/n).
    expect(shares[0]!.error).toBeCloseTo(Math.sqrt(0.25 / 8), 12);
    expect(shares[0]!.half).toBe(4e-8);
    expect(shares[2]).not.toHaveProperty("half");
    expect(flying + shares.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    expect(frequency).toBe(7);
    expect(told(ends([0], [1e-9]), ["pads"], tiles, 1e-7)).not.toHaveProperty("frequency");
  });

  it("take them in the course of time, ten steps in a factor of ten, up to the end", () => {
    expect(at.at(-1)).toBe(1e-7);
    expect(at.at(-1)! / at.at(-11)!).toBeCloseTo(10, 9);
    const { course } = shares[0]!;
    const upTo = (time: number) =>
      times.filter((each, k) => of[k]! >= 0 && each <= time).length / 8;
    expect([...course]).toEqual([...at].map(upTo));
  });
});
