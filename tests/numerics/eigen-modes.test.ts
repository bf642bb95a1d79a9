import { expect, test } from "vitest";
import { eigenModes, largestModes } from "../../src/numerics/eigen-modes.js";

/** The second difference, 2 on the diagonal: eigenvalues 4 sin²(kπ/(2(n + 1))), vectors sin(ikπ/(n + 1)). */
const second = (n: number) =>
  Array.from({ length: n }, (_, i) =>
    Array.from({ length: n }, (_, j) => (i === j ? 2 : Math.abs(i - j) === 1 ? -1 : 0)),
  );
const exact = (n: number, k: number) => 4 * Math.sin((k * Math.PI) / (2 * (n + 1))) ** 2;

test("eigenModes finds all of a symmetric matrix, largest first, with the parts of each row.", () => {
  const n = 12;
  const modes = eigenModes(second(n));
  modes.values.forEach((value, i) => {
    const k = n - i;
    expect(value / exact(n, k)).toBeCloseTo(1, 12);
    modes.squares(i).forEach((part, row) => {
      const entry = Math.sin(((row + 1) * k * Math.PI) / (n + 1)) ** 2;
      expect(part).toBeCloseTo((2 * entry) / (n + 1), 12);
    });
  });
});

test("eigenModes takes a matrix that is not symmetric, and the real part of a pair that oscillates.", () => {
  // A rotation by 60° of length 2 beside 3: 1 ± i√3 and 3.
  const [c, s] = [1, Math.sqrt(3)];
  const modes = eigenModes([
    [c, -s, 0],
    [s, c, 0],
    [0, 0, 3],
  ]);
  expect(modes.values[0]).toBeCloseTo(3, 12);
  expect(modes.values[1]).toBeCloseTo(1, 12);
  expect(modes.values[2]).toBeCloseTo(1, 12);
  for (const k of [1, 2]) expect(modes.squares(k)[0]).toBeCloseTo(0.5, 12);
});

test("largestModes finds the first few of a large matrix by its products, and all of a small one.", () => {
  for (const [n, wanted] of [
    [500, 3],
    [6, 6],
  ] as const) {
    // The inverse of the second difference, by elimination down and back.
    const apply = (x: Float64Array) => {
      const y = x.slice();
      for (let i = 1; i < n; i++) y[i]! += (y[i - 1]! * i) / (i + 1);
      for (let i = n - 1; i >= 0; i--) y[i] = ((y[i]! + (y[i + 1] ?? 0)) * (i + 1)) / (i + 2);
      return y;
    };
    const start = Float64Array.from({ length: n }, (_, i) => Math.sin(1 + 3 * i * i));
    const modes = largestModes(apply, start, wanted);
    for (let i = 0; i < wanted; i++) {
      expect(modes.values[i]! * exact(n, i + 1)).toBeCloseTo(1, 9);
    }
  }
});
