import { describe, expect, it } from "vitest";
import { countNeeded } from "../../../src/design/confidence/count-needed.js";

const inputs = [{ name: "load", quantile: (u: number) => 10 * u }] as never;
/** A load, even from 0 to 10, that each of so many holds 1 of. */
const of = (count: number) => ({ evaluate: (values: Float64Array) => count - values[0]! });
const holds = (margin: number) => margin >= 0;

describe("the number that is needed", () => {
  it("is the fewest that hold with the probability", () => {
    const needed = (probability: number) =>
      countNeeded(of as never, holds, { most: 40, probability })({ inputs } as never, 0);
    // Of loads even from 0 to 10, those up to 9 are nine tenths, and those up to 8 are eight.
    expect(needed(0.85)).toBe(9);
    expect(needed(0.45)).toBe(5);
    expect(needed(1)).toBe(10);
  });

  it("is refused where even the most do not hold", () => {
    const asked = countNeeded(of as never, holds, { most: 6 });
    expect(() => asked({ inputs } as never, 0)).toThrow(
      /^countNeeded: even 6 hold with a probability of 60(\.\d)? % only, 95(\.0)? % is asked for\.$/,
    );
    expect(() => countNeeded(of as never, holds, { most: 0 })).toThrow(
      "most: expected a whole number",
    );
    expect(() => countNeeded(of as never, holds, { most: 1, probability: 2 })).toThrow(
      "probability: expected a probability, from 0 to 1, got 2",
    );
  });
});
