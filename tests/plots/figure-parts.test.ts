import { describe, expect, it } from "vitest";
import { unitOfPower, unitOfTime } from "../../src/plots/figure-parts.js";

describe("units of axes", () => {
  it("leave numbers between one and a thousand, roughly", () => {
    expect([2e-5, 0.02, 20, 2e4].map((time) => unitOfTime(time).name)).toEqual([
      "µs",
      "ms",
      "s",
      "h",
    ]);
    const powers = [2e-11, 2e-8, 2e-5, 2e-2];
    expect(powers.map((power) => unitOfPower(power).name)).toEqual(["pW", "nW", "µW", "mW"]);
    for (const power of powers) expect(power / unitOfPower(power).size).toBeCloseTo(20, 9);
  });
});
