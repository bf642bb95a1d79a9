import { describe, expect, test } from "vitest";
import { trapezoid } from "../../src/numerics/quadrature.js";

describe("trapezoid", () => {
  test("is exact for functions that vanish and for periodic ones", () => {
    expect(trapezoid((x) => Math.exp(-x * x), 6.5)).toBeCloseTo(Math.sqrt(Math.PI) / 2, 14);
    // 2π I₀(1): Abramowitz & Stegun, table 9.8 with I₀(1) = 1.2660658778
    expect(trapezoid((x) => Math.exp(Math.cos(x)), Math.PI) / Math.PI).toBeCloseTo(1.2660658778, 9);
  });

  test("takes a narrow function with more steps", () => {
    expect(trapezoid((x) => 1 / (x * x + 1e-4) - 1 / (1 + 1e-4), 1, 4)).toBeCloseTo(
      Math.atan(100) / 0.01 - 1 / (1 + 1e-4),
      4,
    );
  });

  test("says where a function is not finite, and when there is no agreement", () => {
    expect(() => trapezoid((x) => 1 / x, 1)).toThrow(
      "trapezoid: the function is not finite between 0 and 1",
    );
    let call = 0;
    expect(() => trapezoid(() => (call = (call * 16807 + 11) % 2147483647), 1)).toThrow(
      "trapezoid: no agreement between 0 and 1 after 262144 steps",
    );
  });
});
