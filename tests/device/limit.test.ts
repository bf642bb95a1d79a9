import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  highestTemperatureForDensity,
  highestTemperatureForQuality,
} from "../../src/device/limit.js";
import { resonator } from "../../src/device/quality.js";
import { quasiparticleDensity } from "../../src/device/quasiparticles.js";
import { aluminium, catalogue } from "./films.js";

const made = (more = {}) =>
  resonator(
    {
      superconductor: { criticalTemperature: "1.2 K", gapRatio: 1.764 },
      frequency: "5 GHz",
      kineticInductanceFraction: 0.1,
      ...more,
    },
    catalogue,
  );

describe("highestTemperatureForQuality", () => {
  test("gives the temperature whose quality it is, whatever the film", () => {
    const log = (min: number, max: number) =>
      fc.double({ min: Math.log(min), max: Math.log(max), noNaN: true }).map(Math.exp);
    fc.assert(
      fc.property(log(1e8, 3e10), log(0.001, 1), log(10, 1e9), (frequency, alpha, quality) => {
        const each = made({ frequency, kineticInductanceFraction: alpha });
        const T = highestTemperatureForQuality(each, quality);
        expect(each.internalQuality(T) / quality).toBeCloseTo(1, 6);
      }),
      { seed: 3, numRuns: 60 },
    );
  });

  test("has one answer: quality falls with temperature all the way", () => {
    for (const frequency of [1e8, 5e9, 3e10]) {
      const { internalQuality } = made({ frequency });
      let before = Number.POSITIVE_INFINITY;
      for (let T = 0.02; T < 1.2; T += 0.005) {
        const quality = internalQuality(T);
        expect(quality).toBeLessThanOrEqual(before);
        before = quality;
      }
    }
  });

  test("refuses what the other losses do not allow, and what is no quality", () => {
    const lossy = made({ otherQuality: 1e6 });
    expect(highestTemperatureForQuality(lossy, 9.9e5)).toBeGreaterThan(0.1);
    expect(() => highestTemperatureForQuality(lossy, 1e6, "limit.quality")).toThrow(
      "limit.quality: expected a quality factor below 1000000, which is what zero temperature leaves, got 1000000",
    );
    expect(() => highestTemperatureForQuality(lossy, -1)).toThrow(
      "internalQuality: expected a number greater than 0, got -1",
    );
  });
});

describe("highestTemperatureForDensity", () => {
  test("gives the temperature whose density it is", () => {
    const T = highestTemperatureForDensity(aluminium, "10 1/um^3");
    expect(quasiparticleDensity(aluminium, T)).toBeCloseTo(1e19, -7);
    expect(T).toBeGreaterThan(0.15);
    expect(T).toBeLessThan(0.2);
    expect(highestTemperatureForDensity(aluminium, 1e19)).toBe(T);
  });

  test("refuses more than the normal metal has, and what is no density", () => {
    expect(() => highestTemperatureForDensity(aluminium, "1e9 1/um^3", "limit.density")).toThrow(
      /^limit\.density: expected a density up to 4\.93\de\+6 1\/um\^3, which it has at T_c, got "1e9 1\/um\^3"$/,
    );
    expect(() => highestTemperatureForDensity(aluminium, "10 um" as never)).toThrow(
      'quasiparticleDensity: expected a density such as "10 1/um^3" or a number in 1/m^3, got "10 um" (units: 1/um^3)',
    );
  });
});
