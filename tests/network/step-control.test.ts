/**
 * Expected steps are worked by hand from Hairer and Wanner, Solving Ordinary Differential Equations II
 * (1996), eqs. IV.8.20 to 8.24, with a caution of 0.9, for errors that go as the fourth power.
 */
import { describe, expect, it } from "vitest";
import { StepControl } from "../../src/network/transient-run.js";

const control = () => new StepControl(4);

describe("a step that was refused", () => {
  it("is shortened by the fourth root of its error", () => {
    expect(control().shorter(2, 16)).toBeCloseTo((2 * 0.9) / 2, 14);
  });

  it("is not shortened below a fifth, however large its error", () => {
    expect(control().shorter(2, 1e12)).toBeCloseTo(2 / 5, 14);
  });

  it.each([Number.POSITIVE_INFINITY, Number.NaN])("is a tenth after an error of %s", (error) => {
    expect(control().shorter(2, error)).toBeCloseTo(0.2, 14);
  });

  it("is counted until one is taken", () => {
    const steps = control();
    steps.shorter(1, 4);
    steps.shorter(1, 4);
    expect(steps.trials).toBe(2);
    steps.next(1, 0.5);
    expect(steps.trials).toBe(0);
  });

  it("is not longer at once, but after the next", () => {
    const steps = control();
    const shorter = steps.shorter(1, 16);
    expect(steps.next(shorter, 1 / 16)).toBe(shorter);
    expect(steps.next(shorter, 1 / 16)).toBeGreaterThan(shorter);
  });

  it("may still become shorter at once", () => {
    const steps = control();
    steps.shorter(1, 16);
    expect(steps.next(1, 1)).toBeCloseTo(0.9, 14);
  });
});

describe("the step after one that was taken", () => {
  it("follows the fourth root of its error, while none is known before it", () => {
    expect(control().next(2, 1 / 16)).toBeCloseTo(2 * 0.9 * 2, 14);
  });

  it("is six times as long at most", () => {
    expect(control().next(2, 0)).toBeCloseTo(12, 13);
    expect(control().next(2, 1e-5)).toBeCloseTo(12, 13);
  });

  it("expects the error to grow on as it grew", () => {
    const steps = control();
    steps.next(1, 1 / 64);
    // The fourth root of (1/64) / (1/16)², and not that of 16.
    expect(steps.next(1, 1 / 16)).toBeCloseTo(0.9 * Math.SQRT2, 14);
  });

  it("expects the steps to grow on as they grew", () => {
    const steps = control();
    steps.next(4, 1 / 64);
    expect(steps.next(1, 1 / 16)).toBeCloseTo((0.9 * Math.SQRT2) / 4, 14);
  });

  it("does not expect an error to fall on: a falling one is taken as it is", () => {
    const steps = control();
    steps.next(1, 1);
    expect(steps.next(1, 1 / 16)).toBeCloseTo(0.9 * 2, 14);
  });

  it("takes any small error before it for a hundredth", () => {
    const steps = control();
    steps.next(1, 1e-5);
    expect(steps.next(1, 1 / 16)).toBeCloseTo(0.9 * 2.56 ** (1 / 4), 14);
  });

  it("is not shortened below a fifth", () => {
    const steps = control();
    steps.next(100, 1 / 64);
    expect(steps.next(1, 1)).toBeCloseTo(0.2, 14);
  });
});
