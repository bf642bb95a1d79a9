import { describe, expect, it } from "vitest";
import { simulateHits } from "../../../src/design/events/hits.js";
import { quickMount } from "../../mount/example.js";

const mount = { ...quickMount(), loads: [{ kind: "muons" }] } as const;

describe("a record of hits", () => {
  it("needs particles, and a duration above 0", () => {
    const quiet = { ...mount, loads: [{ kind: "given", power: "1 nW" }] } as const;
    expect(() => simulateHits(quiet)).toThrow(
      "loads: expected muons or background in the mount, or `sources`, got undefined",
    );
    expect(() => simulateHits(mount, { duration: 0 })).toThrow("duration: expected a time");
  });

  it("leaves the chip at rest between hits: its rest is without the mean heat of particles", () => {
    const record = simulateHits(mount, { duration: "20 s", seed: 2 });
    expect(record.baseline).toBeCloseTo(0.11, 9);
    for (const { height } of record.hits) expect(height).toBeGreaterThan(0);
    const { rises, times } = record.distribution;
    expect(rises).toHaveLength(times.length);
    // Time above a level falls as the level rises.
    for (let i = 1; i < times.length; i++) expect(times[i]!).toBeLessThanOrEqual(times[i - 1]!);
  });

  it("takes a resolved die in the two-node model, and says so", () => {
    const sheet = { ...mount, die: { ...mount.die, model: "sheet" } } as const;
    const { warnings, baseline } = simulateHits(sheet, { duration: "1 s" });
    expect(warnings.join()).toContain("two nodes here: each hit warms all of it at once");
    expect(baseline).toBeCloseTo(0.11, 9);
  });
});
