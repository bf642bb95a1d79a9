import { describe, expect, it } from "vitest";
import { convexStep } from "../../../src/design/sizing/convex-step.js";

const wide = [0.01, 100] as const;

describe("one step to the least cost", () => {
  it("of one field is where the condition is met: q/u = target", () => {
    const [u] = convexStep({ costs: [1], ratio: 2, slopes: [-1], target: 1, bounds: [wide] });
    // q = 2 (1 + (1/u − 1)) = 2/u
    expect(u).toBeCloseTo(2, 9);
    const [less] = convexStep({ costs: [1], ratio: 0.5, slopes: [-1], target: 1, bounds: [wide] });
    expect(less).toBeCloseTo(0.5, 9);
  });

  it("makes smallest what only costs, and what warms and costs nothing", () => {
    const bounds = [[0.25, 4]] as const;
    expect(convexStep({ costs: [1], ratio: 0.5, slopes: [0], target: 1, bounds })).toEqual([0.25]);
    expect(convexStep({ costs: [0], ratio: 2, slopes: [0.5], target: 1, bounds })).toEqual([0.25]);
    // What does neither stays.
    expect(convexStep({ costs: [0], ratio: 2, slopes: [0], target: 1, bounds })).toEqual([1]);
  });
});
