import { describe, expect, it } from "vitest";
import { readingOfNodes } from "../../src/mount/reading.js";
import type { MountLoad } from "../../src/mount/things/load.js";
import { modelOf, padded, smallest } from "./things/smallest.js";

describe("a reading of a solution", () => {
  it("is node by node where the die is not resolved", () => {
    const { solution, reading } = modelOf(smallest(padded), "one node").point();
    expect(reading).toEqual(readingOfNodes(solution));
    for (const [name, T] of solution.temperatures) {
      expect(reading.temperatures.get(name)).toBe(T);
      expect(reading.extents.get(name)).toEqual([T, T]);
    }
    expect(reading.field).toBeUndefined();
  });

  it("adds up the links of a path, and takes places by the heat that leaves them", () => {
    const off: MountLoad = {
      kind: "given",
      power: 1e-8,
      map: { kind: "spot", x: 1e-3, y: 1e-3, radius: 2e-4 },
    };
    const { solution, reading } = modelOf(smallest({ ...padded, loads: [off] }), "sheet").point();
    const flow = (name: string) => solution.flows.find(({ link }) => link === name)!.power;
    const feet = [1, 2, 3, 4].map((k) => solution.temperatures.get(`pad foot ${k}`)!);
    const through = [1, 2, 3, 4].map((k) => flow(`bonds ${k}`));
    const total = through.reduce((sum, power) => sum + power, 0);
    expect(reading.flows.get("bonds")! / total).toBeCloseTo(1, 12);
    const mean = feet.reduce((sum, T, k) => sum + (T * through[k]!) / total, 0);
    expect(reading.temperatures.get("pad foot")! / mean).toBeCloseTo(1, 12);
    expect(reading.extents.get("pad foot")).toEqual([Math.min(...feet), Math.max(...feet)]);
    expect(Math.max(...feet)).toBeGreaterThan(Math.min(...feet));
  });

  it("says how warm the die is where a wire touches it, and which place is hottest", () => {
    const wire: MountLoad = {
      kind: "conduction",
      material: "nbti",
      length: 1e-2,
      diameter: 1e-4,
      from: 0.9,
    };
    const point = modelOf(smallest({ ...padded, loads: [wire] }), "sheet").point();
    const { temperatures, field } = point.reading;
    expect(temperatures.get("die at the loads[0]")).toBeGreaterThan(
      temperatures.get("die at the pads")!,
    );
    expect(temperatures.get("die, hottest point")).toBe(field!.hottest.temperature);
    expect(point.chip).toBe(field!.hottest.temperature);
    expect(Math.abs(field!.hottest.x - 2e-3)).toBeLessThan(5e-4);
  });
});
