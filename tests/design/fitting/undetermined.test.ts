import { describe, expect, it } from "vitest";
import { leftOpen, UndeterminedError } from "../../../src/design/fitting/undetermined.js";
import { determination } from "../../../src/numerics/jacobian.js";

const open = (rows: readonly (readonly number[])[], variance = 1, scales = [1, 1, 1]) =>
  leftOpen(
    ["a", "b", "c"],
    determination(rows.map((row) => Float64Array.from(row))),
    scales,
    variance,
  );

describe("parameters that readings do not determine", () => {
  it("are none where each has a reading of its own, fine enough", () => {
    const own = [
      [10, 0, 0],
      [0, 10, 0],
      [0, 0, 10],
    ];
    expect(open(own)).toEqual([]);
    // ±0.1 each: at a hundred times the variance as wide as the scale.
    expect(open(own, 99)).toEqual([]);
    expect(open(own, 101).length).toBeGreaterThan(0);
    expect(open(own, 101, [2, 2, 2])).toEqual([]);
  });

  it("are those that no reading moves with", () => {
    expect(
      open([
        [1e3, 0, 0],
        [0, 1e3, 0],
        [1e3, 1e3, 0],
      ]),
    ).toEqual(["c"]);
  });

  it("are those of which only a sum or a difference is known", () => {
    const sum = [
      [50, 50, 0],
      [0, 0, 50],
      [100, 100, 50],
    ];
    expect(open(sum)).toEqual(["a", "b"]);
    const nearly = sum.map((row, k) => (k === 0 ? [50, 50 + 1e-3, 0] : row));
    expect(open(nearly)).toEqual(["a", "b"]);
    // A reading of the one alone tells them apart.
    expect(open([...sum, [50, 0, 0]])).toEqual([]);
  });

  it("are told with what to measure", () => {
    const error = new UndeterminedError("fit: open.", ["a", "b"], "Measure the die.");
    expect(error.message).toBe("fit: open. Measure the die.");
    expect([error.together, error.advice]).toEqual([["a", "b"], "Measure the die."]);
  });
});
