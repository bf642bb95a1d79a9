import { describe, expect, it } from "vitest";
import type { DrawnFit, FitPoint } from "../../../src/design/index.js";
import { fitFigure } from "../../../src/index.js";
import { read } from "../read.js";

const point = (
  thermometer: string,
  stage: number,
  power: number,
  more: Partial<FitPoint> = {},
): FitPoint => ({
  place: "readings.csv:2",
  thermometer,
  power,
  stage,
  measured: stage + 1e6 * power,
  fitted: stage,
  uncertainty: 1e-4,
  normalised: 1.5,
  ...more,
});
const fitOf = (points: readonly FitPoint[], more: Partial<DrawnFit> = {}) =>
  ({
    name: "run 7",
    parameters: [],
    points,
    curves: () =>
      ["chip", "box"].flatMap((thermometer) =>
        [0.1, 0.15].map((stage) => ({
          thermometer,
          stage,
          powers: [0, 2e-9],
          temperatures: [stage, stage + 2e-3],
        })),
      ),
    chiSquared: 3,
    degreesOfFreedom: 4,
    probability: 0.5,
    ...more,
  }) as unknown as DrawnFit;
const points = [point("chip", 0.1, 1e-9), point("chip", 0.15, 2e-9), point("box", 0.1, 1e-10)];

describe("readings beside a fit", () => {
  it("are those of the warmest thermometer, one look a stage temperature", () => {
    const { traces, x, y, notes } = read(fitFigure(fitOf(points)));
    const [first, second] = ["stage at 100.0 mK", "stage at 150.0 mK"];
    const names = traces.map(({ name }) => name);
    expect(names).toEqual([first, first, second, second, first, second]);
    expect(notes).toEqual(expect.arrayContaining([first, second]));
    expect([traces[1]!.x, traces[1]!.y, traces[1]!.error_y.array]).toEqual([[1], [101], [0.1]]);
    expect([traces[0]!.x, traces[0]!.y]).toEqual([
      [0, 2],
      [100, 102],
    ]);
    expect([x, y]).toEqual(["heater power (nW)", "hottest point of the chip (mK)"]);
  });

  it("are those of another thermometer when asked, in a unit that fits it", () => {
    const { x, y, traces } = read(fitFigure(fitOf(points), { thermometer: "box" }));
    expect([x, y, traces[1]!.x]).toEqual(["heater power (pW)", "box (mK)", [100]]);
  });

  it("say where bars are too small to see, or none are stated", () => {
    const tiny = points.map((each) => ({ ...each, uncertainty: 1e-9 }));
    expect(fitFigure(fitOf(tiny)).alt).toContain("standard uncertainties are smaller than these");
    const none = fitFigure(fitOf(points.map((each) => ({ ...each, uncertainty: 0 }))));
    expect(read(none).traces[1]!.error_y.visible).toBe(false);
    expect(fitFigure(fitOf(points, { probability: 1e-5 })).alt).toContain(
      "probability below 0.001",
    );
  });
});

describe("the residuals of a fit", () => {
  it("stand in standard uncertainties, in standard deviations where none are stated", () => {
    const { traces, shapes, y2 } = read(fitFigure(fitOf(points)));
    const below = traces.slice(-2);
    expect(below.map((trace) => [trace.x, trace.y])).toEqual([
      [[1], [1.5]],
      [[2], [1.5]],
    ]);
    expect(y2).toBe("residual (standard uncertainties)");
    expect(shapes.map(({ y0 }) => y0)).toEqual([1, -1]);
    const none = points.map((each) => ({ ...each, uncertainty: 0 }));
    expect(read(fitFigure(fitOf(none))).y2).toBe("residual (standard deviations)");
  });
});
