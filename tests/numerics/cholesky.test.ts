import { describe, expect, it } from "vitest";
import { covarianceFactor } from "../../src/numerics/cholesky.js";

const product = (lower: readonly Float64Array[]) =>
  lower.map((a) => lower.map((b) => a.reduce((sum, value, k) => sum + value * b[k]!, 0)));

describe("the factor of a covariance", () => {
  it("is that of a published example", () => {
    // Worked example of encyclopedias (Cholesky decomposition), by integers: checked by multiplying out.
    const lower = covarianceFactor([
      [4, 12, -16],
      [12, 37, -43],
      [-16, -43, 98],
    ])!;
    expect(lower.map((row) => [...row])).toEqual([
      [2, 0, 0],
      [6, 1, 0],
      [-8, 5, 3],
    ]);
  });

  it("is there where two are one and the same, and where all vary as two", () => {
    // Rank 2 by construction: products of the rows of a 4 by 2 matrix.
    const rows = [
      [1, 0],
      [0.5, 1],
      [1.5, 1],
      [-2, 3],
    ];
    const made = rows.map((a) => rows.map((b) => a[0]! * b[0]! + a[1]! * b[1]!));
    for (const matrix of [
      [
        [1, 1],
        [1, 1],
      ],
      made,
    ]) {
      const back = product(covarianceFactor(matrix)!);
      back.forEach((row, i) => {
        row.forEach((value, j) => {
          expect(value).toBeCloseTo(matrix[i]![j]!, 12);
        });
      });
    }
  });

  it("does not exist for what is no covariance", () => {
    // Two that both follow a third closely can't be opposed: the determinant is negative.
    const opposed = [
      [1, 0.9, 0.9],
      [0.9, 1, -0.9],
      [0.9, -0.9, 1],
    ];
    expect(covarianceFactor(opposed)).toBeUndefined();
    const askew = [
      [1, 0.5],
      [0.4, 1],
    ];
    expect(covarianceFactor(askew)).toBeUndefined();
    const contradicting = [
      [1, 1, 0.5],
      [1, 1, -0.5],
      [0.5, -0.5, 1],
    ];
    expect(covarianceFactor(contradicting)).toBeUndefined();
  });
});
