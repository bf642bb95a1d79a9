import { describe, expect, it } from "vitest";
import { hotSpotFigure } from "../../../src/index.js";
import { coarseMount, hitCourse, read } from "../read.js";

const course = hitCourse(coarseMount());
const grid = course.grid!;

describe("the die after a hit", () => {
  it("has one map a time in one frame, on one logarithmic scale", () => {
    const times = [0.001, 0.002, 0.004, 0.01];
    const { traces, x, y, notes } = read(hotSpotFigure(course, times));
    expect([x, y]).toEqual(["x (mm)", "y (mm)"]);
    expect(notes).toHaveLength(4);
    expect(notes[1]).toBe("after 2.0 ms");
    // Two maps in a row with a gap of three cells between.
    expect(traces[0]!.x).toHaveLength(2 * grid.cellsX + 3);
    const all = traces[0]!.z.flat().filter((v) => v !== null);
    expect(Math.max(...all) - Math.min(...all)).toBeLessThanOrEqual(4.001);
    const peak = Math.max(...times.flatMap((time) => [...course.dieRise(time)]));
    expect(Math.max(...all)).toBeCloseTo(Math.log10(1e3 * peak), 2);
  });

  it("has a map of the whole die at each place of a slider, from the first time to the last", () => {
    const { frames, data } = hotSpotFigure(course, [0.002, 0.01]);
    const each = frames!.each;
    expect([each[0]!.name, each.at(-1)!.name]).toEqual(["after 2.0 ms", "after 10 ms"]);
    const last = each.at(-1)!.data[0] as { z: number[][]; zmax: number; customdata: number[][] };
    const rise = Math.max(...course.dieRise(0.01));
    expect(Math.max(...last.customdata.flat())).toBeCloseTo(1e3 * rise, 2);
    expect(last.zmax).toBe((data[0] as typeof last).zmax);
    expect(last.z).toHaveLength(grid.cellsY);
    expect(hotSpotFigure(course, [0.002]).frames).toBeUndefined();
  });

  it("says from how much to how much each map goes", () => {
    expect(hotSpotFigure(course, [0.002]).alt).toMatch(/2\.0 ms after the hit from .* to .*K\.$/);
  });

  it("is refused for other numbers of times, times outside the run, and a die of few nodes", () => {
    expect(() => hotSpotFigure(course, [])).toThrow("times: expected 1 to 4 times");
    expect(() => hotSpotFigure(course, [1])).toThrow(
      "times: expected times from 0 to 0.02 s, got 1",
    );
    expect(() => hotSpotFigure(course, [0])).toThrow(
      "times: expected a time at which the die has risen",
    );
    expect(() => hotSpotFigure(hitCourse(), [0.002])).toThrow('die.model: expected "sheet"');
  });
});
