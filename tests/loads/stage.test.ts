import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { powerConductor } from "../../src/conductor.js";
import { type Cooling, coolingCurve } from "../../src/loads/stage.js";
import { solveSteady } from "../../src/network/steady.js";

/** A stage that takes 0.04 W/K² (T² − (20 mK)²), at a few temperatures. */
const square = (mK: number) => [mK * 1e-3, 0.04 * ((mK * 1e-3) ** 2 - 0.02 ** 2)] as const;
const points = [20, 30, 50, 80, 100].map(square);

describe("coolingCurve", () => {
  test("is exact where the curve is a line in T², at any temperature", () => {
    const stage = coolingCurve({ points });
    expect(stage.base).toBe(0.02);
    expect(stage.largestPower).toBeCloseTo(3.84e-4, 12);
    for (const T of [0.021, 0.04, 0.066, 0.0999]) {
      expect(stage.power(T)).toBeCloseTo(0.04 * (T * T - 4e-4), 15);
      expect(stage.conductor.conductance(T)).toBeCloseTo(0.08 * T, 12);
      expect(stage.temperature(stage.power(T))).toBeCloseTo(T, 12);
    }
    expect(stage.temperature(0)).toBe(0.02);
    expect(stage.temperature(stage.largestPower)).toBeCloseTo(0.1, 12);
  });

  test("reads a CSV text in the units of its header", () => {
    const csv = "# measured in March\ntemperature [mK],power [uW]\n20,0\n100,384\n";
    const stage = coolingCurve({ csv });
    expect(stage.power(0.06)).toBeCloseTo(0.04 * (0.06 ** 2 - 4e-4), 12);
  });

  test("finds the temperature without load, by a stated rule", () => {
    const rule = (stage: Cooling) => [stage.base, stage.provenance[0]!.note];
    expect(rule(coolingCurve({ points }))).toEqual([0.02, "first point of the curve"]);
    const [base, note] = rule(coolingCurve({ points: points.slice(1) }));
    expect(base).toBeCloseTo(0.02, 12);
    expect(note).toBe("from the first two points of the curve, by a line in T^2");
    expect(rule(coolingCurve({ points: points.slice(1), base: "15 mK" }))).toEqual([
      0.015,
      "given beside the curve",
    ]);
    expect(coolingCurve({ points: [["0.1 K", "1 uW"]], base: "50 mK" }).base).toBe(0.05);
    expect(coolingCurve({ points, base: "20 mK" }).base).toBe(0.02);
  });

  test("rises all the way, goes through its points, and gives back temperatures", () => {
    const rises = fc.array(
      fc.tuple(
        fc.double({ min: 1e-3, max: 0.5, noNaN: true }),
        fc.double({ min: 1e-9, max: 1e-3, noNaN: true }),
      ),
      { minLength: 1, maxLength: 8 },
    );
    fc.assert(
      fc.property(rises, (steps) => {
        let [T, P] = [0.01, 0];
        const curve = [[T, P] as const];
        for (const [up, more] of steps) {
          [T, P] = [T + up, P + more];
          curve.push([T, P]);
        }
        const stage = coolingCurve({ points: curve });
        for (const [at, power] of curve)
          expect(Math.abs(stage.power(at) - power)).toBeLessThan(1e-12 * P);
        let before = -Number.MAX_VALUE;
        for (let i = 0; i <= 200; i++) {
          // Its power is refused beyond its end.
          const at = 0.002 + ((T - 0.002) * i) / 200;
          expect(stage.conductor.conductance(at)).toBeGreaterThan(0);
          const power = stage.power(at);
          expect(power).toBeGreaterThan(before);
          before = power;
        }
        const load = 0.37 * P;
        expect(stage.power(stage.temperature(load)) / load).toBeCloseTo(1, 8);
      }),
      { seed: 21, numRuns: 60 },
    );
  });

  test("has the slope of its own integral", () => {
    const { conductor } = coolingCurve({
      points: [
        [0.02, 0],
        [0.05, 1e-5],
        [0.06, 1e-4],
        [0.3, 2e-4],
      ],
    });
    for (const T of [0.01, 0.03, 0.055, 0.1, 0.25, 0.4]) {
      const h = 1e-6 * T;
      const slope = (conductor.integral(T + h) - conductor.integral(T - h)) / (2 * h);
      expect(conductor.conductance(T) / slope).toBeCloseTo(1, 6);
    }
  });

  test("lets a network find stage and chip together", () => {
    const stage = coolingCurve({ points });
    const bonds = powerConductor(1e-3, 2);
    const solution = solveSteady({
      nodes: [
        { name: "chip", load: 1e-6 },
        { name: "stage", load: 1e-4 },
        { name: "base", temperature: stage.base },
      ],
      links: [
        { name: "bonds", from: "chip", to: "stage", conductor: bonds },
        { name: "cooling", from: "stage", to: "base", conductor: stage.conductor },
      ],
    });
    const T = Math.sqrt(4e-4 + 1.01e-4 / 0.04);
    expect(solution.temperatures.get("stage")).toBeCloseTo(T, 9);
    expect(solution.temperatures.get("stage")).toBeCloseTo(stage.temperature(1.01e-4), 9);
    expect(solution.temperatures.get("chip")).toBeCloseTo(Math.sqrt(T * T + 1e-3), 9);
  });

  test("says what to do when the load is more than the curve", () => {
    const stage = coolingCurve({ name: "mixing chamber", points });
    expect(() => stage.temperature(5e-4)).toThrow(
      "mixing chamber: 500 µW is more than the 384 µW with which its cooling curve ends, at 100 mK. " +
        "Lower the load, let a warmer stage take part of it, or give a curve that goes further.",
    );
    expect(() => stage.temperature(-1)).toThrow("mixing chamber.load: expected a power such as");
    expect(stage.conductor.ranges).toEqual([
      {
        from: 0.02,
        to: 0.1,
        of: "its cooling curve ends there, with 384 µW",
        outside: "refuse",
      },
    ]);
  });

  test.each([
    [{ points: [] }, "stage: expected two points or more, got 0"],
    [{ points: [["20 mK", 0]] }, "stage: expected two points or more, or one and the base, got 1"],
    [{ points: "20 mK" }, 'stage.points: expected a list of [temperature, power], got "20 mK"'],
    [{ points: [["20 mK"]] }, 'stage.points[0]: expected [temperature, power], got ["20 mK"]'],
    [
      {
        points: [
          ["20 mK", 0],
          ["10 mK", 1],
        ],
      },
      "stage.points[1][0]: expected a temperature above that of the point before, 20.0 mK, got 0.01",
    ],
    [
      {
        points: [
          ["20 mK", 0],
          ["30 mK", "3 uW"],
          ["40 mK", "2 uW"],
        ],
      },
      "stage.points[2][1]: expected more than at the point before, 3.00 µW, since a stage takes more heat the warmer it is, got 0.000002",
    ],
    [
      { points: [["-20 mK", 0]] },
      'stage.points[0][0]: expected a temperature such as "100 mK" or a number in kelvin, greater than 0',
    ],
    [
      { points: [["20 mK", "-1 uW"]] },
      'stage.points[0][1]: expected a power such as "8 pW" or a number in watts, 0 or more',
    ],
    [
      {
        points: [
          ["20 mK", 0],
          ["30 mK", 1],
        ],
        base: "10 mK",
      },
      'stage.base: expected the temperature of the first point, which has no load (20.0 mK), got "10 mK"',
    ],
    [
      {
        points: [
          ["20 mK", 1],
          ["30 mK", 2],
        ],
        base: "20 mK",
      },
      'stage.base: expected a temperature below the first point\'s, 20.0 mK, got "20 mK"',
    ],
    [
      {
        points: [
          ["20 mK", 1],
          ["30 mK", 1.1],
        ],
      },
      "stage.base: expected the temperature without load, since a line in T^2 through the first two points reaches 0 W nowhere, got undefined",
    ],
    [
      { csv: "temperature [mK],power [uW]\n20,0\n30,5\n25,7", file: "cold.csv" },
      'cold.csv:4 temperature: expected a temperature above that of the point before, 30 mK, got "25 mK"',
    ],
    [
      { csv: "temperature [mK],power [uW]\n20,0\n30,5\n35,5", file: "cold.csv" },
      "cold.csv:4 power: expected more than at the point before, 5 uW",
    ],
    [
      { csv: "T,P\n1,2" },
      "cooling curve:1 temperature: expected the columns temperature [K],power [W]",
    ],
    [
      { csv: "temperature,power\n-1,2" },
      "cooling curve:2 temperature: expected a temperature such as",
    ],
  ])("refuses %j", (options, message) => {
    expect(() => coolingCurve(options as never, "stage")).toThrow(message);
  });
});
