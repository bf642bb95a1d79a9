/** Fits of a straight line, of which everything is known in closed form. */
import { describe, expect, it } from "vitest";
import { covariancesOf, fitModel } from "../../../src/design/fitting/fit-model.js";
import type { FittedModel, Parameter } from "../../../src/design/fitting/fitted-model.js";
import { UndeterminedError } from "../../../src/design/fitting/undetermined.js";

const xs = [0, 1, 2, 3, 4, 5];
const ys = [1.1, 2.9, 5.2, 6.8, 9.1, 11];
const sigmas = [0.1, 0.2, 0.1, 0.3, 0.2, 0.1];

interface Line {
  readonly y?: readonly number[];
  readonly weighted?: boolean;
  readonly priors?: readonly Parameter["prior"][];
  /** What a line is at x; a + b x when absent. */
  readonly law?: (values: readonly number[], x: number) => number;
}
/** y = a + b x, x in the place of the power and y in that of the thermometer. */
function line({
  y = ys,
  weighted = true,
  priors = [],
  law = ([a, b], x) => a! + b! * x,
}: Line = {}) {
  let now: readonly number[] = [];
  const values = Float64Array.from(y);
  const readings = { column: "y", values };
  const model = {
    data: {
      file: "line.csv",
      power: { column: "x", values: Float64Array.from(xs.slice(0, y.length)) },
      thermometers: new Map(),
      places: y.map((_, k) => `line.csv:${k + 2}`),
    },
    parameters: ["a", "b"].map((name, j) => ({
      name,
      logarithmic: false,
      start: 1,
      scale: () => 10,
      ...(priors[j] && { prior: priors[j] }),
    })),
    thermometers: [{ name: "y", readings }],
    weighted,
    precision: { tolerance: 1e-12, reach: 1, damping: [1e-3, 1e-3], unmoved: 1e-4 },
    set(next: readonly number[]) {
      now = next;
      return true;
    },
    stageAt: () => undefined,
    predict: () => undefined,
    deviations: (k: number) => [y[k]! - law(now, xs[k]!)],
    influences: (k: number) => [{ uncertainty: sigmas[k]!, slopes: [1] }],
  };
  return model as unknown as FittedModel;
}
const refusal = ({ together }: { readonly together: readonly string[] }) =>
  new UndeterminedError("fit: open.", together, "Measure more.");

/** Weighted sums and the line that they give (any textbook on regression). */
function regression(weights: readonly number[], y = ys) {
  const sum = (of: (k: number) => number) => weights.reduce((total, w, k) => total + w * of(k), 0);
  const [S, Sx, Sy] = [sum(() => 1), sum((k) => xs[k]!), sum((k) => y[k]!)];
  const [Sxx, Sxy] = [sum((k) => xs[k]! ** 2), sum((k) => xs[k]! * y[k]!)];
  const D = S * Sxx - Sx ** 2;
  const [a, b] = [(Sxx * Sy - Sx * Sxy) / D, (S * Sxy - Sx * Sy) / D];
  const chi = sum((k) => (y[k]! - a - b * xs[k]!) ** 2);
  return { a, b, chi, covariance: [Sxx / D, -Sx / D, -Sx / D, S / D] };
}

describe("a fit of least squares", () => {
  it("of a line has the values, covariance and χ² of weighted regression", () => {
    const found = fitModel(line(), refusal);
    const wanted = regression(sigmas.map((s) => s ** -2));
    expect(found.values[0]!).toBeCloseTo(wanted.a, 9);
    expect(found.values[1]!).toBeCloseTo(wanted.b, 9);
    found.covariance
      .flatMap((row) => [...row])
      .forEach((value, k) => {
        expect(value / wanted.covariance[k]!).toBeCloseTo(1, 6);
      });
    expect(found.chiSquared).toBeCloseTo(wanted.chi, 8);
    expect([found.degreesOfFreedom, found.variance]).toEqual([4, 1]);
  });

  it("takes uncertainties from the scatter where the data state none", () => {
    const found = fitModel(line({ weighted: false }), refusal);
    const { a, chi, covariance } = regression(ys.map(() => 1));
    expect(found.values[0]!).toBeCloseTo(a, 9);
    expect(found.variance).toBeCloseTo(chi / 4, 9);
    expect(found.covariance[0]![0]! / (covariance[0]! * (chi / 4))).toBeCloseTo(1, 6);
  });

  it("counts what was known before as a reading", () => {
    const prior = { value: 3, uncertainty: 1e-6 };
    const found = fitModel(line({ priors: [undefined, prior] }), refusal);
    // The slope is known, so a is the weighted mean of y − 3x.
    const weights = sigmas.map((s) => s ** -2);
    const whole = weights.reduce((sum, w) => sum + w, 0);
    const mean = weights.reduce((sum, w, k) => sum + w * (ys[k]! - 3 * xs[k]!), 0) / whole;
    expect(found.values[1]!).toBeCloseTo(3, 6);
    expect(found.values[0]!).toBeCloseTo(mean, 5);
    expect(found.covariance[0]![0]! * whole).toBeCloseTo(1, 5);
    expect(found.degreesOfFreedom).toBe(5);
  });

  it("bears a glitch with Huber's errors, and counts it for less", () => {
    const glitch = ys.map((y, k) => (k === 4 ? y + 10 : y));
    const plain = fitModel(line({ y: glitch, weighted: false }), refusal);
    const robust = fitModel(line({ y: glitch, weighted: false }), refusal, { errors: "huber" });
    const { b } = regression(ys.map((_, k) => (k === 4 ? 0 : 1)));
    expect(robust.downweighted).toBeGreaterThanOrEqual(1);
    expect(Math.abs(robust.values[1]! - b)).toBeLessThan(0.2);
    expect(Math.abs(plain.values[1]! - b)).toBeGreaterThan(0.5);
    expect(plain.downweighted).toBeUndefined();
  });

  it("is refused for fewer readings than parameters, and for those that no reading tells apart", () => {
    expect(() => fitModel(line({ y: [1] }), refusal)).toThrow(
      "line.csv: expected at least 2 readings for 2 parameters, got 1",
    );
    const same = line({ law: ([a, b], x) => (a! + b!) * x });
    expect(() => fitModel(same, refusal)).toThrow(
      expect.objectContaining({ together: ["a", "b"], advice: "Measure more." }),
    );
    const blind = line({ law: ([, b], x) => b! * x });
    expect(() => fitModel(blind, refusal)).toThrow(expect.objectContaining({ together: ["a"] }));
  });

  it("refuses priors of which one follows from the other", () => {
    const prior = { value: 1, uncertainty: 0.5 };
    const matrix = [Float64Array.of(1, 1), Float64Array.of(1, 1)];
    const correlated = { names: ["a", "b"], matrix };
    expect(() => fitModel(line({ priors: [prior, prior] }), refusal, { correlated })).toThrow(
      "inputs: expected inputs that do not follow from each other (a correlation of 1 or -1)",
    );
  });
});

it("covariances of a line are those of its sources, 1 where none is stated", () => {
  expect(covariancesOf(line(), [0, 0])[3]).toEqual([[expect.closeTo(0.09, 12)]]);
  expect(covariancesOf(line({ weighted: false }), [0, 0])[3]).toEqual([[1]]);
});
