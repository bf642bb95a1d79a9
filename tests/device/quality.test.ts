import { describe, expect, test } from "vitest";
import { resonator } from "../../src/device/quality.js";
import { catalogue } from "./films.js";

const film = { criticalTemperature: "1.2 K", gapRatio: 1.76387699 } as const;
const options = {
  superconductor: film,
  frequency: "5 GHz",
  kineticInductanceFraction: 0.1,
} as const;

describe("resonator", () => {
  test("loses what quasiparticles in a thin film lose: Q = σ₂/(α σ₁)", () => {
    const { quasiparticleQuality, internalQuality } = resonator(options, catalogue);
    // σ₁/σₙ = 4.643e-4 and σ₂/σₙ = 27.688 at 5 GHz and 0.2 K, integrated with another program
    expect(quasiparticleQuality(0.2) / (27.688 / (0.1 * 4.643e-4))).toBeCloseTo(1, 3);
    expect(internalQuality(0.2)).toBe(quasiparticleQuality(0.2));
  });

  test("shifts its frequency by α/2 times the change of σ₂", () => {
    const { frequencyShift } = resonator(options, catalogue);
    // σ₂/σₙ = 27.633 at 0.3 K and 27.68901 at zero
    expect(frequencyShift(0.3) / (0.05 * (27.633 / 27.68901 - 1))).toBeCloseTo(1, 1);
    expect(frequencyShift(0)).toBe(0);
    expect(frequencyShift(1.2)).toBeCloseTo(-0.05, 12);
  });

  test("shifts smoothly down to parts in 1e12", () => {
    const { frequencyShift } = resonator(options, catalogue);
    let before = 0;
    for (let T = 0.09; T < 0.6; T += 0.01) {
      const shift = frequencyShift(T);
      expect(shift, `${T} K`).toBeLessThan(before);
      before = shift;
    }
    expect(frequencyShift(0.09)).toBeGreaterThan(-1e-11);
  });

  test("adds other losses, and is limited by them in the cold", () => {
    const { internalQuality, quasiparticleQuality } = resonator(
      { ...options, otherQuality: 1e6 },
      catalogue,
    );
    expect(1 / internalQuality(0.2)).toBeCloseTo(1e-6 + 1 / quasiparticleQuality(0.2), 15);
    expect(internalQuality(0.02)).toBeCloseTo(1e6, 3);
  });

  test("loses nothing that a number can hold in the far cold, and all at T_c", () => {
    const { internalQuality } = resonator(options, catalogue);
    expect(internalQuality(0.001)).toBe(Number.POSITIVE_INFINITY);
    expect(internalQuality(1.2)).toBe(0);
  });

  test("goes from the thin to the thick film with the thickness", () => {
    const beta = (filmThickness: number) =>
      resonator({ ...options, filmThickness, penetrationDepth: 1e-7 }, catalogue).thicknessFactor;
    expect(resonator(options, catalogue).thicknessFactor).toBe(2);
    expect(beta(1e-10)).toBeCloseTo(2, 5);
    expect(beta(5e-8)).toBeCloseTo(1 + 1 / Math.sinh(1), 12);
    expect(beta(1e-6)).toBeCloseTo(1, 6);
    expect(beta(1)).toBe(1);
  });

  test("lists the numbers it was made of", () => {
    const made = resonator(
      { ...options, superconductor: "aluminium", otherQuality: 2e6 },
      catalogue,
    );
    expect(made.provenance.map(({ quantity }) => quantity)).toEqual([
      "aluminium: critical temperature",
      "aluminium: gap ratio",
      "aluminium: density of states",
      "resonator: frequency",
      "resonator: kinetic inductance fraction",
      "resonator: quality factor of other losses",
    ]);
  });

  test.each([
    [
      { frequency: "5 K" },
      'r.frequency: expected a frequency such as "5 GHz" or a number in hertz, got "5 K"',
    ],
    [
      { kineticInductanceFraction: 1.2 },
      "r.kineticInductanceFraction: expected a share of the inductance above 0, 1 at most, got 1.2",
    ],
    [
      { kineticInductanceFraction: 0 },
      "r.kineticInductanceFraction: expected a share of the inductance above 0, 1 at most, got 0",
    ],
    [{ otherQuality: 0 }, "r.otherQuality: expected a number greater than 0, got 0"],
    [
      { filmThickness: "50 nm" },
      "r.penetrationDepth: expected thickness and penetration depth of the film together, or neither, got undefined",
    ],
    [{ superconductor: "gold" }, "r.superconductor.criticalTemperature: expected a critical"],
  ])("refuses %j", (change, message) => {
    expect(() => resonator({ ...options, ...change } as never, catalogue, "r")).toThrow(message);
  });
});
