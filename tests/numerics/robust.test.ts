import { describe, expect, it } from "vitest";
import { determination } from "../../src/numerics/jacobian.js";
import { leastSquares } from "../../src/numerics/least-squares.js";
import { huberVariance, huberWeights, medianScale } from "../../src/numerics/robust.js";

/**
 * Stack loss of a plant that oxidises ammonia: air, water, acid, loss. K. A. Brownlee, Statistical Theory
 * and Methodology (1965), section 13.12; from memory, and checked by the least squares below.
 */
const rows = [
  [80, 27, 89, 42],
  [80, 27, 88, 37],
  [75, 25, 90, 37],
  [62, 24, 87, 28],
  [62, 22, 87, 18],
  [62, 23, 87, 18],
  [62, 24, 93, 19],
  [62, 24, 93, 20],
  [58, 23, 87, 15],
  [58, 18, 80, 14],
  [58, 18, 89, 14],
  [58, 17, 88, 13],
  [58, 18, 82, 11],
  [58, 19, 93, 12],
  [50, 18, 89, 8],
  [50, 18, 86, 7],
  [50, 19, 72, 8],
  [50, 19, 79, 8],
  [50, 20, 80, 9],
  [56, 20, 82, 15],
  [70, 20, 91, 15],
] as const;

function fitted(weights: ArrayLike<number>) {
  return leastSquares({
    count: rows.length,
    start: [-40, 1, 1, -0.1],
    residuals: ([constant, ...slopes], into) => {
      rows.forEach(([air, water, acid, loss], i) => {
        const model = constant! + slopes[0]! * air + slopes[1]! * water + slopes[2]! * acid;
        into[i] = Math.sqrt(weights[i]!) * (loss - model);
      });
      return true;
    },
  });
}

describe("a fit with Huber's errors", () => {
  let weights: Float64Array = new Float64Array(rows.length).fill(1);
  const plain = fitted(weights);
  let [fit, scale] = [plain, 0];
  let residuals = plain.residuals;
  for (let pass = 0; pass < 60; pass++) {
    residuals = weights.map((weight, i) => fit.residuals[i]! / Math.sqrt(weight));
    scale = medianScale(residuals);
    weights = huberWeights(residuals, scale);
    fit = fitted(weights);
  }

  it("starts at least squares", () => {
    // R. Dennis Cook and S. Weisberg, and any text that uses the data.
    for (const [i, value] of [-39.919674, 0.71564, 1.295286, -0.152123].entries()) {
      expect(plain.parameters[i]).toBeCloseTo(value, 5);
    }
  });

  it("is that of the published example", () => {
    // statsmodels.org, documentation of RLM (HuberT, k = 1.345, scale by the median absolute deviation).
    for (const [i, value] of [-41.026498, 0.829384, 0.926066, -0.127847].entries()) {
      expect(fit.parameters[i]).toBeCloseTo(value, 5);
    }
    expect(scale).toBeCloseTo(2.440536, 5);
  });

  it("has the published standard errors", () => {
    const whole = fit.jacobian.map((row, i) => row.map((x) => x / Math.sqrt(weights[i]!)));
    const { covariance } = determination(whole);
    const variance = huberVariance(residuals, scale, 4);
    for (const [j, error] of [9.791899, 0.111005, 0.30293, 0.12865].entries()) {
      expect(Math.sqrt(variance * covariance[j]![j]!)).toBeCloseTo(error, 5);
    }
  });

  it("counts the known outliers for less", () => {
    // Rows 1, 3, 4 and 21 in every robust account of these data; row 1 lies nearest to the rest.
    for (const row of [3, 4, 21]) expect(weights[row - 1]).toBeLessThan(0.8);
    expect(weights.filter((weight) => weight === 1).length).toBeGreaterThan(14);
  });
});
