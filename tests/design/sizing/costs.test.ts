import { describe, expect, it } from "vitest";
import { costOf } from "../../../src/design/sizing/costs.js";
import { readMount } from "../../../src/mount/read.js";
import { padded, smallest } from "../../mount/things/smallest.js";

const plain = (things: Parameters<typeof smallest>[0]) => readMount(smallest(things));

describe("what a mount costs", () => {
  it("is its bonds, or the gold in wires and pads: π d² L/4 each, and a pad for each `perPad`", () => {
    expect(costOf("bonds").of(plain(padded))).toBe(4);
    const wire = (Math.PI / 4) * 2.5e-5 ** 2 * 2e-3;
    const pad = 2e-4 * 3e-4 * 5e-7;
    expect(costOf("gold").of(plain(padded)) / (4 * (wire + pad))).toBeCloseTo(1, 12);
    const twice = plain({ ...padded, bonds: { ...padded.bonds, perPad: 2 } });
    expect(costOf("gold").of(twice) / (4 * wire + 2 * pad)).toBeCloseTo(1, 12);
    const aluminium = plain({ ...padded, bonds: { ...padded.bonds, material: "aluminium" } });
    expect(costOf("gold").of(aluminium) / (4 * pad)).toBeCloseTo(1, 12);
  });

  it("is the force of all clamps together, as far as they have one", () => {
    const clamps = [
      { name: "a", faces: "sapphire on silicon", force: 3, count: 4 },
      { name: "b", faces: "sapphire on silicon", force: 5 },
      { name: "c", conductance: 1e-9, at: 0.1, exponent: 3 },
    ];
    expect(costOf("force").of(plain({ clamps }))).toBe(17);
  });

  it("is one of one's own, and refused where it is none or the mount has no such part", () => {
    const own = { name: "thickness", unit: "m", of: () => 3 };
    expect(costOf(own)).toBe(own);
    for (const least of ["silver", "toString", { name: "x", unit: "" }, null])
      expect(() => costOf(least as never)).toThrow(
        'least: expected "bonds", "gold", "force" or a cost with name, unit and of(mount)',
      );
    expect(() => costOf("bonds").of(plain({}))).toThrow(
      "bonds: expected bonds, which are to cost least",
    );
    expect(() => costOf("force").of(plain(padded))).toThrow(
      "clamps: expected clamps, which are to cost",
    );
  });
});
