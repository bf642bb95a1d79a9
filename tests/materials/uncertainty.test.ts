import { describe, expect, it } from "vitest";
import { asFactor, parseUncertainty } from "../../src/materials/uncertainty.js";

describe("parseUncertainty(text)", () => {
  it("reads a share, a factor, an amount and nothing", () => {
    expect(parseUncertainty("5 %")).toEqual({ kind: "relative", share: 0.05 });
    expect(parseUncertainty("0.5%")).toEqual({ kind: "relative", share: 0.005 });
    expect(parseUncertainty("x2")).toEqual({ kind: "factor", factor: 2 });
    expect(parseUncertainty("x 1.5")).toEqual({ kind: "factor", factor: 1.5 });
    expect(parseUncertainty("0.3")).toEqual({ kind: "absolute", amount: 0.3 });
    expect(parseUncertainty("2e-3")).toEqual({ kind: "absolute", amount: 0.002 });
    expect(parseUncertainty("  ")).toBeUndefined();
  });

  it.each(["about 5 %", "-5 %", "2x", "x0.5", "5 % or so", "±3"])("refuses %s", (text) => {
    expect(() => parseUncertainty(text)).toThrow('expected "5 %", "x2" (a factor either way)');
  });
});

describe("asFactor(uncertainty, value)", () => {
  it("turns each kind into a factor on the value", () => {
    expect(asFactor(parseUncertainty("5 %"), 40)).toBeCloseTo(1.05, 12);
    expect(asFactor(parseUncertainty("x3"), 40)).toBe(3);
    expect(asFactor(parseUncertainty("4"), -40)).toBeCloseTo(1.1, 12);
    expect(asFactor(undefined, 40)).toBe(1);
  });
});
