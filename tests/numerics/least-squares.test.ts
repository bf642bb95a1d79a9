import { describe, expect, it } from "vitest";
import { determination, type LeastSquares } from "../../src/numerics/jacobian.js";
import { leastSquares } from "../../src/numerics/least-squares.js";

/** y = b₀ + b₁x through points. */
const line = (start: number[], xs = [0, 1, 2, 3], ys = [1, 3, 5, 8]): LeastSquares => ({
  count: xs.length,
  start,
  residuals(b, into) {
    xs.forEach((x, i) => {
      into[i] = ys[i]! - (b[0]! + b[1]! * x);
    });
    return true;
  },
});

describe("least squares", () => {
  it("finds the straight line through points, with its textbook covariance", () => {
    // Normal equations by hand: Σx = 6, Σx² = 14, Σy = 17, Σxy = 37; b₁ = 2.3, b₀ = 0.8.
    const fit = leastSquares(line([10, -4]));
    expect(fit.parameters[0]).toBeCloseTo(0.8, 12);
    expect(fit.parameters[1]).toBeCloseTo(2.3, 12);
    expect(fit.sumOfSquares).toBeCloseTo(0.3, 12);
    const { covariance } = determination(fit.jacobian);
    expect(covariance[0]![0]).toBeCloseTo(14 / 20, 9);
    expect(covariance[1]![1]).toBeCloseTo(4 / 20, 9);
    expect(covariance[0]![1]).toBeCloseTo(-6 / 20, 9);
  });

  it("ends where the data are met exactly", () => {
    const fit = leastSquares(line([0, 0], [0, 1, 2], [1, 3, 5]));
    expect(fit.parameters[0]).toBeCloseTo(1, 12);
    expect(fit.parameters[1]).toBeCloseTo(2, 12);
  });

  it("keeps out of where the model is not defined", () => {
    const fit = leastSquares({
      count: 3,
      start: [5],
      residuals([b], into) {
        if (!(b! > 0)) return false;
        [1, 2, 3].forEach((x, i) => {
          into[i] = Math.log(b! * x) - Math.log(1e-3 * x);
        });
        return true;
      },
    });
    expect(fit.parameters[0]! / 1e-3).toBeCloseTo(1, 9);
  });

  it("says that the start is out of the model's domain", () => {
    expect(() => leastSquares({ count: 1, start: [-1, 2], residuals: () => false })).toThrow(
      "fit: the model is not defined at the start, -1, 2.",
    );
    expect(() =>
      leastSquares({
        count: 1,
        start: [1],
        residuals(_, into) {
          into[0] = Number.NaN;
          return true;
        },
      }),
    ).toThrow("fit: the model is not defined at the start, 1.");
  });

  it("says that no minimum was reached, rather than return something", () => {
    expect(() => leastSquares({ ...line([10, -4]), maxSteps: 2 })).toThrow(
      /^fit: no minimum after 2 steps; the sum of squares is .* Start nearer\.$/,
    );
  });

  it("has a singular value of 0 for two parameters that do the same, and shows how they move", () => {
    const { singularValues, directions } = determination(
      [1, 2, 3].map((x) => Float64Array.of(x, -2 * x)),
    );
    expect(singularValues[0]).toBeCloseTo(Math.SQRT2, 12);
    expect(singularValues[1]).toBeCloseTo(0, 12);
    expect(Math.abs(directions[1]![0]! - directions[1]![1]!)).toBeLessThan(1e-12);
  });
});
