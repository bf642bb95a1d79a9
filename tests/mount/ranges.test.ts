import { describe, expect, it } from "vitest";
import type { TemperatureRange } from "../../src/conductor.js";
import { thermalBudget } from "../../src/mount/budget.js";
import { pointWarnings } from "../../src/mount/ranges.js";
import type { MountLoad } from "../../src/mount/things/load.js";
import { type Extent, rangeWarnings, type UsedLaw } from "../../src/ranges.js";
import { dieModels, modelOf, smallest } from "./things/smallest.js";

const strap = (used: Extent, ...ranges: TemperatureRange[]): UsedLaw => ({
  name: "strap",
  law: { ranges },
  used,
});

describe("ranges of laws", () => {
  const range = { from: 0.2, to: 0.6, of: "a ball", outside: "warn" } as const;

  it("are said where a temperature lies outside, each once, with how far", () => {
    expect(rangeWarnings([strap([0.2, 0.6], range)])).toEqual([]);
    const cold =
      "strap: 100 mK is outside 200 mK to 600 mK (a ball), by a factor 2.0; extrapolated beyond its range.";
    expect(rangeWarnings([strap([0.1, 0.3], range, range)])).toEqual([cold]);
    expect(rangeWarnings([strap([0.15, 0.2], range), strap([0.1, 0.3], range)])).toEqual([cold]);
    expect(rangeWarnings([strap([0.3, 1], range)])[0]).toContain("strap: 1.00 K is outside");
  });

  it("are said by the end that was left further", () => {
    const both = strap([0.19, 2.4], range);
    expect(rangeWarnings([both])[0]).toContain(
      "2.40 K is outside 200 mK to 600 mK (a ball), by a factor 4.0",
    );
  });

  it("are said by the end they have", () => {
    const open = { ...range, to: Number.POSITIVE_INFINITY };
    expect(rangeWarnings([strap([0.1, 0.3], open)])[0]).toContain("200 mK and up");
    const low = { ...range, from: 0 };
    expect(rangeWarnings([strap([0.1, 0.7], low)])[0]).toContain("what holds up to 600 mK");
  });

  it("are said of another number than the temperature", () => {
    const force = { from: 1, to: 10, of: "a ball", outside: "warn" } as const;
    const pressed = (value: number) =>
      strap([0.1, 0.3], { ...force, given: { quantity: "force", value, unit: "N" } });
    expect(rangeWarnings([pressed(3)])).toEqual([]);
    expect(rangeWarnings([pressed(50)])).toEqual([
      "strap: a force of 50.0 N is outside 1.00 N to 10.0 N (a ball), by a factor 5.0; extrapolated beyond its range.",
    ]);
  });

  it("refuse where the law is refused", () => {
    const refused = strap([0.1, 0.3], { ...range, outside: "refuse" });
    expect(() => rangeWarnings([refused])).toThrow(RangeError);
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
    const warnings = () => {
      try {
        return pointWarnings(point).join("\n");
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
