import { describe, expect, it } from "vitest";
import { inLogarithms, monotoneCubic } from "../../src/numerics/interpolation.js";

describe("monotoneCubic(x, y)", () => {
  it("passes through its points", () => {
    const [x, y] = [
      [0, 1, 3, 4],
      [1, 2, 2.5, 7],
    ];
    const curve = monotoneCubic(x!, y!);
    x!.forEach((at, i) => {
      expect(curve.value(at)).toBeCloseTo(y![i]!, 14);
    });
    expect([curve.from, curve.to]).toEqual([0, 4]);
  });

  it("knows its own slope, also in logarithms", () => {
    const curves = [
      monotoneCubic([0.5, 1, 3, 4], [1, 2, 2.5, 7]),
      inLogarithms([
        [0.5, 1],
        [1, 2],
        [3, 2.5],
        [4, 7],
      ]),
    ];
    for (const curve of curves) {
      for (const x of [0.6, 0.99, 1.7, 2.9, 3.8]) {
        const slope = (curve.value(x + 1e-6) - curve.value(x - 1e-6)) / 2e-6;
        expect(curve.slope(x)).toBeCloseTo(slope, 7);
      }
    }
  });

  it("is exact on a straight line, also through two points only", () => {
    const line = monotoneCubic([0, 1, 5], [2, 5, 17]);
    for (const x of [0.3, 2.2, 4.9]) expect(line.value(x)).toBeCloseTo(2 + 3 * x, 13);
    expect(monotoneCubic([0, 2], [0, 4]).value(0.5)).toBeCloseTo(1, 14);
  });

  it("gives what PchipInterpolator of SciPy 1.17.1 gives, value and slope", () => {
    // Points of a thermometer (invented), then some with a turn and a level piece.
    const falling = monotoneCubic(
      [0.02, 0.05, 0.1, 0.2, 0.5, 1],
      [21000, 9800, 5600, 3900, 2500, 2150],
    );
    const turning = monotoneCubic([0, 1, 3, 4, 6, 7], [0, 0.5, 0.6, 3, 3, 1]);
    for (const [curve, x, value, slope] of [
      [falling, 0.03, 16276.538333665803, -449519.24995012966],
      [falling, 0.07, 7425.746915312349, -93818.18888941008],
      [falling, 0.15, 4469.5416955448045, -15845.508131859266],
      [falling, 0.3, 3206.281352173704, -5789.789789789791],
      [falling, 0.9, 2165.643243243243, -308.75675675675654],
      [turning, 0.4, 0.26, 0.61],
      [turning, 2, 0.5475888324873096, 0.02258883248730964],
      [turning, 3.3, 1.1345177664974613, 3.031675126903552],
      [turning, 5, 3, 0],
      [turning, 6.5, 2.333333333333333, -2.3333333333333335],
    ] as const) {
      expect(curve.value(x) / value).toBeCloseTo(1, 12);
      expect(curve.slope(x) - slope).toBeCloseTo(0, 7);
    }
    // ln T by ln R, as calibrations of thermometers are read.
    const logarithms = inLogarithms([
      [2150, 1],
      [2500, 0.5],
      [3900, 0.2],
      [5600, 0.1],
      [9800, 0.05],
      [21000, 0.02],
    ]);
    for (const [ohms, kelvin] of [
      [18000, 0.024011593521645058],
      [12000, 0.03908158086049511],
      [7000, 0.07403207812221035],
      [4500, 0.149510709068315],
      [3000, 0.32170495308179936],
      [2200, 0.8861288846303156],
    ] as const) {
      expect(logarithms.value(ohms) / kelvin).toBeCloseTo(1, 12);
    }
  });

  it("never overshoots a step", () => {
    const step = monotoneCubic([0, 1, 2, 3, 4, 5], [0, 0, 0, 1, 1, 1]);
    let before = -1e-15;
    for (let x = 0; x <= 5; x += 0.01) {
      const y = step.value(x);
      expect(y).toBeGreaterThanOrEqual(before - 1e-12);
      expect(y).toBeLessThanOrEqual(1 + 1e-12);
      before = y;
    }
  });

  it("converges with the third power of the spacing or faster", () => {
    const error = (n: number) => {
      const x = Array.from({ length: n + 1 }, (_, i) => i / n);
      const curve = monotoneCubic(x, x.map(Math.exp));
      let most = 0;
      for (let at = 0.2; at < 0.8; at += 0.001) {
        most = Math.max(most, Math.abs(curve.value(at) - Math.exp(at)));
      }
      return most;
    };
    expect(Math.log2(error(16) / error(32))).toBeGreaterThan(2.8);
  });

  it("refuses points that do not rise and lists of unequal length", () => {
    expect(() => monotoneCubic([0, 1, 1], [0, 1, 2])).toThrow("x does not rise after 1");
    expect(() => monotoneCubic([0, 1], [0])).toThrow("got 2 x and 1 y");
  });
});

describe("inLogarithms(points)", () => {
  it("is exact for a power law", () => {
    const curve = inLogarithms([1, 2, 7, 30].map((x) => [x, 3 * x ** 1.4] as const));
    for (const x of [1, 1.5, 6, 29]) expect(curve.value(x) / (3 * x ** 1.4)).toBeCloseTo(1, 12);
    expect([curve.from, curve.to]).toEqual([1, 30]);
  });
});
