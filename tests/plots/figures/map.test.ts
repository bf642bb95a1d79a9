import { describe, expect, it } from "vitest";
import { mapFigure, sweep } from "../../../src/index.js";
import { quickMount } from "../../mount/example.js";
import { read } from "../read.js";

const map = sweep(
  quickMount(),
  { field: "bonds.count", values: [20, 80, 300] },
  { field: "bonds.length", values: ["1 mm", "10 mm"] },
);

describe("the map of a sweep", () => {
  it("has the first field along x, the second along y, with their units", () => {
    const { traces, x, y } = read(mapFigure(map));
    expect(traces[0]!.x).toEqual([20, 80, 300]);
    expect(10 ** traces[0]!.z[1]![2]!).toBeCloseTo(1e3 * map.rise(2, 1), 2);
    expect([x, y]).toEqual(["number of bonds", "bond length (mm)"]);
  });

  it("has contours at round values between the lowest and the highest, and a heavy one at the limit", () => {
    const rises = [0, 1, 2].flatMap((i) => [0, 1].map((j) => 1e3 * map.rise(i, j)));
    const { traces } = read(mapFigure(map, { limit: 0.01 }));
    const contours = traces.filter(({ type }) => type === "contour");
    const levels = contours.map(
      (trace) => (trace as never as { contours: { start: number } }).contours.start,
    );
    expect(contours.at(-1)!.line.width).toBe(4);
    expect(levels.at(-1)).toBe(10);
    expect(levels.length).toBeGreaterThan(2);
    for (const level of levels.slice(0, -1)) {
      expect(level.toExponential()).toMatch(/^[125]e/);
      expect(level).toBeGreaterThan(Math.min(...rises));
      expect(level).toBeLessThan(Math.max(...rises));
    }
  });

  it("puts a mark given in SI where the axes say", () => {
    const mark = { at: [80, 1.5e-3], text: "as drawn" } as const;
    const last = read(mapFigure(map, { mark })).traces.at(-1)!;
    expect([last.x[0], last.y[0]]).toEqual([80, 1.5]);
  });
});
