import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  bandFraction,
  exitance,
  occupation,
  photonExitance,
  photonFraction,
  planckIntegral,
  planckPhotonRate,
  planckPower,
  rayleighJeansCorrection,
  rayleighJeansPower,
} from "../../src/loads/planck.js";
import { integrate } from "../../src/numerics/quadrature.js";
import { boltzmann, planck, speedOfLight } from "../../src/units/constants.js";

const seed = 20;

describe("a blackbody's integral", () => {
  test.each([1, 2, 3] as const)("of power %i is that of adaptive quadrature", (n) => {
    for (const [low, high] of [
      [1e-6, 1e-3],
      [0.01, 0.9],
      [0.5, 1.5],
      [0.99, 1.01],
      [1, 40],
      [3, 3.001],
      [20, 25],
    ] as const) {
      const exact = integrate((t) => t ** n / Math.expm1(t), low, high, 1e-13);
      expect(planckIntegral(n, low, high) / exact).toBeCloseTo(1, 11);
    }
  });

  test("adds up over adjoining bands, whichever way each is computed", () => {
    const x = fc.double({ min: 1e-3, max: 60, noNaN: true });
    fc.assert(
      fc.property(x, x, x, (a, b, c) => {
        const [low, middle, high] = [a, b, c].sort((p, q) => p - q) as [number, number, number];
        for (const n of [1, 2, 3] as const) {
          const whole = planckIntegral(n, low, high);
          const sum = planckIntegral(n, low, middle) + planckIntegral(n, middle, high);
          expect(Math.abs(sum - whole)).toBeLessThanOrEqual(1e-12 * Math.max(1, whole));
        }
      }),
      { seed },
    );
  });
});

describe("the share of a band", () => {
  test("goes from 0 to 1, and rises", () => {
    expect(bandFraction(0)).toBe(0);
    expect(bandFraction(Number.POSITIVE_INFINITY)).toBeCloseTo(1, 14);
    expect(photonFraction(Number.POSITIVE_INFINITY)).toBeCloseTo(1, 14);
    let before = 0;
    for (let lambdaT = 1e-4; lambdaT < 1; lambdaT *= 1.1) {
      const share = bandFraction(lambdaT);
      expect(share).toBeGreaterThanOrEqual(before);
      expect(photonFraction(lambdaT)).toBeLessThanOrEqual(share);
      before = share;
    }
  });

  test("of photons is their count over that of a face", () => {
    const [T, wavelength] = [300, 10e-6];
    const spectrum = (frequency: number) =>
      ((2 * Math.PI * frequency ** 2) / speedOfLight ** 2) * occupation(frequency, T);
    const edge = speedOfLight / wavelength;
    const counted = integrate(spectrum, edge, 20 * edge, 1e-12);
    expect(photonFraction(wavelength * T) / (counted / photonExitance(T))).toBeCloseTo(1, 9);
  });
});

describe("one mode", () => {
  test("carries photons whose mean energy lies in the band", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 300, noNaN: true }),
        fc.double({ min: 1e9, max: 1e12, noNaN: true }),
        fc.double({ min: 1.001, max: 3, noNaN: true }),
        (T, from, ratio) => {
          const to = from * ratio;
          fc.pre((planck * to) / (boltzmann * T) < 600);
          const energy = planckPower(T, from, to) / planckPhotonRate(T, from, to);
          expect(energy).toBeGreaterThanOrEqual(planck * from * (1 - 1e-9));
          expect(energy).toBeLessThanOrEqual(planck * to * (1 + 1e-9));
        },
      ),
      { seed },
    );
  });

  test("carries k_BTΔν where hν is small, and the correction's share of it where it is not", () => {
    expect(planckPower(300, 1e6, 2e6) / rayleighJeansPower(300, 1e6)).toBeCloseTo(1, 6);
    const frequency = boltzmann / planck; // x = 1 at 1 K
    const [from, to] = [frequency * 0.9999, frequency * 1.0001];
    const share = planckPower(1, from, to) / rayleighJeansPower(1, to - from);
    expect(share).toBeCloseTo(rayleighJeansCorrection(frequency, 1), 8);
    expect(rayleighJeansCorrection(0, 1)).toBe(1);
  });

  test("is dark at 0 K", () => {
    expect(planckPower(0, 1e9, 2e9)).toBe(0);
    expect(planckPhotonRate(0, 1e9, 2e9)).toBe(0);
    expect(occupation(1e9, 0)).toBe(0);
  });
});

test("a face's photons have 2.70 k_BT on the average", () => {
  // π⁴/(30 ζ(3)) = 2.70118, M. F. Modest, Radiative Heat Transfer (2013), chapter 1
  expect(exitance(77) / photonExitance(77) / (boltzmann * 77)).toBeCloseTo(2.70118, 5);
});
