import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { quasiparticleDensity } from "../../src/device/quasiparticles.js";
import { energyGap, superconductor } from "../../src/device/superconductor.js";
import { integrate } from "../../src/numerics/quadrature.js";
import { boltzmann } from "../../src/units/constants.js";
import { aluminium, catalogue } from "./films.js";
import { quasiparticleDensityWellBelow } from "./well-below.js";

describe("quasiparticleDensity", () => {
  test("agrees with another integral, in √(E² − Δ²) by adaptive quadrature", () => {
    for (const T of [0.08, 0.2, 0.5, 0.9, 1.15, 1.1999]) {
      const [kT, gap] = [boltzmann * T, energyGap(aluminium, T)];
      // x = √(E² − Δ²)/kT: dE E/√(E² − Δ²) = dx
      const f = (x: number) => 1 / (1 + Math.exp(Math.hypot(x, gap / kT)));
      const direct = 4 * aluminium.densityOfStates! * kT * integrate(f, 0, 60, 1e-12);
      expect(quasiparticleDensity(aluminium, T) / direct, `${T} K`).toBeCloseTo(1, 9);
    }
  });

  test("rises with temperature through T_c, where it becomes that of the normal metal", () => {
    const temperature = fc.double({ min: 0.01, max: 1.5, noNaN: true });
    fc.assert(
      fc.property(temperature, temperature, (a, b) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        expect(quasiparticleDensity(aluminium, high)).toBeGreaterThanOrEqual(
          quasiparticleDensity(aluminium, low),
        );
      }),
      { seed: 7 },
    );
    const normal = 4 * aluminium.densityOfStates! * boltzmann * 1.2 * Math.LN2;
    expect(quasiparticleDensity(aluminium, 1.2) / normal).toBeCloseTo(1, 12);
    expect(quasiparticleDensity(aluminium, 1.2 * (1 - 1e-9)) / normal).toBeCloseTo(1, 3);
  });

  test("is approached by the closed form from above, by 3 kT/8Δ", () => {
    for (const T of [0.03, 0.06, 0.1]) {
      const excess =
        quasiparticleDensity(aluminium, T) / quasiparticleDensityWellBelow(aluminium, T) - 1;
      const expected = (3 / 8) * ((boltzmann * T) / energyGap(aluminium, 0));
      expect(excess / expected).toBeGreaterThan(0.9);
      expect(excess / expected).toBeLessThan(1.1);
    }
  });

  test("is nothing at zero, and where no number can hold it", () => {
    expect(quasiparticleDensity(aluminium, 0)).toBe(0);
    expect(quasiparticleDensityWellBelow(aluminium, 0)).toBe(0);
    expect(quasiparticleDensity(aluminium, 1e-3)).toBe(0);
  });

  test("refuses temperatures below zero and a film without a density of states", () => {
    expect(() => quasiparticleDensity(aluminium, -0.1)).toThrow(
      "quasiparticleDensity: expected a temperature from 0 K, got -0.1",
    );
    const bare = superconductor({ criticalTemperature: 1 }, catalogue, "film");
    expect(() => quasiparticleDensity(bare, 0.1)).toThrow(
      'film.densityOfStates: expected a density of states such as "1.72e10 1/(eV um^3)", to count quasiparticles, got undefined',
    );
  });
});
