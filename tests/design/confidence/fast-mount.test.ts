import { describe, expect, it } from "vitest";
import { evaluated, unsettled } from "../../../src/design/confidence/evaluated.js";
import { uncertainMount } from "../../../src/design/confidence/uncertain-mount.js";
import { readMount } from "../../../src/mount/read.js";
import { spread } from "../../../src/units/spread.js";
import { catalogue, modelOf, smallest } from "../../mount/things/smallest.js";

/** A die on a given conductance to its box, of which all is known in closed form. */
const mount = smallest({
  die: { material: "silicon", width: 4e-3, length: 4e-3, thickness: 3e-4, model: "one node" },
  clamps: [{ name: "clamps", conductance: spread(1e-7, 4e-7), at: 0.1, exponent: 3, count: 2 }],
  loads: [{ kind: "given", power: spread(0.5e-9, 2e-9) }],
  limit: { rise: 5e-3 },
});

describe("a mount compiled to formulas", () => {
  const compiled = uncertainMount(mount, { catalogue, rows: "none" });
  const { list, at } = {
    list: compiled.inputs.map(({ field }) => field),
    at: (conductance: number, power: number) =>
      compiled.evaluate(Float64Array.of(conductance, power)),
  };

  it("drops over a conductance of T³ as its integral says", () => {
    expect(list).toEqual(["clamps.0.conductance", "loads.0.power"]);
    for (const [g, power] of [
      [1.3e-7, 1.7e-9],
      [3.1e-7, 0.6e-9],
    ] as const) {
      const { chip, stage, limit, margin, left } = at(g, power);
      const plain = readMount(mount);
      const solved = modelOf(
        {
          ...mount,
          clamps: [{ name: "clamps", conductance: g, at: 0.1, exponent: 3, count: 2 }],
          loads: [{ kind: "given", power }],
        },
        "one node",
      ).point();
      const box = solved.reading.temperatures.get("box by the die")!;
      // P = 2 G(0.1 K)/(4 · 0.1³) (T⁴ − T_box⁴)
      expect(chip).toBeCloseTo((box ** 4 + (power * 4 * 0.1 ** 3) / (2 * g)) ** 0.25, 9);
      expect([stage, limit]).toEqual([plain.stage, expect.closeTo(0.105, 12)]);
      expect(margin).toBe(limit - chip);
      expect(left).toBe(0);
    }
  });

  it("is solved in full where an input lies beyond what its formulas were made for", () => {
    const far = at(5e-9, 3e-8);
    const solved = modelOf(
      {
        ...mount,
        clamps: [{ name: "clamps", conductance: 5e-9, at: 0.1, exponent: 3, count: 2 }],
        loads: [{ kind: "given", power: 3e-8 }],
      },
      "one node",
    ).point();
    expect(far.chip / solved.chip).toBeCloseTo(1, 9);
  });

  it("is warmer than anything where there is no steady state", () => {
    expect(evaluated(0.11, 0.1, 0.105, 3)).toEqual({
      chip: 0.11,
      stage: 0.1,
      limit: 0.105,
      margin: expect.closeTo(-5e-3, 12),
      left: 3,
    });
    expect([unsettled.chip, unsettled.margin]).toEqual([
      Number.POSITIVE_INFINITY,
      Number.NEGATIVE_INFINITY,
    ]);
  });
});
