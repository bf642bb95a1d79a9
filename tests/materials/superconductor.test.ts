import { describe, expect, it } from "vitest";
import {
  electronRatio,
  gap,
  gapOverTemperature,
  weightedRatio,
} from "../../src/materials/superconductor.js";
import { integrate } from "../../src/numerics/quadrature.js";
import { bcsGapRatio } from "../../src/units/constants.js";

describe("gap(t)", () => {
  it("is full at zero temperature, gone at and above T_c, and falls in between", () => {
    expect(gap(0)).toBe(1);
    expect(gap(1)).toBe(0);
    expect(gap(1.5)).toBe(0);
    let before = 1;
    for (let t = 0.25; t < 1; t += 0.001) {
      expect(gap(t)).toBeLessThan(before);
      before = gap(t);
    }
  });

  it("solves the gap equation to a part in 1e8", () => {
    // ln(Δ(0)/Δ) = 2 ∫₀^∞ du f(√(1+u²) Δ/kT)/√(1+u²), Bardeen, Cooper & Schrieffer (1957)
    for (const t of [0.1, 0.2, 0.4, 0.6, 0.8, 0.95]) {
      const y = (bcsGapRatio * gap(t)) / t;
      const integrand = (u: number) => {
        const e = Math.sqrt(1 + u * u);
        return 1 / (e * (Math.exp(y * e) + 1));
      };
      const sum = 2 * integrate(integrand, 0, 60 / y, 1e-12);
      expect(Math.exp(-sum) / gap(t)).toBeCloseTo(1, 8);
    }
  });

  it("goes as 1.7367 √(1 − t) near T_c", () => {
    // Bardeen, Cooper & Schrieffer (1957): 1.74; √(8/(7ζ(3)))·π/1.76388 = 1.7367
    expect(gap(1 - 1e-7) / Math.sqrt(1e-7)).toBeCloseTo(1.7367, 4);
  });

  it("refuses a negative temperature and NaN", () => {
    expect(() => gap(-0.1)).toThrow("gap: expected T/T_c from 0, got -0.1");
    expect(() => gap(Number.NaN)).toThrow(RangeError);
  });
});

describe("electronRatio(y)", () => {
  it("equals (3/2π²) ∫ x² sech²(x/2) dx from y", () => {
    for (const y of [0, 0.01, 0.5, 2, 6, 17.6]) {
      const integrand = (x: number) => (1.5 / Math.PI ** 2) * (x / Math.cosh(x / 2)) ** 2;
      expect(electronRatio(y) / integrate(integrand, y, y + 90, 1e-13)).toBeCloseTo(1, 11);
    }
  });

  it("is one in the normal state and falls as y² exp(−y)", () => {
    expect(electronRatio(0)).toBeCloseTo(1, 14);
    const y = 300;
    const far = ((6 / Math.PI ** 2) * (y * y + 2 * y + 2)) / Math.exp(y);
    expect(electronRatio(y) / far).toBeCloseTo(1, 12);
  });

  it("is zero, not NaN, where no number is small enough", () => {
    expect(electronRatio(2000)).toBe(0);
    expect(electronRatio(Number.POSITIVE_INFINITY)).toBe(0);
  });
});

describe("weightedRatio(gapRatio)", () => {
  it.each([bcsGapRatio, 2.2])("agrees with quadrature to a part in 1e9, gap ratio %d", (ratio) => {
    const table = weightedRatio(ratio);
    for (const t of [0.004, 0.02, 0.07, 0.1, 0.25, 0.29, 0.31, 0.6, 0.9, 0.999, 1]) {
      const inLog = (u: number) => {
        const x = t * Math.exp(-u);
        return x ** 2 * table.ratio(x);
      };
      const exact = integrate(inLog, 0, Math.min(4, 40 * t + 0.2), 1e-12);
      expect(table.integral(t) / exact).toBeCloseTo(1, 9);
    }
  });

  it("rises with temperature from where it is a number at all", () => {
    const { integral } = weightedRatio(bcsGapRatio);
    expect(integral(0)).toBe(0);
    expect(integral(0.001)).toBe(0);
    let before = 0;
    for (let t = 0.0026; t <= 1; t *= 1.01) {
      expect(integral(t)).toBeGreaterThan(before);
      before = integral(t);
    }
  });

  it("has the slope t R(t)", () => {
    const table = weightedRatio(bcsGapRatio);
    for (const t of [0.05, 0.2, 0.5, 0.95]) {
      const h = 1e-5 * t;
      const slope = (table.integral(t + h) - table.integral(t - h)) / (2 * h);
      expect(slope / (t * table.ratio(t))).toBeCloseTo(1, 5);
    }
  });
});

describe("gapOverTemperature(t, gapRatio)", () => {
  it("scales with the gap at zero temperature", () => {
    expect(gapOverTemperature(0.5, 2) / gapOverTemperature(0.5, 1)).toBeCloseTo(2, 12);
    expect(gapOverTemperature(0)).toBe(Number.POSITIVE_INFINITY);
  });
});
