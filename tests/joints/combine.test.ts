import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Conductor, heatFlow, powerConductor } from "../../src/conductor.js";
import { parallel, series, times } from "../../src/joints/combine.js";
import { provenance } from "./hand-made.js";

const wire = powerConductor(2e-4, 2);
const other = powerConductor(4e-4, 2);
const clamp = powerConductor(5e-4, 4);

/** Heat through two conductors with a node between, found by halving: exact at any drop. */
function chainFlow(a: Conductor, b: Conductor, hot: number, cold: number): number {
  let [low, high] = [cold, hot];
  for (let i = 0; i < 200; i++) {
    const middle = (low + high) / 2;
    if (heatFlow(a, hot, middle) > heatFlow(b, middle, cold)) low = middle;
    else high = middle;
  }
  return heatFlow(a, hot, (low + high) / 2);
}

describe("parallel", () => {
  test("adds conductances, integrals and powers, those of one exponent into one", () => {
    const sum = parallel(wire, clamp, other);
    expect(sum.conductance(0.3)).toBeCloseTo(2 * 6e-4 * 0.3 + 4 * 5e-4 * 0.3 ** 3, 15);
    expect(sum.powers).toEqual([
      { coefficient: 2e-4 + 4e-4, exponent: 2 },
      { coefficient: 5e-4, exponent: 4 },
    ]);
    expect(sum.powersUpTo).toBeUndefined();
  });

  test("keeps the lowest temperature up to which the powers hold", () => {
    expect(parallel({ ...wire, powersUpTo: 4 }, { ...clamp, powersUpTo: 1 }).powersUpTo).toBe(1);
  });

  test("has no powers when one member has none", () => {
    const { powers: _, ...bare } = clamp;
    expect(parallel(wire, bare).powers).toBeUndefined();
  });

  test("carries the ranges and the numbers of all members", () => {
    const backed = powerConductor(1, 2, {
      ranges: [{ from: 0, to: 1, of: "a", outside: "warn" }],
      provenance: [provenance("a", 1, "W")],
    });
    const sum = parallel(backed, backed);
    expect(sum.ranges).toHaveLength(2);
    expect(sum.provenance).toHaveLength(2);
  });

  test("names what it wants when it gets nothing", () => {
    expect(() => parallel()).toThrow("parallel: expected at least one conductor, got []");
  });
});

describe("series", () => {
  test("of one power with one exponent is exact at any drop", () => {
    const chain = series(wire, other);
    expect(chain.powers).toEqual([{ coefficient: 1 / (1 / 2e-4 + 1 / 4e-4), exponent: 2 }]);
    expect(heatFlow(chain, 1, 0.05)).toBeCloseTo(chainFlow(wire, other, 1, 0.05), 12);
  });

  test("of different powers is right for a small drop", () => {
    const chain = series(wire, clamp);
    const exact = chainFlow(wire, clamp, 0.1001, 0.1);
    expect(Math.abs(heatFlow(chain, 0.1001, 0.1) / exact - 1)).toBeLessThan(2.6e-4);
  });

  test("is off by no more than |m − n|/8 · ΔT/T, and by that much where both resist alike", () => {
    // G of both 2e-4 W/K at 0.5 K: m − n = 2, the bound is ΔT/(4T).
    const equal = powerConductor(4e-4, 4);
    const a = powerConductor(2e-4, 2);
    const drop = 0.01;
    const exact = chainFlow(a, equal, 0.5 + drop / 2, 0.5 - drop / 2);
    const error = heatFlow(series(a, equal), 0.5 + drop / 2, 0.5 - drop / 2) / exact - 1;
    expect(Math.abs(error)).toBeGreaterThan(0.9 * (drop / 0.5 / 4));
    expect(Math.abs(error)).toBeLessThan(1.05 * (drop / 0.5 / 4));
  });

  test("integrates the reciprocal sum: T² and T⁴ have a closed form", () => {
    // 1/(1/(aT) + 1/(bT³)) = aT · x/(1 + x), x = bT²/a; ∫ = a/2 (T² − (a/b) ln(1 + bT²/a)).
    const [a, b] = [4e-4, 2e-3];
    const closed = (T: number) => (a / 2) * (T * T - (a / b) * Math.log1p((b * T * T) / a));
    const chain = series(wire, clamp);
    for (const T of [1e-3, 0.02, 0.1, 0.4471, 1, 4.2]) {
      expect(chain.integral(T) / closed(T)).toBeCloseTo(1, 9);
    }
  });

  test("uses the power up to where it holds and joins on above", () => {
    const bent: Conductor = {
      conductance: (T) => (T < 1 ? 4e-4 * T : 4e-4),
      integral: (T) => (T < 1 ? 2e-4 * T * T : 2e-4 + 4e-4 * (T - 1)),
      powers: [{ coefficient: 2e-4, exponent: 2 }],
      powersUpTo: 1,
    };
    const chain = series(bent, powerConductor(2e-4, 2));
    expect(chain.powersUpTo).toBe(1);
    expect(chain.integral(0.5)).toBeCloseTo(1e-4 * 0.25, 15);
    // Above: G = 1/(1/4e-4 + 1/(4e-4 T)) = 4e-4 T/(1 + T), ∫₁² = 4e-4 (1 − ln 1.5).
    expect(chain.integral(2)).toBeCloseTo(1e-4 + 4e-4 * (1 - Math.log(1.5)), 12);
    expect(chain.conductance(2)).toBeCloseTo((4e-4 * 2) / 3, 15);
  });

  test("does not depend on the order in which temperatures are asked for", () => {
    const [up, down] = [series(wire, clamp), series(wire, clamp)];
    const temperatures = [0.01, 0.3, 2, 0.05];
    const first = temperatures.map((T) => up.integral(T));
    const second = [...temperatures].reverse().map((T) => down.integral(T));
    expect(second.reverse()).toEqual(first);
  });

  test("names what it wants when it gets nothing", () => {
    expect(() => series()).toThrow("series: expected at least one conductor, got []");
  });
});

describe("times", () => {
  test("multiplies everything, also by a fraction", () => {
    expect(times(wire, 2.5).powers).toEqual([{ coefficient: 5e-4, exponent: 2 }]);
    expect(times(wire, 2.5).conductance(1)).toBeCloseTo(1e-3, 15);
  });

  test.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])("refuses %s", (count) => {
    expect(() => times(wire, count)).toThrow(
      `count: expected a number greater than 0, got ${count}`,
    );
  });
});

describe("any combination", () => {
  const exponent = fc.double({ min: 1.1, max: 6, noNaN: true });
  const coefficient = fc.double({ min: 1e-9, max: 1, noNaN: true });
  const member = fc.tuple(coefficient, exponent).map(([c, p]) => powerConductor(c, p));
  const whole = fc
    .tuple(fc.array(member, { minLength: 1, maxLength: 4 }), fc.boolean())
    .map(([members, chain]) => (chain ? series(...members) : parallel(...members)));
  const temperature = fc.double({ min: 0.005, max: 10, noNaN: true });

  test("carries heat from hot to cold, as much back when the ends are swapped, none when equal", () => {
    fc.assert(
      fc.property(whole, temperature, temperature, (conductor, a, b) => {
        const flow = heatFlow(conductor, a, b);
        expect(heatFlow(conductor, b, a) + flow).toBe(0);
        expect(heatFlow(conductor, a, a)).toBe(0);
        if (a > b * 1.001) expect(flow).toBeGreaterThan(0);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  test("has a conductance that is the slope of its integral", () => {
    fc.assert(
      fc.property(whole, temperature, (conductor, T) => {
        const step = 1e-4 * T;
        const slope = heatFlow(conductor, T + step, T - step) / (2 * step);
        expect(slope / conductor.conductance(T)).toBeCloseTo(1, 6);
      }),
      { seed: 2, numRuns: 200 },
    );
  });
});
