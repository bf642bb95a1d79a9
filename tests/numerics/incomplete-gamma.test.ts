import { describe, expect, it } from "vitest";
import { chiSquaredProbability, logGamma, upperGamma } from "../../src/numerics/distributions.js";

describe("the incomplete gamma function", () => {
  // SciPy 1.17.1, scipy.special.gammaincc
  it.each([
    [0.5, 0.1, 0.6547208460185768],
    [0.5, 5, 0.001565402258002549],
    [1, 1, 0.36787944117144245],
    [2.5, 0.3, 0.9880032427940937],
    [10, 3, 0.9988975118698845],
    [10, 25, 0.0002214766382487835],
    [50, 49, 0.5378956063990598],
    [50, 80, 0.0001307839765914092],
    [500, 520, 0.18469114909874365],
  ])("Q(%d, %d) = %d", (a, x, value) => {
    expect(upperGamma(a, x) / value).toBeCloseTo(1, 12);
  });

  it("is exp(−x) for a = 1, and goes from 1 to 0", () => {
    for (const x of [1e-3, 0.5, 1.9, 2.1, 7, 40]) {
      expect(upperGamma(1, x) / Math.exp(-x)).toBeCloseTo(1, 12);
    }
    expect([upperGamma(3, 0), upperGamma(3, Number.POSITIVE_INFINITY)]).toEqual([1, 0]);
  });

  it("refuses what it is not defined for", () => {
    expect(() => upperGamma(0, 1)).toThrow(
      "upperGamma: expected a above 0 and x of 0 or more, got 0, 1",
    );
    expect(() => upperGamma(1, Number.NaN)).toThrow("got 1, NaN");
    expect(() => logGamma(-1)).toThrow("logGamma: expected a number greater than 0, got -1");
  });

  // SciPy 1.17.1, scipy.special.gammaln
  it.each([
    [1e-3, 6.907178885383853],
    [0.5, 0.5723649429247],
    [1, 0],
    [7.5, 7.534364236758734],
    [30, 71.257038967168],
    [1000, 5905.220423209181],
  ])("ln Γ(%d) = %d", (x, value) => {
    expect(Math.abs(logGamma(x) - value)).toBeLessThan(1e-14 * Math.max(1, Math.abs(value)));
  });

  it("gives the tabulated 5 % points of χ²", () => {
    // M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions (1964), table 26.8
    for (const [degrees, point] of [
      [1, 3.84146],
      [5, 11.0705],
      [10, 18.307],
      [30, 43.7729],
    ] as const) {
      expect(chiSquaredProbability(point, degrees)).toBeCloseTo(0.05, 5);
    }
  });
});
