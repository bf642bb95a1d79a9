import { describe, expect, it } from "vitest";
import { thermalBudget } from "../../../src/index.js";
import type { Mount } from "../../../src/mount/mount.js";
import { numbersOf, readMount } from "../../../src/mount/read.js";
import {
  type Correlation,
  correlationsOf,
  withCorrelations,
} from "../../../src/mount/things/correlations.js";
import { spread } from "../../../src/units/spread.js";
import { smallest } from "./smallest.js";

const by = (...correlations: readonly Correlation[]): Mount =>
  smallest({
    correlations,
    loads: [{ kind: "given", power: spread(1e-9, 2e-9) }],
    joint: { resistance: 1e-6 },
  });
const [power, resistance] = ["loads.0.power", "joint.resistance"];
const width = "die.width";

describe("what varies together", () => {
  it("stands in one matrix, by pairs or by a matrix of its own", () => {
    const plain = readMount(
      by(
        { of: [power, resistance], coefficient: 0.5, reason: "one bench" },
        {
          of: [width, power, "materials/gold.csv:5"],
          matrix: [
            [1, -0.2, 0],
            [-0.2, 1, 0.3],
            [0, 0.3, 1],
          ],
        },
      ),
    );
    const { names, matrix, pairs } = correlationsOf(plain);
    expect(names).toEqual([power, resistance, width, "materials/gold.csv:5"]);
    expect(matrix.map((row) => [...row])).toEqual([
      [1, 0.5, -0.2, 0.3],
      [0.5, 1, 0, 0],
      [-0.2, 0, 1, 0],
      [0.3, 0, 0, 1],
    ]);
    expect(pairs).toEqual([
      { names: [power, resistance], coefficient: 0.5, reason: "one bench" },
      { names: [width, power], coefficient: -0.2 },
      { names: [power, "materials/gold.csv:5"], coefficient: 0.3 },
    ]);
  });

  it("is no number of the mount, and stands among the numbers of its budget", () => {
    const mount = by({ of: [power, resistance], coefficient: -0.25, reason: "one bench" });
    expect([...numbersOf(mount).keys()].filter((field) => field.includes("corr"))).toEqual([]);
    const rows = thermalBudget(mount).numbers().toText();
    expect(rows).toMatch(/load 1 power, joint resistance: correlation; -0\.25; one bench/);
    const { correlations: _, ...alone } = mount;
    expect(thermalBudget(mount).chip.temperature).toBe(thermalBudget(alone).chip.temperature);
  });

  it.each<[Correlation | Correlation[], string]>([
    [
      { of: [power, "joint.force"], coefficient: 0.5 },
      "correlations[0].of[1]: expected a field with",
    ],
    [{ of: [power], coefficient: 0.5 }, "correlations[0].of: expected two fields or more"],
    [{ of: [power, power], coefficient: 0.5 }, "correlations[0].of: expected each field once"],
    [
      { of: [power, resistance], coefficient: 1.5 },
      "correlations[0].coefficient: expected a coeff",
    ],
    [
      { of: [power, resistance], matrix: [[1, 0.5]] },
      "correlations[0].matrix: expected 2 rows of 2",
    ],
    [
      {
        of: [power, resistance],
        matrix: [
          [1, 0.5],
          [0.4, 1],
        ],
      },
      "correlations[0].matrix[0][1]: expected as in row 1: 0.4",
    ],
    [
      {
        of: [power, resistance],
        matrix: [
          [0.9, 0.5],
          [0.5, 1],
        ],
      },
      "correlations[0].matrix[0][0]: expected 1, got 0.9",
    ],
    [
      [
        { of: [power, resistance], coefficient: 0.5 },
        { of: [resistance, power, width], coefficient: 0.5 },
      ],
      "correlations[1]: expected each two once",
    ],
    [
      [
        { of: [power, resistance], coefficient: 0.9 },
        { of: [power, width], coefficient: 0.9 },
        { of: [resistance, width], coefficient: -0.9 },
      ],
      "correlations: expected coefficients that can all be true at once",
    ],
  ])("refuses %j", (written, message) => {
    expect(() => readMount(by(...[written].flat()))).toThrow(message);
  });

  it("is taken out by name, and the rest stays", () => {
    const matrix = [
      [1, 0.1, 0.2],
      [0.1, 1, 0.3],
      [0.2, 0.3, 1],
    ];
    const mount = by(
      { of: [power, resistance, width], matrix },
      { of: [resistance, "die.length"], coefficient: 0.4 },
    );
    const left = withCorrelations(mount, [resistance]);
    expect(left.correlations).toEqual([
      {
        of: [power, width],
        matrix: [
          [1, 0.2],
          [0.2, 1],
        ],
      },
    ]);
    expect("correlations" in withCorrelations(mount, [resistance, power])).toBe(false);
  });
});
