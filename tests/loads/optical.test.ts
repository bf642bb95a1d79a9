import { describe, expect, test } from "vitest";
import { optical } from "../../src/loads/optical.js";
import { planckPower, rayleighJeansPower } from "../../src/loads/planck.js";
import { integrate } from "../../src/numerics/quadrature.js";
import { boltzmann, planck } from "../../src/units/constants.js";

describe("optical", () => {
  test("counts photons of about hν each, by either law, where the band begins above 0 Hz", () => {
    const band = { pixels: 10, temperature: "4 K", from: "90 GHz", to: "92 GHz" } as const;
    for (const law of ["planck", "rayleigh-jeans"] as const) {
      const load = optical({ ...band, law });
      expect(load.power / load.photonRate / (planck * 91e9)).toBeCloseTo(1, 3);
      expect(load.photonRatePerPixel / load.photonRate).toBeCloseTo(0.1, 12);
    }
    expect(optical({ ...band, from: 0 }).photonRate).toBe(0);
    expect(optical({ pixels: 1, powerPerPixel: "1 pW" }).photonRate).toBe(0);
  });

  test("is pixels times the absorbed power", () => {
    const load = optical({ pixels: 1000, powerPerPixel: "8 pW" });
    expect(load.power).toBeCloseTo(8e-9, 18);
    expect(load.provenance).toHaveLength(2);
    expect(optical({ pixels: 1, powerPerPixel: 0 }).power).toBe(0);
  });

  test("is modes times efficiency times the power of a mode", () => {
    const band = { pixels: 10, temperature: "30 K", from: "120 GHz", to: "180 GHz" } as const;
    const mode = planckPower(30, 120e9, 180e9);
    expect(optical({ ...band, modes: 2, efficiency: 0.3 }).power / (6 * mode)).toBeCloseTo(1, 12);
    const classical = optical({ ...band, law: "rayleigh-jeans" });
    expect(classical.power / (10 * boltzmann * 30 * 60e9)).toBeCloseTo(1, 9);
    expect(classical.provenance[1]!.note).toBe("rayleigh-jeans");
  });

  const band = { pixels: 1, temperature: 30, from: 1e11, to: 2e11 };
  test.each([
    [{ pixels: 0.5 }, "sky.pixels: expected a whole number of at least 1, got 0.5"],
    [{ temperature: 0 }, 'sky.temperature: expected a temperature such as "100 mK"'],
    [{ to: 1e11 }, 'sky.to: expected a frequency above the lower edge (100 GHz), got "100 GHz"'],
    [
      { from: "1 m" },
      'sky.from: expected a frequency such as "5 GHz" or a number in hertz, got "1 m"',
    ],
    [{ modes: 0 }, "sky.modes: expected a number greater than 0, got 0"],
    [{ efficiency: 2 }, "sky.efficiency: expected a number from 0 to 1, got 2"],
    [{ law: "wien" }, 'sky.law: expected "planck" or "rayleigh-jeans", got "wien"'],
  ])("refuses %j", (change, message) => {
    expect(() => optical({ ...band, ...change } as never, "sky")).toThrow(message);
  });

  test("refuses a negative power", () => {
    expect(() => optical({ pixels: 1, powerPerPixel: -1 }, "sky")).toThrow(
      'sky.powerPerPixel: expected a power such as "8 pW" or a number in watts, 0 or more, got -1',
    );
  });
});

describe("planckPower", () => {
  const integrand = (T: number) => (f: number) =>
    (planck * f) / Math.expm1((planck * f) / (boltzmann * T));

  test.each([
    [300, 1e9, 2e9],
    [2.725, 120e9, 180e9],
    [4, 50e9, 120e9],
    [30, 0.6e12, 0.65e12],
    [0.1, 60e9, 100e9],
    [1, 0, 1e12],
  ])("agrees with quadrature at %s K from %s to %s Hz", (T, from, to) => {
    const start = from === 0 ? 1 : from;
    expect(planckPower(T, from, to) / integrate(integrand(T), start, to)).toBeCloseTo(1, 8);
  });

  test("falls below the Rayleigh-Jeans power, by hν/2k_BT where that is small", () => {
    const x = (planck * 1.5e9) / (boltzmann * 10);
    const ratio = planckPower(10, 1e9, 2e9) / rayleighJeansPower(10, 1e9);
    expect(ratio).toBeCloseTo(1 - x / 2, 5);
  });

  test("of two bands side by side is that of both together", () => {
    const [a, b, c] = [
      planckPower(4, 0, 50e9),
      planckPower(4, 50e9, 3e11),
      planckPower(4, 0, 3e11),
    ];
    expect((a + b) / c).toBeCloseTo(1, 12);
  });
});
