import { describe, expect, it } from "vitest";
import { normalQuantile, normalShare } from "../../src/numerics/distributions.js";

describe("normalQuantile", () => {
  // scipy.special.ndtri, SciPy 1.17
  it.each([
    [1e-300, -37.0470962993612],
    [1e-20, -9.262340089798409],
    [1e-5, -4.264890793922825],
    [0.05, -1.6448536269514729],
    [0.0751, -1.4388253927525403],
    [0.4, -0.2533471031357997],
    [0.999, 3.090232306167813],
  ])("is the inverse of the normal distribution at %e", (p, x) => {
    expect(Math.abs(normalQuantile(p) / x - 1)).toBeLessThan(1e-15);
  });

  it("is 0 in the middle and has no end", () => {
    expect(normalQuantile(0.5)).toBe(0);
    expect(normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("the share below a value", () => {
  // Abramowitz and Stegun, Handbook of Mathematical Functions (1964), table 26.1, read in copies.
  it.each([
    [0, 0.5],
    [1, 0.841344746068543],
    [2, 0.977249868051821],
    [3, 0.99865010196837],
    [-1, 0.158655253931457],
  ])("of %s is %s", (x, share) => {
    expect(normalShare(x)).toBeCloseTo(share, 14);
  });

  it("undoes the quantile, and ends at 0 and 1", () => {
    for (const p of [1e-7, 1e-3, 0.2, 0.5, 0.77, 0.999]) {
      expect(normalShare(normalQuantile(p)) / p).toBeCloseTo(1, 8);
    }
    expect([normalShare(-40), normalShare(40)]).toEqual([0, 1]);
  });

  it("has an end for any number, and for none", () => {
    expect([-1e300, 1e300, Number.NaN].map(normalShare)).toEqual([0, 1, Number.NaN]);
  });
});
