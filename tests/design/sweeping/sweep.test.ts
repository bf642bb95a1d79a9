import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Mount, sweep, thermalBudget, withField } from "../../../src/index.js";
import { quickMount } from "../../mount/example.js";
import { randomMount } from "../../mount/random-mount.js";

describe("a sweep", () => {
  it("gives at each point what the budget of that mount gives", () => {
    const mount = quickMount();
    const lengths = ["0.5 mm", "3 mm", "40 mm"] as const;
    const counts = [5, 80, 300];
    const map = sweep(
      mount,
      { field: "bonds.count", values: counts },
      { field: "bonds.length", values: lengths },
    );
    counts.forEach((count, i) => {
      lengths.forEach((length, j) => {
        const point = withField(withField(mount, "bonds.count", count), "bonds.length", length);
        expect(map.temperature(i, j) / thermalBudget(point).chip.temperature).toBeCloseTo(1, 12);
      });
    });
  });

  it("does so for any two fields of any mount, whichever parts they touch", () => {
    const fields = [
      ["bonds.count", [3, 200]],
      ["bonds.length", [1e-3, 1e-2]],
      ["bonds.residualResistivityRatio", [5, 90]],
      ["pads.thickness", [1e-7, 1e-6]],
      ["pads.length", [2e-4, 8e-4]],
      ["die.thickness", [2e-4, 8e-4]],
      ["die.width", [1e-2, 3e-2]],
      ["box.pathLength", [1e-2, 1e-1]],
      ["joint.resistance", [1e-8, 1e-6]],
      ["stage", [0.05, 0.2]],
    ] as const;
    const index = fc.integer({ min: 0, max: fields.length - 1 });
    fc.assert(
      fc.property(randomMount, index, index, (mount, a, b) => {
        fc.pre(a !== b);
        const [first, firstValues] = fields[a]!;
        const [second, secondValues] = fields[b]!;
        const map = sweep(
          mount,
          { field: first, values: firstValues as readonly number[] },
          { field: second, values: secondValues as readonly number[] },
        );
        for (const i of [0, 1]) {
          for (const j of [0, 1]) {
            const point = withField(
              withField(mount, first, firstValues[i]),
              second,
              secondValues[j],
            );
            const { places } = thermalBudget(point as Mount);
            for (const { name, temperature } of places) {
              expect(map.temperature(i, j, name) / temperature).toBeCloseTo(1, 11);
            }
          }
        }
      }),
      { numRuns: 60, seed: 7 },
    );
  });

  it("spreads values evenly or by equal factors, whole for counts, without doubles", () => {
    const even = sweep(quickMount(), { field: "stage", from: "50 mK", to: "0.15 K", count: 3 });
    expect([...even.axes[0]!.values]).toEqual([0.05, expect.closeTo(0.1, 12), 0.15]);
    const counts = sweep(quickMount(), {
      field: "bonds.count",
      from: 1,
      to: 10,
      count: 20,
      spacing: "logarithmic",
    });
    expect([...counts.axes[0]!.values]).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
  });

  it("can add a field that the mount leaves at its default", () => {
    const feet = sweep(quickMount(), { field: "bonds.footResistance", values: [0, "50 mohm"] });
    expect(feet.rise(1)).toBeGreaterThan(feet.rise(0));
  });

  it("leaves the mount as it was", () => {
    const mount = quickMount();
    sweep(mount, { field: "bonds.count", from: 1, to: 100, count: 5 });
    expect(mount).toEqual(quickMount());
  });

  it.each([
    [
      { field: "bonds.cout", values: [1] },
      'bonds.cout: field "cout" is not known, did you mean "count"?',
    ],
    [
      { field: "bonds.count", values: [] },
      "bonds.count values: expected 1 to 100000 values, got []",
    ],
    [
      { field: "bonds.count", values: [1.5] },
      "bonds.count: expected a whole number of at least 1, got 1.5",
    ],
    [
      { field: "bonds.length", values: ["1 mK"] },
      'bonds.length: expected a length such as "25 um" or a number in metres, got "1 mK"',
    ],
    [
      { field: "stage", from: 0.1, to: 0.2, count: 1 },
      "stage count: expected a whole number from 2 to 100000, got 1",
    ],
    [
      { field: "stage", from: 0.1, to: 0.2, count: 3, spacing: "cubic" },
      'stage spacing: expected "linear" or "logarithmic", got "cubic"',
    ],
    [
      { field: "clamps.0.force", values: [1] },
      "clamps.0.force: expected a field whose parent is in the mount",
    ],
    [
      { field: "loads.9.power", values: [1] },
      'loads.9.power: expected an index from 0 to 2, got "9"',
    ],
    [{ field: "die.material", values: ["sapphire"] }, "die.material: expected a numeric field"],
  ])("refuses %j", (axis, message) => {
    expect(() => sweep(quickMount(), axis as never)).toThrow(message);
  });
});
