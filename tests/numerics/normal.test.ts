import { describe, expect, it } from "vitest";
import { normalQuantile } from "../../src/numerics/normal.js";

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
