import { describe, expect, it } from "vitest";
import { random } from "../../src/numerics/random.js";
import { mostDimensions, Sobol } from "../../src/numerics/sobol.js";

function points(sobol: Sobol, count: number): Float64Array[] {
  return Array.from({ length: count }, () => {
    const out = new Float64Array(sobol.dimension);
    sobol.next(out);
    return out;
  });
}

describe("Sobol", () => {
  // scipy.stats.qmc.Sobol(128, scramble=False, bits=32), SciPy 1.17: the points 1 to 8, six dimensions
  it("gives the published sequence when nothing scrambles it", () => {
    const plain = points(new Sobol(128), 16).map((p) => [...p].map((x) => x - 2 ** -33));
    expect(plain.slice(1, 9).map((p) => p.slice(0, 6))).toEqual([
      [0.5, 0.5, 0.5, 0.5, 0.5, 0.5],
      [0.75, 0.25, 0.25, 0.25, 0.75, 0.75],
      [0.25, 0.75, 0.75, 0.75, 0.25, 0.25],
      [0.375, 0.375, 0.625, 0.875, 0.375, 0.125],
      [0.875, 0.875, 0.125, 0.375, 0.875, 0.625],
      [0.625, 0.125, 0.875, 0.625, 0.625, 0.875],
      [0.125, 0.625, 0.375, 0.125, 0.125, 0.375],
      [0.1875, 0.3125, 0.9375, 0.4375, 0.5625, 0.3125],
    ]);
    expect([20, 63, 127].map((d) => plain[13]![d])).toEqual([0.5625, 0.0625, 0.1875]);
  });

  it("puts one of 2ᵐ points into each of 2ᵐ slices of every axis, scrambled or not, from any start", () => {
    const sobol = new Sobol(mostDimensions, random(7));
    sobol.start(3 * 256);
    const some = points(sobol, 256);
    for (let d = 0; d < mostDimensions; d++) {
      expect(new Set(some.map((p) => Math.floor(256 * p[d]!))).size).toBe(256);
    }
  });

  it("puts one point into each box of a 16 by 16 grid on its first two axes", () => {
    const boxes = points(new Sobol(2, random(3)), 256).map(
      ([x, y]) => 16 * Math.floor(16 * x!) + Math.floor(16 * y!),
    );
    expect(new Set(boxes).size).toBe(256);
  });

  it("goes on at any index as if it had come there", () => {
    const all = points(new Sobol(5, random(1)), 40);
    const later = new Sobol(5, random(1));
    later.start(29);
    expect(points(later, 11)).toEqual(all.slice(29));
  });

  it("integrates a smooth function far better than as many random points", () => {
    // ∏ (1 + (x − ½)/d) over the unit cube is 1; its standard deviation is 0.41 and random points would
    // be off by 0.41/√4096 = 6e-3.
    const error = (seed: number) => {
      const sum = points(new Sobol(6, random(seed)), 4096).reduce(
        (total, p) => total + p.reduce((product, x, d) => product * (1 + (x - 0.5) / (d + 1)), 1),
        0,
      );
      return Math.abs(sum / 4096 - 1);
    };
    expect(Math.max(...[1, 2, 3, 4].map(error))).toBeLessThan(1e-4);
  });

  it("is arranged in another way by another seed, evenly at each place", () => {
    const firsts = Array.from(
      { length: 400 },
      (_, seed) => points(new Sobol(3, random(seed)), 2)[1]!,
    );
    for (let d = 0; d < 3; d++) {
      const mean = firsts.reduce((sum, p) => sum + p[d]! / 400, 0);
      // 400 even numbers have a mean within four times 1/√(12·400) of ½.
      expect(Math.abs(mean - 0.5)).toBeLessThan(4 / Math.sqrt(12 * 400));
    }
  });

  it("refuses dimensions it has no directions for", () => {
    expect(() => new Sobol(mostDimensions + 1)).toThrow("expected 1 to 128 dimensions, got 129");
  });
});
