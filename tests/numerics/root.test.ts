import { describe, expect, test } from "vitest";
import { root } from "../../src/numerics/root.js";

describe("root", () => {
  test("finds a root to the last digit, rising or falling, and at an end", () => {
    expect(root((x) => x * x - 2, 0, 2)).toBeCloseTo(Math.SQRT2, 15);
    expect(root((x) => Math.cos(x), 0, 3)).toBeCloseTo(Math.PI / 2, 15);
    expect(root((x) => x, 0, 1)).toBe(0);
    expect(root((x) => x - 1, 0, 1)).toBe(1);
    expect(root((x) => 1 / x - 2, 0, 5)).toBeCloseTo(0.5, 15);
  });

  test("refuses ends of one sign, and what is no number", () => {
    expect(() => root((x) => x * x + 1, 0, 1)).toThrow(
      "root: expected opposite signs at 0 and 1, got 1, 2",
    );
    expect(() => root((x) => Math.log(-x), 1, 2)).toThrow("got NaN, NaN");
  });
});
