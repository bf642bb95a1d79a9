import { describe, expect, test } from "vitest";
import { energyGap, overQuasiparticles, superconductor } from "../../src/device/superconductor.js";
import { gap } from "../../src/materials/superconductor.js";
import { aluminium, catalogue } from "./films.js";

describe("superconductor", () => {
  test.each(["aluminium", "tantalum", "niobium", "titanium-nitride"])(
    "%s comes from the catalogue with the source of each number",
    (name) => {
      const film = superconductor(name, catalogue);
      expect(film.name).toBe(name);
      expect(film.provenance.map(({ quantity }) => quantity)).toEqual([
        `${name}: critical temperature`,
        `${name}: gap ratio`,
        `${name}: density of states`,
      ]);
      expect(film.provenance.every(({ source }) => source !== "given")).toBe(true);
      expect(film.densityOfStates).toBeGreaterThan(1e46);
    },
  );

  test("takes a given number before the catalogue's", () => {
    const film = superconductor({ material: "aluminium", criticalTemperature: "1.3 K" }, catalogue);
    expect(film.criticalTemperature).toBe(1.3);
    expect(film.gapRatio).toBe(1.764);
    expect(film.provenance[0]).toMatchObject({ source: "given", value: 1.3, unit: "K" });
  });

  test("falls back on weak coupling, and says so", () => {
    const film = superconductor({ criticalTemperature: 0.9 }, catalogue, "film");
    expect(film.gapRatio).toBeCloseTo(1.764, 3);
    expect(film.provenance[1]!.quantity).toBe("film: gap ratio of weak coupling");
    expect(film).not.toHaveProperty("densityOfStates");
  });

  test.each([
    [
      {},
      "film.criticalTemperature: expected a critical temperature, or a material of the catalogue, got undefined",
    ],
    [
      { material: "gold" },
      "film.criticalTemperature: expected a critical temperature, since the catalogue has none for gold, got undefined",
    ],
    [
      { material: "aluminium", sample: "sputtered" },
      'film.sample: sample "sputtered" is not known. Known: ',
    ],
    [{ material: "aluminum" }, 'film.material: material "aluminum" is not known, did you mean'],
    [
      { criticalTemperature: "-1 K" },
      'film.criticalTemperature: expected a temperature such as "100 mK" or a number in kelvin, greater than 0, got "-1 K"',
    ],
    [
      { criticalTemperature: 1, gapRatio: 3.5 },
      "film.gapRatio: expected a ratio Delta(0)/(k_B T_c) from 1 to 3, such as 1.764, got 3.5",
    ],
    [
      { criticalTemperature: 1, densityOfStates: "1.72e10" },
      'film.densityOfStates: expected a density of states such as "1.72e10 1/(eV um^3)" or a number in 1/(J m^3), got "1.72e10" (units: 1/(eV um^3))',
    ],
  ])("refuses %j", (options, message) => {
    expect(() => superconductor(options as never, catalogue, "film")).toThrow(message);
  });
});

describe("energyGap", () => {
  test("is that of weak coupling at every temperature, to the digits of the series", () => {
    const full = energyGap(aluminium, 0);
    for (let t = 0.06; t < 1; t += 0.02) {
      const share = energyGap(aluminium, 1.2 * t) / full;
      expect(Math.abs(share - gap(t)), `t = ${t}`).toBeLessThan(2e-9);
    }
    expect(energyGap(aluminium, 1.2)).toBe(0);
    expect(energyGap(aluminium, 2)).toBe(0);
  });

  test("falls smoothly, by less than rounding shows, far below the critical temperature", () => {
    const full = energyGap(aluminium, 0);
    let before = 0;
    for (let t = 0.08; t < 0.4; t += 0.004) {
      const fallen = 1 - energyGap(aluminium, 1.2 * t) / full;
      // BCS: √(2π k_B T/Δ) e^(−Δ/k_B T), low by a term of k_B T/8Δ
      const y = 1.76387699 / t;
      const closed = Math.sqrt((2 * Math.PI) / y) * Math.exp(-y);
      expect(fallen).toBeGreaterThanOrEqual(before);
      if (t > 0.085 && t < 0.2) expect(fallen / closed).toBeCloseTo(1 - 1 / (8 * y), 2);
      before = fallen;
    }
  });
});

test("overQuasiparticles sums to Bessel functions: Σ (−1)ⁿ⁺¹ K₁(n y) for the energy", () => {
  // K₁(1) = 0.6019072302, K₁(2) = 0.1398658818, K₁(3) = 0.0401564311, K₁(4) = 0.0124834989,
  // K₁(5) = 0.0040446134 (Abramowitz & Stegun, tables 9.8 and 9.11), the rest below 1.4e-3
  const start = 0.6019072302 - 0.1398658818 + 0.0401564311 - 0.0124834989 + 0.0040446134;
  expect(Math.abs(overQuasiparticles(1, (e) => e) - start)).toBeLessThan(1.4e-3);
  // At y = 5: K₁(5) − K₁(10) + K₁(15) − K₁(20)
  const cold = 0.0040446134 - 1.864877e-5 + 1.0141e-7 - 5.883e-10;
  expect(overQuasiparticles(5, (e) => e)).toBeCloseTo(cold, 9);
  expect(overQuasiparticles(1000, (e) => e)).toBe(0);
});
