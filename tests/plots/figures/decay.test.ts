import { describe, expect, it } from "vitest";
import { decayFigure } from "../../../src/index.js";
import { hitCourse, read } from "../read.js";

const course = hitCourse();
const after = { time: "1 ms", what: "the muon" } as const;

describe("the figure of a decay", () => {
  it("counts time from a moment, with both axes logarithmic", () => {
    const figure = decayFigure(course, { after, from: "1 us" });
    const { traces, x, y, xaxis, yaxis } = read(figure);
    expect([x, y]).toEqual(["time after the muon (ms)", "rise above the baseline (mK)"]);
    expect([xaxis.type, yaxis.type]).toEqual(["log", "log"]);
    expect(traces[0]!.x[0]).toBeCloseTo(1e-3, 9);
    expect(traces[0]!.x.at(-1)).toBeCloseTo(19, 9);
    expect(figure.alt).toContain("after the muon: ");
  });

  it("leaves out what is back, for which a logarithmic axis has no place", () => {
    const { traces, yaxis } = read(decayFigure(course));
    const drawn = traces[0]!.y.filter((rise) => rise !== null);
    // Counted from 0, the first millisecond lies before the hit.
    expect(traces[0]!.y[0]).toBeNull();
    expect(Math.log10(Math.min(...drawn))).toBeGreaterThan(yaxis.range[0]! - 1);
  });

  it("refuses moments outside the run and places without a rise", () => {
    expect(() => decayFigure(course, { places: [] })).toThrow(
      "places: expected at least one place",
    );
    expect(() => decayFigure(course, { after: { ...after, time: "1 s" } })).toThrow(
      "after.time: expected a time within the run",
    );
    expect(() => decayFigure(course, { from: "1 s" })).toThrow(
      "from: expected a time within the run",
    );
    expect(() => decayFigure(course, { places: ["stage"] })).toThrow(
      "places: expected a place that is warmer than it began",
    );
  });
});
