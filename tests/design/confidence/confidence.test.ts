/** Chances and percentiles of a few samples, worked by hand. */
import { describe, expect, it } from "vitest";
import {
  Confidence,
  chanceCell,
  confidenceWords,
  formatChance,
  outsideWords,
  quantileOf,
} from "../../../src/design/confidence/confidence.js";
import { meanAndError } from "../../../src/design/confidence/samples.js";

const [stage, limit] = [0.1, 0.105];
/** Replicates of chips at these temperatures [K]. */
const replicates = (...chips: readonly (readonly number[])[]) =>
  chips.map((own) => Float64Array.from(own.flatMap((chip) => [chip, stage, limit, 0])));
const content = { seed: 1, limited: true, pairs: [] };
const confidence = (
  chips: readonly (readonly number[])[],
  more: Partial<typeof content> = {},
  flown = 0,
) =>
  new Confidence(
    "by hand",
    [],
    replicates(...chips),
    { ...content, ...more },
    undefined,
    undefined,
    flown,
  );

describe("the chip's temperature over samples", () => {
  const own = confidence([
    [0.102, 0.104, 0.106, 0.108],
    [0.101, 0.103, 0.104, 0.109],
  ]);

  it("has a chance, a mean and a variance with the errors of independent replicates", () => {
    // 2 of 4 and 3 of 4 are under the limit: 0.625 ± 0.25/√2·√(1/2)
    expect(own.chance).toEqual({ value: 0.625, error: 0.125 });
    // Means 0.105 and 0.10425.
    expect(own.mean.value).toBeCloseTo(0.104625, 12);
    expect(own.mean.error).toBeCloseTo(0.000375, 12);
    const all = [...own.temperatures];
    const mean = all.reduce((sum, T) => sum + T / 8, 0);
    expect(own.variance.value).toBeCloseTo(
      all.reduce((sum, T) => sum + (T - mean) ** 2 / 8, 0),
      15,
    );
    expect([own.samples, own.replicates, own.expensive, own.unsettled]).toEqual([8, 2, 8, 0]);
  });

  it("has percentiles between the two nearest samples, and those of all together", () => {
    expect(all(own.temperatures)).toEqual([0.101, 0.102, 0.103, 0.104, 0.104, 0.106, 0.108, 0.109]);
    expect(own.median.value).toBe(0.104);
    // 0.05 × 8 − ½ is before the first sample.
    expect(own.band[0].value).toBe(0.101);
    // Medians of the replicates: 0.105 and 0.1035.
    expect(own.median.error).toBeCloseTo(0.00075, 12);
    expect(quantileOf([1, 2, 4, 8], 0.5)).toBe(3);
    expect(quantileOf([1, 2, 4, 8], 0.75)).toBe(6);
    expect(quantileOf([1, Number.POSITIVE_INFINITY], 1)).toBe(Number.POSITIVE_INFINITY);
    expect(quantileOf([Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY], 0.5)).toBe(
      Number.POSITIVE_INFINITY,
    );
  });

  it("counts what has no steady state as too warm", () => {
    const lost = confidence([
      [0.102, Number.POSITIVE_INFINITY],
      [0.102, 0.102],
    ]);
    expect(lost.unsettled).toBe(1);
    expect(lost.chance!.value).toBe(0.75);
    expect(lost.convergence).toContain("1 sample has no steady state and counts as too warm");
    expect(lost.mean.error).toBe(Number.POSITIVE_INFINITY);
  });

  it("does not rule out what never happened: three in so many samples", () => {
    const all = confidence([
      [0.101, 0.102],
      [0.101, 0.103],
    ]);
    expect(all.chance).toEqual({ value: 1, error: 0.75 });
  });

  it("is off as a whole by the chance of flights", () => {
    const flown = confidence(
      [
        [0.104, 0.104],
        [0.104, 0.104],
      ],
      {},
      0.25,
    );
    // A quarter of 4 mK.
    expect(flown.median.error).toBeCloseTo(1e-3, 12);
    // A quarter more is on the limit.
    expect(flown.chance!.value).toBe(1);
    const near = confidence(
      [
        [0.1045, 0.1045],
        [0.1045, 0.1045],
      ],
      {},
      0.25,
    );
    // All would be over it: half of the way from 1 to 0.
    expect(near.chance!.error).toBeCloseTo(Math.hypot(0.75, 0.5), 12);
  });

  it("has no chance without a limit, and the limits of its samples with one", () => {
    const free = confidence([[0.101], [0.102]], { limited: false });
    expect([free.chance, free.limits]).toEqual([undefined, undefined]);
    expect(free.summary).not.toContain("limit");
    expect(own.limits).toEqual([limit, limit]);
  });

  const all = (values: Float64Array) => [...values];
});

describe("a chance in words", () => {
  it("has the digits that its error leaves, and is never all or nothing", () => {
    expect(formatChance({ value: 0.9514, error: 1e-3 })).toBe("95.1 %");
    expect(formatChance({ value: 0.9514, error: 1e-2 })).toBe("95 %");
    expect(formatChance({ value: 0.9987, error: 1e-4 })).toBe("99.87 %");
    expect(formatChance({ value: 1, error: 3e-4 })).toBe(">99.97 %");
    expect(formatChance({ value: 0, error: 3e-4 })).toBe("<0.03 %");
    expect(confidenceWords({ value: 0.9, error: 1e-2 })).toBe("90 % confidence");
    expect(chanceCell({ value: 0.9, error: 1e-2 })).toMatchObject({ value: 0.9, text: "90 %" });
  });

  it("says what share of the samples left a range, where any did", () => {
    expect(outsideWords({ outside: 0 })).toBe("");
    expect(outsideWords({ outside: 0.25 })).toBe(", while a law is refused in 25 % of the samples");
  });
});

describe("the mean of independent estimates", () => {
  it("has the standard error s/√n", () => {
    expect(meanAndError([1, 2, 3, 4])).toEqual([2.5, expect.closeTo(Math.sqrt(5 / 3 / 4), 12)]);
  });
});
