/** Least squares against certified values of published problems, from both of their starts. */
import { afterAll, describe, expect, it } from "vitest";
import { determination } from "../../src/numerics/jacobian.js";
import { leastSquares } from "../../src/numerics/least-squares.js";
import { strdProblems } from "./strd.js";

const problems = strdProblems();
const cases = problems.flatMap((problem) =>
  problem.starts.map((start, i) => ({
    title: `${problem.name} from start ${i + 1}`,
    problem,
    start,
  })),
);

/** Digits that agree, of the eleven that are certified. */
function digits(value: number, certified: number): number {
  const error = Math.abs(value / certified - 1);
  return error === 0 ? 11 : Math.min(11, -Math.log10(error));
}

describe("the problems of nonlinear regression", () => {
  it("are copied without a slip: the certified parameters give the certified sum of squares", () => {
    expect(problems).toHaveLength(9);
    for (const { name, x, y, certified, sumOfSquares, model } of problems) {
      const sum = x.reduce((total, at, i) => total + (y[i]! - model(certified, at)) ** 2, 0);
      expect(digits(sum, sumOfSquares), name).toBeGreaterThan(9);
    }
  });

  const reached: string[] = [];
  it.each(cases)("$title", ({ title, problem, start }) => {
    const { x, y, certified, deviations, sumOfSquares, model } = problem;
    const fit = leastSquares({
      count: x.length,
      start,
      residuals(b, into) {
        for (let i = 0; i < into.length; i++) into[i] = y[i]! - model(b, x[i]!);
        return true;
      },
    });
    const variance = fit.sumOfSquares / (x.length - start.length);
    const { covariance } = determination(fit.jacobian);
    const values = Math.min(...certified.map((b, j) => digits(fit.parameters[j]!, b)));
    const spreads = Math.min(
      ...deviations.map((d, j) => digits(Math.sqrt(variance * covariance[j]![j]!), d)),
    );
    const sum = digits(fit.sumOfSquares, sumOfSquares);
    reached.push(
      `${title}: ${values.toFixed(1)} digits of the values, ${spreads.toFixed(1)} of the standard ` +
        `deviations, ${sum.toFixed(1)} of the sum, ${fit.steps} steps`,
    );
    expect(values, "digits of the parameters").toBeGreaterThan(7.5);
    expect(spreads, "digits of the standard deviations").toBeGreaterThan(7);
    expect(sum, "digits of the sum of squares").toBeGreaterThan(10);
  });

  afterAll(() => console.log(reached.join("\n")));
});

/**
 * Longley's employment figures of 1967, whose columns nearly follow from each other: the linear regression of
 * the same collection (NIST/ITL, Statistical Reference Datasets, Linear Regression: Longley). Data and
 * certified values from memory; that the ones give the others to nine digits guards both against slips.
 */
const longley = {
  y: [
    60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513, 68655,
    69564, 69331, 70551,
  ],
  x: [
    [
      83, 88.5, 88.2, 89.5, 96.2, 98.1, 99, 100, 101.2, 104.6, 108.4, 110.8, 112.6, 114.2, 115.7,
      116.9,
    ],
    [
      234289, 259426, 258054, 284599, 328975, 346999, 365385, 363112, 397469, 419180, 442769,
      444546, 482704, 502601, 518173, 554894,
    ],
    [
      2356, 2325, 3682, 3351, 2099, 1932, 1870, 3578, 2904, 2822, 2936, 4681, 3813, 3931, 4806,
      4007,
    ],
    [
      1590, 1456, 1616, 1650, 3099, 3594, 3547, 3350, 3048, 2857, 2798, 2637, 2552, 2514, 2572,
      2827,
    ],
    [
      107608, 108632, 109773, 110929, 112075, 113270, 115094, 116219, 117388, 118734, 120445,
      121950, 123366, 125368, 127852, 130081,
    ],
    Array.from({ length: 16 }, (_, i) => 1947 + i),
  ],
  certified: [
    [-3482258.63459582, 890420.383607373],
    [15.0618722713733, 84.9149257747669],
    [-0.035819179292591, 0.0334910077722432],
    [-2.02022980381683, 0.488399681651699],
    [-1.03322686717359, 0.214274163161675],
    [-0.0511041056535807, 0.22607320006937],
    [1829.15146461355, 455.478499142212],
  ],
} as const;

describe("a regression whose parameters are strongly correlated", () => {
  it("gives Longley's certified values and standard deviations", () => {
    const { x, y, certified } = longley;
    const fit = leastSquares({
      count: y.length,
      start: certified.map(
        ([value]) => Math.sign(value) * 10 ** Math.round(Math.log10(Math.abs(value))),
      ),
      residuals(b, into) {
        for (let i = 0; i < into.length; i++) {
          into[i] = y[i]! - b[0]! - x.reduce((sum, column, j) => sum + b[j + 1]! * column[i]!, 0);
        }
        return true;
      },
    });
    const variance = fit.sumOfSquares / (y.length - certified.length);
    const { covariance } = determination(fit.jacobian);
    certified.forEach(([value, deviation], j) => {
      expect(digits(fit.parameters[j]!, value), `B${j}`).toBeGreaterThan(6);
      const found = Math.sqrt(variance * covariance[j]![j]!);
      expect(digits(found, deviation), `B${j}: standard deviation`).toBeGreaterThan(6);
    });
    // Certified: residual standard deviation.
    expect(digits(Math.sqrt(variance), 304.854073561965)).toBeGreaterThan(9);
    // Constant and year all but follow from each other.
    const r = covariance[0]![6]! / Math.sqrt(covariance[0]![0]! * covariance[6]![6]!);
    expect(r).toBeLessThan(-0.999);
  });
});
