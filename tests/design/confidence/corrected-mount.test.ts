import { describe, expect, it } from "vitest";
import { quickMount } from "../../../src/design/confidence/corrected-mount.js";
import type { Mount } from "../../../src/mount/mount.js";
import { random } from "../../../src/numerics/random.js";
import { spread } from "../../../src/units/spread.js";
import { catalogue, padded, smallest } from "../../mount/things/smallest.js";

/** A 2-D die that an uncertain spot heats off its middle, which the two-node model knows nothing of. */
const spot = { kind: "spot", x: 1e-3, y: 1.5e-3, radius: 3e-4 } as const;
const mount: Mount = smallest({
  ...padded,
  bonds: { ...padded.bonds, count: 8, length: spread("1 mm", "3 mm") },
  loads: [{ kind: "given", power: spread("0.5 nW", "1.5 nW"), map: spot }],
  limit: { rise: "5 mK" },
});
const options = { catalogue, rows: "none" } as const;

describe("a mount for many solves", () => {
  const { model, own, expensive, scatter } = quickMount(mount, {
    ...options,
    counting: { most: 16 },
  });

  it("is as warm as its 2-D die within what the fit leaves, at numbers of bonds from half to twice", () => {
    expect(scatter).toBeGreaterThan(0);
    expect(scatter).toBeLessThan(0.02);
    expect(expensive).toBeGreaterThan(20);
    const { uniform } = random(20261130);
    for (const bonds of [5, 8, 14]) {
      const [whole, quick] = [own!.withBonds(bonds), model.withBonds(bonds)];
      for (let k = 0; k < 5; k++) {
        const values = Float64Array.from(own!.inputs, ({ quantile }) =>
          quantile(0.05 + 0.9 * uniform()),
        );
        const [a, b] = [whole.evaluate(values), quick.evaluate(values)];
        const ratio = (b.chip - b.stage) / (a.chip - a.stage);
        expect(Math.abs(Math.log(ratio)), `${bonds}`).toBeLessThan(5 * scatter + 1e-3);
        expect(b.margin).toBeCloseTo(b.limit - b.chip, 12);
      }
    }
  });

  it("has the inputs, ranges and name of its own model", () => {
    expect(model.inputs).toBe(own!.inputs);
    expect(model.ranges).toBe(own!.ranges);
    expect(model.name).toBe(mount.name);
  });

  it("of a die with one or two nodes is that itself", () => {
    const two = quickMount({ ...mount, die: { ...mount.die, model: "two nodes" } }, options);
    expect([two.expensive, two.scatter, two.own]).toEqual([0, 0, undefined]);
  });
});
