import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { conductivityRatio } from "../../src/device/conductivity.js";
import { energyGap } from "../../src/device/superconductor.js";
import { integrate } from "../../src/numerics/quadrature.js";
import { boltzmann, planck } from "../../src/units/constants.js";
import { aluminium } from "./films.js";

/** K(k) and E(k) by the arithmetic-geometric mean (Abramowitz & Stegun, 17.6). */
function elliptic(k: number): { K: number; E: number } {
  let [a, b, c, sum, power] = [1, Math.sqrt(1 - k * k), k, 0, 0.5];
  for (let i = 0; i < 30; i++) {
    sum += power * c * c;
    [a, b, c, power] = [(a + b) / 2, Math.sqrt(a * b), (a - b) / 2, power * 2];
  }
  const K = Math.PI / (2 * a);
  return { K, E: K * (1 - sum) };
}

/**
 * The integrals of Mattis and Bardeen as printed, by adaptive Gauss-Legendre in s, E = end ± s², which
 * takes one root out at either end of the range.
 */
function direct(frequency: number, T: number) {
  const gap = energyGap(aluminium, T);
  const [w, y] = [(planck * frequency) / gap, gap / (boltzmann * T)];
  const f = (x: number) => 1 / (1 + Math.exp(y * x));
  const weight = (x: number) => x * x + 1 + w * x;
  const half = (from: number, to: number, g: (x: number, distance: number) => number) => {
    const span = Math.sqrt(Math.abs(to - from));
    const sign = Math.sign(to - from);
    return integrate((s) => 2 * s * g(from + sign * s * s, s * s), 0, span, 1e-11);
  };
  const both = (a: number, b: number, g: (x: number, below: number, above: number) => number) => {
    const middle = (a + b) / 2;
    return half(a, middle, (x, d) => g(x, d, b - x)) + half(b, middle, (x, d) => g(x, x - a, d));
  };
  const absorbed = half(
    1,
    1 + 60 / y,
    (x, d) => ((f(x) - f(x + w)) * weight(x)) / Math.sqrt(d * (x + 1) * ((x + w) ** 2 - 1)),
  );
  const broken =
    w <= 2
      ? 0
      : both(
          1 - w,
          -1,
          (x, below, above) =>
            ((1 - 2 * f(x + w)) * -weight(x)) / Math.sqrt(above * (1 - x) * below * (x + w + 1)),
        );
  const start = Math.max(1 - w, -1);
  const pairs = both(start, 1, (x, below, above) => {
    const outer = w <= 2 ? below * (x + w + 1) : (x + w) ** 2 - 1;
    const inner = w <= 2 ? above * (1 + x) : above * below;
    return ((1 - 2 * f(x + w)) * weight(x)) / Math.sqrt(inner * outer);
  });
  return { real: (2 * absorbed + broken) / w, imaginary: pairs / w };
}

describe("conductivityRatio", () => {
  test("at zero temperature is the elliptic integrals of Mattis & Bardeen (1958), Eqs. 3.11 and 3.12", () => {
    const gap = energyGap(aluminium, 0);
    for (const w of [0.01, 0.3, 1, 1.9, 2.1, 3, 10, 40]) {
      const k = Math.abs(2 - w) / (2 + w);
      const { K, E } = elliptic(k);
      const other = elliptic(Math.sqrt(1 - k * k));
      const real = w > 2 ? (1 + 2 / w) * E - (4 / w) * K : 0;
      const imaginary = ((1 + 2 / w) * other.E - (1 - 2 / w) * other.K) / 2;
      const ratio = conductivityRatio(aluminium, (w * gap) / planck, 0);
      expect(ratio.real, `real, hν = ${w} Δ`).toBeCloseTo(real, 9);
      expect(ratio.imaginary / imaginary, `imaginary, hν = ${w} Δ`).toBeCloseTo(1, 9);
    }
  });

  test.each([
    [1e9, 0.1],
    [5e9, 0.2],
    [5e9, 0.9],
    [5e9, 1.19],
    [60e9, 0.5],
    [60e9, 1.1],
    [150e9, 0.3],
    [600e9, 1],
  ])("at %d Hz and %d K agrees with the printed integrals, taken another way", (frequency, T) => {
    const [ours, other] = [conductivityRatio(aluminium, frequency, T), direct(frequency, T)];
    expect(ours.real / other.real).toBeCloseTo(1, 8);
    expect(ours.imaginary / other.imaginary).toBeCloseTo(1, 8);
  });

  test("joins the normal metal at T_c, and has its coherence peak below", () => {
    expect(conductivityRatio(aluminium, 5e9, 1.2)).toEqual({ real: 1, imaginary: 0 });
    const near = conductivityRatio(aluminium, 5e9, 1.2 * (1 - 1e-8));
    expect(near.real).toBeCloseTo(1, 3);
    expect(near.imaginary).toBeCloseTo(0, 3);
    const peak = (nu: number) => conductivityRatio(aluminium, nu, 1.05).real;
    expect(peak(5e9)).toBeGreaterThan(1.2);
    expect(peak(1e9)).toBeGreaterThan(peak(5e9));
    expect(peak(50e9)).toBeLessThan(1);
  });

  test("is finite, positive, and less inductive the warmer, below the gap's frequency", () => {
    const temperature = fc.double({ min: 0.02, max: 1.199, noNaN: true });
    const frequency = fc.double({ min: 1e8, max: 4e10, noNaN: true });
    fc.assert(
      fc.property(frequency, temperature, temperature, (nu, a, b) => {
        const cold = conductivityRatio(aluminium, nu, Math.min(a, b));
        const warm = conductivityRatio(aluminium, nu, Math.max(a, b));
        expect(cold.real).toBeGreaterThanOrEqual(0);
        expect(warm.imaginary).toBeGreaterThanOrEqual(0);
        expect(warm.imaginary).toBeLessThanOrEqual(cold.imaginary * (1 + 1e-12));
      }),
      { seed: 11, numRuns: 300 },
    );
  });

  test("is as exact where a photon just breaks a pair", () => {
    const gap = energyGap(aluminium, 0);
    const at = (w: number) => conductivityRatio(aluminium, (w * gap) / planck, 0.3).imaginary;
    expect(at(2) / at(2 - 1e-7)).toBeCloseTo(1, 5);
    expect(at(2) / at(2 + 1e-7)).toBeCloseTo(1, 5);
  });

  test("refuses a frequency of 0 and a temperature below it", () => {
    expect(() => conductivityRatio(aluminium, 0, 0.1)).toThrow(
      "conductivityRatio: expected a frequency above 0 Hz, got 0",
    );
    expect(() => conductivityRatio(aluminium, 1e9, Number.NaN)).toThrow(
      "conductivityRatio: expected a temperature from 0 K, got NaN",
    );
  });
});
