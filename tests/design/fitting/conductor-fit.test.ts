import { describe, expect, it } from "vitest";
import { ConductorFit } from "../../../src/design/fitting/conductor-fit.js";
import { fittedParameters } from "../../../src/design/fitting/fit.js";
import { z95 } from "../../../src/units/spread.js";

/** P = 2e-4 (T₁⁴ − T₂⁴), ln a and n with these variances and this covariance. */
const [a, n, vA, vN, c] = [2e-4, 4, 0.05, 0.01, 0.02];
const covariance = [
  [vA, c],
  [c, vN],
].map((row) => Float64Array.from(row));
const names = [
  { name: "coefficient", unit: "W/K^4", logarithmic: true },
  { name: "exponent", unit: "", logarithmic: false },
];
const fit = new ConductorFit({
  name: "link",
  file: "link.csv",
  parameters: fittedParameters(names, [a, n], covariance),
  covariance,
  chiSquared: 3,
  degreesOfFreedom: 3,
  probability: 0.4,
  points: [0.1, 0.3].map((measured) => ({
    place: "link.csv:2",
    thermometer: "die",
    power: 1e-9,
    stage: 0.05,
    measured,
    uncertainty: 0,
    fitted: measured,
    normalised: 0,
  })),
  curves: () => [],
  date: "2026-11-30",
});
/** Variance of ln G at a temperature, from δ ln G = δ ln a + (1/n + ln T) δn. */
const variance = (T: number) => {
  const slope = 1 / n + Math.log(T);
  return vA + 2 * c * slope + vN * slope ** 2;
};

describe("a fitted conductor", () => {
  it("is known best at its pivot, where G does not vary with n", () => {
    const { at, conductance, uncertainty } = fit.pivot;
    // cov(ln G, n) = c + vN (1/n + ln T) = 0
    expect(c + vN * (1 / n + Math.log(at))).toBeCloseTo(0, 15);
    expect(conductance / (a * n * at ** (n - 1))).toBeCloseTo(1, 12);
    expect(uncertainty).toBeCloseTo(Math.sqrt(variance(at)), 12);
    for (const T of [0.5 * at, 0.99 * at, 1.01 * at, 2 * at])
      expect(Math.sqrt(variance(T))).toBeGreaterThan(uncertainty);
  });

  it("carries heat by its law, within what was measured", () => {
    expect(fit.heat(0.3, 0.1)).toBeCloseTo(a * (0.3 ** n - 0.1 ** n), 18);
    expect(fit.conductor.ranges).toEqual([
      { from: 0.05, to: 0.3, of: "link, as measured", outside: "warn" },
    ]);
    expect(fit.conductor.provenance!.map(({ source }) => source)).toEqual(
      Array(2).fill("measured, 2026-11-30"),
    );
  });

  it("is a joint at its pivot, with the spreads of G and of the exponent of G", () => {
    const { conductance, at, exponent } = fit.joint;
    const factor = Math.exp(z95 * fit.pivot.uncertainty);
    expect(at).toBe(fit.pivot.at);
    expect(conductance.low * factor).toBeCloseTo(fit.pivot.conductance, 15);
    expect(conductance.high / factor).toBeCloseTo(fit.pivot.conductance, 15);
    expect((exponent.low + exponent.high) / 2).toBeCloseTo(n - 1, 12);
  });

  it("is saved at 1 K: the part of each of several joints, or a material by length over area", () => {
    const row = (csv: string, parameter: string) =>
      csv
        .split("\n")
        .find((line) => line.includes(`${parameter}`))!
        .split(",");
    const joint = fit.toJointCsv({ faces: "a on b", force: "2 kN", count: 4 }).csv;
    expect(row(joint, "conductance")).toContain(String((a * n) / 4));
    const wide = `x${Number(Math.exp(z95 * Math.sqrt(variance(1))).toPrecision(6))}`;
    expect(row(joint, "conductance")).toContain(wide);
    expect(row(joint, "reference_force")).toContain("2000");
    const rod = fit.toMaterialCsv({ length: "10 mm", area: "2 mm^2" }).csv;
    expect(row(rod, ",coefficient")).toContain(String(Number((a * n * 5000).toPrecision(12))));
    expect(row(rod, ",exponent")).toContain("3");
    expect(() => fit.toJointCsv({ faces: "a on b", force: 0 })).toThrow("force: expected");
    expect(() => fit.toMaterialCsv({ length: "10 mm", area: "-1 mm^2" })).toThrow("area: expected");
    expect(() => fit.toMaterialCsv({ length: 1, area: 1, date: "30.11.2026" })).toThrow(
      'date: expected a date such as "2026-03-14", got "30.11.2026"',
    );
  });
});
