import { describe, expect, it } from "vitest";
import {
  correctionAt,
  factorOf,
  fitCorrection,
  noCorrection,
  scoresOf,
} from "../../../src/design/confidence/correction.js";
import { random } from "../../../src/numerics/random.js";

const { uniform } = random(20261130);
const rows = Array.from({ length: 60 }, () =>
  Float64Array.of(2 * uniform() - 1, 2 * uniform() - 1),
);
const fitOf = (ratio: (row: Float64Array) => number, own = rows) => ({
  ...fitCorrection(
    own,
    own.map((row) => Math.log(ratio(row))),
  ),
  expensive: own.length,
});

describe("the correction of a two-node rise", () => {
  it("finds powers of the unknowns, whose logarithm is linear in their scores, but for what it shrinks", () => {
    const ratio = ([a, b]: Float64Array) => 1.2 * Math.exp(0.3 * a! - 0.1 * b!);
    const found = fitOf(ratio);
    for (const row of [Float64Array.of(0.5, -0.5), Float64Array.of(0, 0)])
      expect(Math.abs(correctionAt(found, row) / ratio(row) - 1)).toBeLessThan(0.02);
    expect(found.bent.scatter).toBeLessThan(0.02);
  });

  it("bends with square and cube of what varies, where a straight line leaves a remainder", () => {
    const bent = ([a, b]: Float64Array) => {
      const along = 0.4 * a! + 0.2 * b!;
      return Math.exp(along + 0.5 * along ** 2);
    };
    const found = fitOf(bent);
    expect(found.bent.scatter).toBeLessThan(found.linear.scatter / 2);
    const row = Float64Array.of(0.8, 0.3);
    expect(Math.abs(Math.log(correctionAt(found, row) / bent(row)))).toBeLessThan(0.03);
  });

  it("bends no further than the points that it was fitted to", () => {
    const found = fitOf(([a]: Float64Array) => Math.exp(0.4 * a! + 0.3 * a! ** 2));
    const [linear, rest] = scoresOf(found, Float64Array.of(1, 0));
    const { mean, sigma, ends } = found.along;
    const last = factorOf(found, [mean + sigma * ends[1], rest]);
    expect(factorOf(found, [linear + 10, rest])).toBeCloseTo(last, 12);
    expect(factorOf(found, [linear + 100, rest])).toBeCloseTo(last, 12);
  });

  it("may be none", () => {
    expect(correctionAt(noCorrection, Float64Array.of())).toBe(1);
  });
});
