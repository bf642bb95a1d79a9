import { describe, expect, it } from "vitest";
import { toSI } from "../../src/units/quantity.js";
import { distributionOf, isSpread, measured, spread } from "../../src/units/spread.js";

const length = (end: number | string) => toSI("die.thickness", end, "length");
const plain = (end: number | string) => Number(end);

describe("a spread", () => {
  it("is log-normal when nothing is said: its median is the geometric mean of its ends", () => {
    const { median, low, high, kind } = distributionOf(spread("20 nm", "45 nm"), length, "x");
    expect(kind).toBe("log-normal");
    expect(median).toBeCloseTo(30e-9, 20);
    expect(low).toBe(20e-9);
    expect(high).toBeCloseTo(45e-9, 20);
  });

  // Quantiles from SciPy 1.17: lognorm(s, scale), norm, uniform, loguniform and triang with the middle
  // 90 %, or the whole, between 2 and 8.
  it.each([
    ["log-normal", 0.01, 1.500747137893645],
    ["log-normal", 0.8, 5.702795814938691],
    ["normal", 0.01, 0.7570427497203536],
    ["normal", 0.8, 6.535008136497992],
    ["uniform", 0.01, 2.06],
    ["log-uniform", 0.8, 6.062866266041593],
    ["triangular", 0.01, 2.4242640687119286],
    ["triangular", 0.8, 6.102633403898972],
  ] as const)("has the quantiles of the %s distribution at %f", (distribution, u, value) => {
    const { quantile } = distributionOf(spread(2, 8, { distribution }), plain, "x");
    expect(quantile(u)).toBeCloseTo(value, 12);
  });

  it("of a measured value has its uncertainty as the standard deviation", () => {
    const { median, quantile } = distributionOf(measured("1.5 mm", "0.1 mm"), length, "x");
    expect(median).toBeCloseTo(1.5e-3, 15);
    // norm.ppf(0.8413447460685429) = 1
    expect(quantile(0.8413447460685429)).toBeCloseTo(1.6e-3, 15);
  });

  it("is plain data, which survives being written as JSON", () => {
    expect(isSpread(JSON.parse(JSON.stringify(spread(30, 80))))).toBe(true);
    expect(isSpread(structuredClone(measured(30, 8)))).toBe(true);
    expect(isSpread({ low: 1, high: 2 })).toBe(false);
  });

  it("says what is wrong with it", () => {
    expect(() => distributionOf(spread("40 nm", "20 nm"), length, "pads.thickness")).toThrow(
      'pads.thickness: expected a spread whose low end lies below its high end, got {"distribution":"log-normal","low":"40 nm","high":"20 nm"}',
    );
    expect(() => distributionOf(spread(0, 3), plain, "loads[0].detuning")).toThrow(
      'loads[0].detuning.low: expected a low end above 0 for a log-normal spread (or distribution "normal" ' +
        'or "uniform"), got 0',
    );
    expect(() => distributionOf(spread("20 mK", "40 mK"), length, "die.thickness")).toThrow(
      'die.thickness: expected a length such as "25 um" or a number in metres, got "20 mK"',
    );
    // @ts-expect-error not a distribution
    expect(() => spread(1, 2, { distribution: "gamma" })).toThrow("spread.distribution: expected");
    expect(() => distributionOf(measured(30, 0), plain, "x")).toThrow(
      "an uncertainty greater than 0",
    );
  });
});
