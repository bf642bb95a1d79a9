import { describe, expect, it } from "vitest";
import { chebyshevSeries, clenshaw, runningIntegral } from "../../src/numerics/chebyshev.js";

describe("runningIntegral(f, from, to)", () => {
  it("agrees with the closed form of a power over four decades", () => {
    const integral = runningIntegral((x) => x ** 1.7, 0.01, 100);
    for (const x of [0.0100001, 0.3, 7, 99.9]) {
      const exact = (x ** 2.7 - 0.01 ** 2.7) / 2.7;
      expect(integral(x) / exact).toBeCloseTo(1, 9);
    }
  });

  it("halves its panels until a narrow peak is resolved", () => {
    const width = 1e-3;
    const integral = runningIntegral((x) => 1 / (1 + ((x - 3) / width) ** 2), 1, 10);
    const exact = (x: number) => width * (Math.atan((x - 3) / width) + Math.atan(2 / width));
    for (const x of [2.9, 3, 3.001, 9]) expect(integral(x) / exact(x)).toBeCloseTo(1, 8);
  });

  it("bears a kink", () => {
    const integral = runningIntegral((x) => Math.min(x, 2), 1, 4);
    expect(integral(4)).toBeCloseTo(1.5 + 4, 8);
  });

  it("starts at zero and never falls for a positive function", () => {
    const integral = runningIntegral((x) => Math.exp(-1 / x), 0.05, 1);
    expect(integral(0.05)).toBeCloseTo(0, 15);
    let before = integral(0.05);
    for (let x = 0.05; x < 1; x *= 1.003) {
      expect(integral(x)).toBeGreaterThanOrEqual(before);
      before = integral(x);
    }
  });

  it("refuses a range that does not rise from above zero, and a function that is not finite", () => {
    expect(() => runningIntegral(Math.exp, 0, 1)).toThrow("expected 0 < from < to");
    expect(() => runningIntegral(() => Number.NaN, 1, 2)).toThrow("not finite");
  });
});

describe("chebyshevSeries(f, a, b)", () => {
  it("is exact for a polynomial of its degree", () => {
    const series = chebyshevSeries((x) => x ** 5 - 2 * x, 1, 3, 5);
    for (const x of [1, 1.7, 3]) expect(clenshaw(series, x - 2)).toBeCloseTo(x ** 5 - 2 * x, 10);
  });
});
