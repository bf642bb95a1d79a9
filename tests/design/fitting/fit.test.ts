import { describe, expect, it } from "vitest";
import { ConductorFit } from "../../../src/design/fitting/conductor-fit.js";
import {
  type FitNumbers,
  fittedParameters,
  formatFitted,
  goodnessWords,
  groupOf,
  stageGroups,
} from "../../../src/design/fitting/fit.js";
import { z95 } from "../../../src/units/spread.js";

const point = (measured: number, stage: number) => ({
  place: "a.csv:2",
  thermometer: "die",
  power: 1e-9,
  stage,
  measured,
  uncertainty: 1e-3,
  fitted: measured,
  normalised: 0,
});
const covariance = [
  [0.04, 0.03],
  [0.03, 0.09],
].map((row) => Float64Array.from(row));
const parameters = fittedParameters(
  [
    { name: "coefficient", unit: "W/K^4", logarithmic: true },
    { name: "exponent", unit: "", logarithmic: false },
  ],
  [2e-4, 4],
  covariance,
);
const numbers: FitNumbers = {
  name: "by hand",
  file: "a.csv",
  parameters,
  covariance,
  chiSquared: 5,
  degreesOfFreedom: 4,
  probability: 0.29,
  points: [point(0.12, 0.1), point(0.2, 0.05)],
  curves: () => [],
  date: undefined,
};
const fit = new ConductorFit(numbers);

describe("fitted parameters", () => {
  it("have intervals of 1.645 standard uncertainties, of a logarithm as factors", () => {
    const [a, n] = parameters;
    expect(a!.uncertainty).toBeCloseTo(0.2, 12);
    expect(a!.high / a!.value).toBeCloseTo(Math.exp(z95 * 0.2), 12);
    expect(a!.low * a!.high).toBeCloseTo(a!.value ** 2, 18);
    expect([n!.low, n!.high]).toEqual([
      expect.closeTo(4 - 1.6448536 * 0.3, 6),
      expect.closeTo(4 + 1.6448536 * 0.3, 6),
    ]);
    expect(formatFitted(n!)).toBe("4.00 ± 0.30");
    expect(formatFitted({ ...n!, value: 10, logarithmic: true })).toBe("10.0 ± 3.0");
  });

  it("are found by name, with their correlation", () => {
    expect(fit.of("exponent")).toBe(parameters[1]);
    expect(fit.correlation("coefficient", "exponent")).toBeCloseTo(0.03 / (0.2 * 0.3), 12);
    expect(fit.correlation("exponent", "exponent")).toBeCloseTo(1, 12);
    expect(() => fit.of("exponents")).toThrow(
      'fit.of: expected a fitted field: coefficient, exponent, got "exponents"',
    );
  });

  it("cover what was measured, the stage included", () => {
    expect(fit.range).toEqual({ from: 0.05, to: 0.2 });
    const rows = fit.toCsv();
    expect(rows).toContain('"degrees of freedom",4');
    expect(rows).toContain('"temperature at 1e-9 W",0.12,"K",0.001');
  });
});

describe("how good a fit is", () => {
  it("is said by its probability", () => {
    expect(goodnessWords(numbers)).toBe("χ² = 5.00 for 4 degrees of freedom; p = 0.29.");
    expect(goodnessWords({ ...numbers, probability: 0.005 })).toMatch(
      /p = 0\.0050\. Model or uncertainties are wrong\.$/,
    );
    expect(goodnessWords({ ...numbers, probability: 1e-9 })).toContain("p < 1e-6");
    expect(goodnessWords({ ...numbers, probability: 0.995 })).toContain("likely stated too large");
  });

  it("is not where there is none", () => {
    const { probability: _, ...open } = numbers;
    expect(goodnessWords({ ...open, probability: undefined })).toContain("from the scatter");
    expect(goodnessWords({ ...open, probability: undefined, degreesOfFreedom: 0 })).toBe(
      "As many parameters as readings: the fit meets them whatever they say.",
    );
    expect(goodnessWords({ ...numbers, downweighted: 1 })).toBe(
      "Huber's errors: 1 reading counts for less than in full, so χ² has no probability.",
    );
  });
});

describe("stages of readings", () => {
  it("are one within 3 %, by the coldest of them, at their mean", () => {
    expect(stageGroups([0.2, 0.101, 0.1, 0.1029, 0.104])).toEqual([
      expect.closeTo(0.1013, 12),
      0.104,
      0.2,
    ]);
    expect(groupOf([0.1, 0.2], 0.139)).toBe(0.1);
    // √(0.1 · 0.2) = 0.1414 is as near to both.
    expect(groupOf([0.1, 0.2], 0.143)).toBe(0.2);
  });
});
