import { describe, expect, it } from "vitest";
import { timeFigure } from "../../../src/index.js";
import { hitCourse, openMount, read } from "../read.js";

const course = hitCourse();

describe("the figure of a time course", () => {
  it("shows the chip above where the stage began, in units that fit", () => {
    const { traces, x, y, xaxis } = read(timeFigure(course));
    const stage = course.coldest(course.places.at(-1)!)[0]!;
    expect([x, y]).toEqual(["time (ms)", "above the stage at the start (mK)"]);
    expect(xaxis.range).toEqual([0, 20]);
    const highest = Math.max(...course.mean(course.places[0]!));
    expect(Math.max(...(traces[0]!.y as number[]))).toBeCloseTo(1e3 * (highest - stage), 1);
    expect(traces[0]!.showlegend).toBe(false);
  });

  it("keeps both sides of a jump, and few enough points for a screen", () => {
    const { traces } = read(timeFigure(course));
    expect(traces[0]!.x.filter((time) => time === 1)).toHaveLength(2);
    expect(traces[0]!.x.length).toBeLessThan(700);
  });

  it("draws the places asked for and the limit, which a mount may lack", () => {
    const places = course.places.slice(0, 2);
    expect(read(timeFigure(course, { places })).traces).toHaveLength(2);
    expect(read(timeFigure(course)).notes).toEqual(["limit"]);
    expect(read(timeFigure(hitCourse(openMount()))).notes).toEqual([]);
    expect(() => timeFigure(course, { places: [] })).toThrow("places: expected at least one place");
  });
});
