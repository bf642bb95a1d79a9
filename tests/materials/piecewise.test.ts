import { describe, expect, it } from "vitest";
import { join } from "../../src/materials/piecewise.js";

const square = {
  value: (T: number) => T ** 2,
  integral: (T: number) => T ** 3 / 3,
  powers: [{ coefficient: 1 / 3, exponent: 3 }],
};
const line = { value: (T: number) => 2 * T, integral: (T: number) => T ** 2 };
const unknown = { value: (T: number) => Math.exp(T) };

describe("join(pieces)", () => {
  it("has a continuous integral over pieces with and without a closed form", () => {
    const law = join([
      { from: 0, to: 1, curve: square },
      { from: 1, to: 2, curve: unknown },
      { from: 2, to: 3, curve: line },
    ]);
    expect(law.integral(1)).toBeCloseTo(1 / 3, 12);
    expect(law.integral(2)).toBeCloseTo(1 / 3 + Math.E ** 2 - Math.E, 10);
    expect(law.integral(3)).toBeCloseTo(1 / 3 + Math.E ** 2 - Math.E + 5, 10);
    expect(law.powers).toEqual(square.powers);
    expect(law.powersUpTo).toBe(1);
  });

  it("asked first for a high temperature gives the same as asked from below", () => {
    const pieces = [
      { from: 1, to: 2, curve: unknown },
      { from: 2, to: 3, curve: line },
    ];
    const [above, below] = [join(pieces), join(pieces)];
    below.integral(1.5);
    below.integral(2.5);
    expect(above.integral(2.9)).toBe(below.integral(2.9));
  });

  it("goes on below as the power named, integrated from zero temperature", () => {
    const law = join([{ from: 1, to: 2, curve: line }], 3);
    expect(law.value(0.5)).toBeCloseTo(2 * 0.125, 12);
    expect(law.integral(1)).toBeCloseTo(2 / 4, 12);
    expect(law.integral(0)).toBe(0);
  });

  it("goes on at both ends with the slope of the law where none is named", () => {
    const law = join([{ from: 1, to: 2, curve: square }]);
    expect(law.value(0.5)).toBeCloseTo(0.25, 12);
    expect(law.value(4)).toBeCloseTo(16, 10);
    expect(law.integral(4)).toBeCloseTo(64 / 3, 10);
    expect(law.powersUpTo).toBeUndefined();
    expect(law.powers).toEqual(square.powers);
  });

  it("keeps the powers to itself where another power goes on below", () => {
    expect(join([{ from: 1, to: 2, curve: square }], 1).powers).toBeUndefined();
  });

  it("holds a steep end to what can be integrated", () => {
    const steep = { value: (T: number) => T ** -3 };
    const law = join([{ from: 1, to: 2, curve: steep }]);
    expect(Number.isFinite(law.integral(0.1))).toBe(true);
    expect(law.integral(3)).toBeGreaterThan(law.integral(2));
  });
});
