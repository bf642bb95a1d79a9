import { describe, expect, it } from "vitest";
import { covarianceFactor, inverseOfPositive, whitening } from "../../src/numerics/cholesky.js";

const square = (n: number, entry: (i: number, j: number) => number) =>
  Float64Array.from({ length: n * n }, (_, at) => entry(Math.floor(at / n), at % n));

describe("the inverse of a positive definite matrix", () => {
  // A chain of n resistors' nodes between two grounded ends, 2 on the diagonal and −1 beside it, has the
  // inverse min(i, j)(n + 1 − max(i, j))/(n + 1), i and j from 1: the potential of a string pulled at one
  // place (R. Courant and D. Hilbert, Methods of Mathematical Physics, vol. 1, section V.14, Green's
  // function of the string, on equal steps).
  it.each([1, 2, 3, 4, 5, 6, 7, 8, 9, 50, 51])("is that of a chain of %i", (n) => {
    const chain = square(n, (i, j) => (i === j ? 2 : Math.abs(i - j) === 1 ? -1 : 0));
    const found = inverseOfPositive(chain, n) as Float64Array;
    const wanted = square(n, (i, j) => ((Math.min(i, j) + 1) * (n - Math.max(i, j))) / (n + 1));
    for (let at = 0; at < n * n; at++) expect(found[at]! / wanted[at]!).toBeCloseTo(1, 12);
  });

  // M.-D. Choi, Tricks or treats with the Hilbert matrix, Am. Math. Mon. 90, 301 (1983): its inverse has
  // whole numbers; these of order 4 are in every table of test matrices.
  it("is that of Hilbert's matrix, whose condition is 15,514", () => {
    const found = inverseOfPositive(
      square(4, (i, j) => 1 / (i + j + 1)),
      4,
    ) as Float64Array;
    const wanted = [
      [16, -120, 240, -140],
      [-120, 1200, -2700, 1680],
      [240, -2700, 6480, -4200],
      [-140, 1680, -4200, 2800],
    ].flat();
    found.forEach((entry, at) => {
      expect(entry / wanted[at]!).toBeCloseTo(1, 9);
    });
  });

  it("tells the first row that depends on those before it", () => {
    const twice = square(4, (i, j) => ((i === 2 ? 0 : i) === (j === 2 ? 0 : j) ? 1 : 0));
    expect(inverseOfPositive(twice, 4)).toBe(2);
  });

  it("leaves the matrix as it was", () => {
    const matrix = square(3, (i, j) => (i === j ? 3 : 1));
    const before = matrix.slice();
    inverseOfPositive(matrix, 3);
    expect(matrix).toEqual(before);
  });
});

describe("whitening", () => {
  // L⁻¹ C L⁻ᵀ = 1 is what it is for; C is that of a random walk, min(i, j).
  it.each([1, 2, 5, 8])("makes %i residuals of a walk independent, of variance 1", (n) => {
    const covariance = Array.from({ length: n }, (_, i) =>
      Array.from({ length: n }, (_, j) => Math.min(i, j) + 1),
    );
    const rows = whitening(covariance);
    for (const [a, one] of rows.entries()) {
      for (const [b, other] of rows.entries()) {
        let sum = 0;
        one.forEach((x, i) => {
          other.forEach((y, j) => {
            sum += x * covariance[i]![j]! * y;
          });
        });
        expect(sum).toBeCloseTo(a === b ? 1 : 0, 12);
      }
    }
  });

  it("refuses what is no covariance", () => {
    expect(() =>
      whitening([
        [1, 2],
        [2, 1],
      ]),
    ).toThrow("not a covariance");
  });
});

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
