import { describe, expect, it } from "vitest";
import { type Measurement, Measurements } from "../../../src/design/confidence/measurements.js";

const measurement = (
  name: string,
  saved: number,
  more: Partial<Measurement> = {},
): Measurement => ({
  name,
  accuracy: "10 %",
  remaining: 0.2,
  before: 10e-3,
  after: 10e-3 - saved,
  saved,
  savedError: 1e-4,
  ...more,
});
const all = (list: readonly Measurement[], more: object = {}) =>
  new Measurements({ name: "by hand", all: list, unit: "K", expensive: 0, scatter: 0, ...more });

describe("what measurements would buy", () => {
  it("is told by the first of them, in its unit", () => {
    const found = all([measurement("pads: thickness", 4e-3), measurement("bonds: length", 1e-3)]);
    expect(found.best.name).toBe("pads: thickness");
    expect(found.summary).toBe(
      "Knowing pads: thickness to ± 10 % would buy the most: 10.0 mK would become 6.00 mK.",
    );
    const factor = all([measurement("pads: thickness", 4e-3, { accuracy: "x1.5" })]);
    expect(factor.summary).toContain("to a factor 1.5 would");
  });

  it("is none that does not stand out by two standard errors, or that is rounding", () => {
    expect(all([measurement("pads: thickness", 1.9e-4)]).summary).toBe(
      "No single measurement would buy what can be told from 0.",
    );
    const rows = all([
      measurement("a", 4e-3),
      measurement("b", 5e-4),
      measurement("c", 1.9e-4),
      measurement("d", 1e-14, { savedError: 0 }),
    ]).toText();
    // Three digits beyond twenty standard errors, two before that.
    expect(rows).toMatch(/a +± 10 % +10\.0 mK +6\.00 mK +4\.00 mK +40 %/);
    expect(rows).toMatch(/b +± 10 % +10\.0 mK +9\.50 mK +500 µK +5\.0 %/);
    for (const name of ["c", "d"])
      expect(rows).toMatch(new RegExp(`  ${name} +± 10 % .*not significant`));
  });

  it("says how far the two-node model that answers may be off", () => {
    const list = [measurement("a", 4e-3)];
    expect(all(list, { expensive: 80, scatter: 0.02 }).toText()).toContain(
      "fitted to 80 solves of the 2-D one; its rise is off by 2.0 % of itself",
    );
    expect(all(list).toText()).not.toContain("two-node model");
  });
});
