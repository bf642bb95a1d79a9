import { describe, expect, it } from "vitest";
import { fitLaw, type LawRange, lawValue } from "../../../src/design/confidence/input-law.js";
import { random } from "../../../src/numerics/random.js";
import { FieldError } from "../../../src/units/errors.js";

const ranges: readonly LawRange[] = Array.from({ length: 4 }, () => ({
  low: -1,
  middle: 0,
  high: 1,
}));
type Number4 = (v: Float64Array) => number;
const lawOf = (f: Number4, inputs = [0, 1, 2, 3], tolerance = 1e-9, most?: number) =>
  fitLaw(f, inputs, ranges, tolerance, most);

/** The most by which a law is off at points of its own. */
function farthest(f: Number4, law: ReturnType<typeof lawOf>): number {
  const value = lawValue(law!);
  const { uniform } = random(20261130);
  let most = 0;
  for (let k = 0; k < 200; k++) {
    const at = Float64Array.from(ranges, () => 2 * uniform() - 1);
    most = Math.max(most, Math.abs(value(at) - f(at)));
  }
  return most;
}

describe("a number as a law of its inputs", () => {
  it("that is linear is its slopes", () => {
    const law = lawOf(([a, b]) => 7 + 2 * a! - 3 * b!)!;
    expect(law.constant).toBe(7);
    expect(law.slopes).toEqual([
      [0, expect.closeTo(2, 12)],
      [1, expect.closeTo(-3, 12)],
    ]);
    expect(law.series).toEqual([]);
  });

  it("takes inputs that enter by one product as one variable", () => {
    // ln(1 + e^(a + 2b)): two resistances in series, one a product; c multiplies both.
    const f: Number4 = ([a, b, c]) => Math.log(1 + Math.exp(a! + 2 * b!)) + 0.5 * c!;
    const law = lawOf(f)!;
    expect(law.slopes.map(([input]) => input)).toContain(2);
    expect(law.series).toHaveLength(1);
    expect(law.series[0]!.groups.map(({ members }) => members)).toEqual([
      [
        [0, 1],
        [1, 2],
      ],
    ]);
    expect(farthest(f, law)).toBeLessThan(1e-9);
  });

  it("adds up what acts apart, and takes together what acts on each other", () => {
    const apart: Number4 = ([a, b]) => Math.exp(a!) + Math.cos(b!);
    expect(lawOf(apart)!.series.map(({ groups }) => groups.length)).toEqual([1, 1]);
    expect(farthest(apart, lawOf(apart))).toBeLessThan(1e-9);
    const together: Number4 = ([a, b, c]) => Math.exp(a!) * Math.cos(b!) + 3 * c!;
    const law = lawOf(together);
    expect(law!.series.map(({ groups }) => groups.length)).toEqual([2]);
    expect(farthest(together, law)).toBeLessThan(1e-9);
  });

  it("is plain data: read back from JSON it gives the same numbers", () => {
    const f: Number4 = ([a, b]) => Math.exp(a! * (1 + 0.2 * b!));
    const law = lawOf(f)!;
    const at = Float64Array.of(0.3, -0.7, 0, 0);
    expect(lawValue(JSON.parse(JSON.stringify(law)))(at)).toBe(lawValue(law)(at));
  });

  it("is none of a number with a corner or a jump, or where it is not finite", () => {
    expect(lawOf(([a]) => Math.abs(a! - 0.1))).toBeUndefined();
    expect(lawOf(([a]) => (a! > 0.4 ? 1 : 0))).toBeUndefined();
    expect(lawOf(([a]) => Math.log(a!))).toBeUndefined();
    // More values than it may be made of.
    expect(lawOf(([a, b]) => Math.exp(a!) * Math.cos(b!), [0, 1], 1e-9, 20)).toBeUndefined();
  });

  it("is none where an input refuses a value; other errors are passed on", () => {
    const refuses: Number4 = ([a]) => {
      if (a! > 0.9) throw new FieldError("bonds.length", "a length", a);
      return a!;
    };
    expect(lawOf(refuses)).toBeUndefined();
    const broken: Number4 = () => {
      throw new TypeError("a fault of the program");
    };
    expect(() => lawOf(broken)).toThrow("a fault of the program");
  });
});
