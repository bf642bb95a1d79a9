import { describe, expect, it } from "vitest";
import { inverseOfPositive, whitening } from "../../src/numerics/cholesky.js";

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
