import { describe, expect, it } from "vitest";
import { HitSimulation } from "../../../src/design/events/hit-simulation.js";
import { elementaryCharge } from "../../../src/units/constants.js";

const keV = 1e3 * elementaryCharge;
const hit = (time: number, source: string, energy: number, height: number) => ({
  time,
  source,
  energy,
  height,
});
const simulation = (more: object = {}) =>
  new HitSimulation({
    name: "by hand",
    sources: [
      { name: "muons", rate: 0.02, energy: 150 * keV },
      { name: "gamma rays", rate: 0.01, energy: 80 * keV },
    ],
    hits: [
      hit(10, "muons", 100 * keV, 1e-3),
      hit(40, "muons", 200 * keV, 2e-3),
      hit(90, "gamma rays", 60 * keV, 0.5e-3),
    ],
    duration: 120,
    seed: 1,
    baseline: 0.1,
    threshold: 0.1015,
    deadTime: 6,
    excursions: 2,
    distribution: { rises: Float64Array.of(1e-4, 1e-3), times: Float64Array.of(60, 12) },
    meanRise: 1e-4,
    ...more,
  } as never);

describe("hits of a span of time", () => {
  const hour = simulation();

  it("have a rate, a power and a dead time over all of it", () => {
    expect(hour.rate).toBeCloseTo(3 / 120, 12);
    expect(hour.power).toBeCloseTo((360 * keV) / 120, 25);
    expect(hour.deadFraction).toBeCloseTo(6 / 120, 12);
    expect(simulation({ threshold: undefined }).deadFraction).toBeUndefined();
  });

  it("leave the chip above a rise for a share of it: between two of the levels by their logarithm", () => {
    expect(hour.shareAbove(1e-4)).toBe(0.5);
    expect(hour.shareAbove(1e-5)).toBe(0.5);
    expect(hour.shareAbove(1e-3)).toBeCloseTo(0.1, 12);
    expect(hour.shareAbove(Math.sqrt(1e-7))).toBeCloseTo(0.3, 12);
    expect(hour.shareAbove(2e-3)).toBe(0);
    expect(() => hour.shareAbove(0)).toThrow("rise: expected a rise above 0 in K, got 0");
  });

  it("are told with the largest of them, and with how often the chip was too warm", () => {
    expect(hour.summary).toBe(
      "3 hits in 120 s, 0.0250 a second, which bring 3.00 keV a second; the largest warms the chip by 2.00 mK " +
        "from 100.0 mK. The chip is above 101.5 mK for 5.0 % of the time, in 2 stretches of 3.00 s on average.",
    );
    expect(simulation({ excursions: 1 }).summary).toMatch(/in 1 stretch of 6\.00 s\.$/);
    expect(simulation({ deadTime: 0, excursions: 0 }).summary).toContain(
      "never goes above 101.5 mK",
    );
    expect(simulation({ baseline: 0.2 }).summary).toContain("above 101.5 mK without any hit");
    expect(simulation({ hits: [], threshold: undefined }).summary).toBe("No hit came in 120 s.");
    expect(simulation({ duration: 7200 }).summary).toContain("in 2 h");
  });

  it("are counted by source, beside as many as were expected", () => {
    const rows = hour.toText().split("\n");
    expect(rows.find((row) => row.includes("muons"))).toMatch(/muons +2 +2\.40 +150 keV/);
    expect(rows.find((row) => row.includes("gamma"))).toMatch(/gamma rays +1 +1\.20 +80\.0 keV/);
    const csv = hour.toCsv();
    expect(csv).toContain('"share of time above the threshold",0.05');
    expect(csv.match(/^"hit \d/gm)).toHaveLength(9);
  });
});
