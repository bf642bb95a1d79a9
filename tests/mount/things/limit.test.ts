import { describe, expect, it } from "vitest";
import { readMount } from "../../../src/mount/read.js";
import { type Limit, limitOf } from "../../../src/mount/things/limit.js";
import {
  catalogue,
  dieModels,
  itReads,
  modelOf,
  number,
  smallest,
  telling,
  temperature,
} from "./smallest.js";

const by = (limit: Limit) => smallest({ limit });
const highest = (limit: Limit, stage = 0.1) => limitOf(readMount(by(limit)), catalogue)!(stage);
const resonator = {
  superconductor: "aluminium",
  frequency: "5 GHz",
  kineticInductanceFraction: 0.1,
} as const;

describe("a limit", () => {
  itReads(by({ rise: 0.01 }), "limit", { rise: telling(temperature) });
  itReads(by({ temperature: 0.2 }), "limit", { temperature: telling(temperature) });
  itReads(by({ quality: 1e5, resonator }), "limit", {
    quality: telling(number("a number greater than 0", 1e5, 0, -1)),
    resonator: undefined,
  });
  itReads(by({ quasiparticleDensity: "10 1/um^3", superconductor: "aluminium" }), "limit", {
    quasiparticleDensity: undefined,
    superconductor: undefined,
  });

  it("lies above the stage, and has one form", () => {
    expect(() => readMount(by({ temperature: 0.1 }))).toThrow(
      "limit.temperature: expected above the stage, 100 mK, got 0.1 (100 mK)",
    );
    expect(() => readMount(by({ temperature: 0.2, rise: 0.1 }))).toThrow(
      "limit: expected only one of rise, temperature, quality, quasiparticleDensity, got",
    );
  });

  it("is a rise above the stage, or a temperature whatever the stage", () => {
    expect(highest({ rise: "10 mK" }, 0.2)).toBeCloseTo(0.21, 14);
    expect(highest({ temperature: "0.3 K" }, 0.2)).toBe(0.3);
    expect(limitOf(readMount(smallest()), catalogue)).toBeUndefined();
  });

  it("is the temperature that leaves a density: n = 2N₀√(2πk_BTΔ) exp(−Δ/k_BT) grows with it", () => {
    const at = (density: `${number} 1/um^3`) =>
      highest({ quasiparticleDensity: density, superconductor: "aluminium" });
    // Δ of aluminium about 0.18 meV = 2.1 K: from T₁ to T₂ the logarithm of n/√T falls by Δ (1/T₁ − 1/T₂).
    const [cold, warm] = [at("1 1/um^3"), at("100 1/um^3")];
    const gap = (Math.log(100) - 0.5 * Math.log(warm / cold)) / (1 / cold - 1 / warm);
    expect(gap).toBeGreaterThan(1.9);
    expect(gap).toBeLessThan(2.3);
  });

  it("allows less where more quality is wanted", () => {
    expect(highest({ quality: 1e6, resonator })).toBeLessThan(highest({ quality: 1e5, resonator }));
  });

  it.each(dieModels)("changes no temperature, on a die with model %s", (die) => {
    const free = modelOf(smallest(), die).point();
    expect(modelOf(by({ rise: 1e-6 }), die).point().chip).toBe(free.chip);
  });
});
