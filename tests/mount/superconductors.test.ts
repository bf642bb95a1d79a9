/**
 * Mounts with superconductors so cold that their electrons hold and carry no heat: below T_c/500 both are
 * smaller than any number (Bardeen, Cooper & Schrieffer, Phys. Rev. 108, 1175 (1957): e^(−1.76 T_c/T)).
 */
import { describe, expect, it } from "vitest";
import { heatPulse, type Mount, thermalBudget } from "../../src/index.js";
import { storesOf } from "../../src/network/initial-state.js";
import { quickMount } from "./example.js";

const { pads, bonds, ...bare } = quickMount();
const coupling = { coefficient: 2e9, exponent: 5 };
const backed = (material: string, stage: number): Mount => ({
  ...bare,
  stage,
  back: {
    film: { material, thickness: "1 um", residualResistivityRatio: 5, coupling },
    joint: { faces: "gold-plated copper on gold-plated copper", force: "50 N" },
  },
  loads: [{ kind: "given", power: "1 pW" }],
});
const boxed = (material: string, stage: number): Mount => ({
  ...quickMount(),
  stage,
  box: { ...quickMount().box, material },
  loads: [{ kind: "given", power: "1 pW" }],
});

describe("a pulse on a mount with a superconductor", () => {
  it.each([
    ["niobium", 0.02],
    ["niobium", 1e-3],
    ["tantalum", 0.02],
    ["aluminium", 0.01],
  ] as const)(
    "back of %s at %d K ends, loses no heat, and is that of a back of gold",
    (metal, stage) => {
      const { solution } = heatPulse(backed(metal, stage), { energy: "150 keV" }).course;
      expect(solution.status).toBe("finished");
      expect(solution.steps + solution.rejected).toBeLessThan(2000);
      expect(Math.abs(solution.energy.imbalance)).toBeLessThan(1e-7);
      // The die, which stores most, is as warm at once as beside gold; later its electrons take some.
      const gold = heatPulse(backed("gold", stage), { energy: "150 keV" });
      const own = heatPulse(backed(metal, stage), { energy: "150 keV" });
      expect(own.chip.height / gold.chip.height).toBeCloseTo(1, 1);
    },
  );

  it.each(["niobium", "aluminium"])("box of %s has numbers at 1 to 20 mK", (metal) => {
    for (const mK of [1, 2, 5, 10, 12, 20]) {
      const pulse = heatPulse(boxed(metal, mK * 1e-3), { energy: "150 keV" });
      expect(pulse.course.solution.status).toBe("finished");
      expect(pulse.chip.height).toBeGreaterThan(0);
      expect(thermalBudget(boxed(metal, mK * 1e-3)).solution.imbalance.relative).toBeLessThan(1e-9);
    }
  });
});

describe("a heat store that holds next to nothing", () => {
  const nodes = (exponent: number) => [
    { name: "stage", temperature: 0.01 },
    { name: "die", store: law((T) => 1e-9 * T ** 4) },
    { name: "film", store: law((T) => 1e-12 * T ** exponent) },
  ];
  const law = (enthalpy: (T: number) => number) => ({
    enthalpy,
    heatCapacity: (T: number) => (enthalpy(1.001 * T) - enthalpy(0.999 * T)) / (0.002 * T),
  });
  const slopes = (exponent: number) =>
    storesOf({ nodes: nodes(exponent), links: [] }, ["die", "film"]).map((s) => s!.slope(0.01));

  it("is given 1e-20 of the largest, and others are left alone", () => {
    const [die, film] = slopes(60);
    expect(die! / 4e-15).toBeCloseTo(1, 4);
    expect(film! / (1e-20 * die!)).toBeCloseTo(1, 4);
    expect(slopes(4)[1]! / 4e-18).toBeCloseTo(1, 4);
  });
});
