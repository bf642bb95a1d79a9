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
