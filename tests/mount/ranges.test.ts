import { describe, expect, it } from "vitest";
import type { TemperatureRange } from "../../src/conductor.js";
import { thermalBudget } from "../../src/mount/budget.js";
import { pointWarnings, rangeWarnings } from "../../src/mount/ranges.js";
import type { MountLoad } from "../../src/mount/things/load.js";
import { dieModels, modelOf, smallest } from "./things/smallest.js";

const path = (...ranges: TemperatureRange[]) => ({
  name: "strap",
  from: "hot",
  to: "cold",
  conductor: { conductance: () => 1, integral: (T: number) => T, ranges },
});
const within =
  (cold: number, hot: number) =>
  (place: string): readonly [number, number] =>
    place === "hot" ? [hot, hot] : [cold, cold];

describe("ranges of laws", () => {
  const range = { from: 0.2, to: 0.6, of: "a ball", outside: "warn" } as const;

  it("are said where a temperature lies outside, each once", () => {
    expect(rangeWarnings([path(range)], within(0.2, 0.6))).toEqual([]);
    const cold = "strap: 100 mK is outside 200 mK to 600 mK (a ball); the law was continued.";
    expect(rangeWarnings([path(range, range)], within(0.1, 0.3))).toEqual([cold]);
    expect(rangeWarnings([path(range)], within(0.3, 1))[0]).toContain("strap: 1.00 K is outside");
  });

  it("are said by the end they have", () => {
    const open = { ...range, to: Number.POSITIVE_INFINITY };
    expect(rangeWarnings([path(open)], within(0.1, 0.3))[0]).toContain("200 mK and up");
    const low = { ...range, from: 0 };
    expect(rangeWarnings([path(low)], within(0.1, 0.7))[0]).toContain("what holds up to 600 mK");
  });

  it("of a force are held against the force that was given, with the factor", () => {
    const of = (value: number) => {
      const given = { quantity: "force", value, unit: "N" };
      return rangeWarnings([path({ ...range, from: 1000, to: 4000, given })], within(0.1, 0.3));
    };
    expect(of(1000)).toEqual([]);
    expect(of(20)).toEqual([
      "strap: a force of 20.0 N is outside 1.00 kN to 4.00 kN, by a factor of 50 (a ball); the law was continued.",
    ]);
    expect(of(6000)[0]).toContain("by a factor of 1.5");
  });

  it("refuse where the law is refused", () => {
    expect(() => rangeWarnings([path({ ...range, outside: "refuse" })], within(0.1, 0.3))).toThrow(
      RangeError,
    );
  });

  it.each(dieModels)("hold for every path of a mount, and for wires onto the die: %s", (die) => {
    const wire: MountLoad = {
      kind: "conduction",
      material: "nbti",
      length: 1,
      diameter: 1e-4,
      from: 9.5,
    };
    const mount = smallest({ loads: [wire] });
    const point = modelOf(mount, die).point();
    // Clamps are backed from 0.2 K, the die is at 0.1 K; the wire's law ends at 9 K.
    const warnings = (extents?: typeof point.reading.extents) => {
      try {
        return pointWarnings(point, extents).join("\n");
      } catch (error) {
        return (error as Error).message;
      }
    };
    expect(warnings()).toMatch(
      /clamps: 10\d mK is outside 200 mK to 600 mK|conduction: 9.50 K is outside/,
    );
    const budget = thermalBudget(smallest({ die: { ...mount.die, model: die } }));
    expect(budget.warnings.join("\n")).toMatch(/clamps: 100 mK is outside 200 mK to 600 mK/);
  });
});
