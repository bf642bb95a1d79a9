import { describe, expect, it } from "vitest";
import { frameOf } from "../../../src/plots/picture/frame.js";
import type { Drawn } from "../../../src/plots/picture/looks.js";
import { colourBar, drawMaps } from "../../../src/plots/picture/map.js";
import { drawable } from "../../../src/plots/traces.js";

const axes = { xaxis: { range: [-2, 2] }, yaxis: { range: [-2, 2] } };
const framed = (...data: object[]) => frameOf(drawable({ data, layout: axes })!, 680);
function maps(...data: object[]) {
  const frame = framed(...data);
  const to: Drawn = { id: "p", definitions: new Set(), clipped: [], free: [] };
  drawMaps(frame, to);
  return { ...to, frame };
}
const side = Array.from({ length: 41 }, (_, k) => -2 + k / 10);
const bowl = side.map((y) => side.map((x): number | null => x * x + y * y));
const contour = (z: readonly (readonly (number | null)[])[], level: number, more: object = {}) => ({
  type: "contour",
  x: side,
  y: side,
  z,
  contours: { start: level, end: level, size: 1, ...more },
});
/** Ends of the pieces of a contour, in the units of the axes. */
function ends({ clipped, frame: { px, py } }: ReturnType<typeof maps>) {
  const d = /d="([^"]*)"/.exec(clipped[0] ?? "")?.[1] ?? "";
  const of = (at: (v: number) => number, pixel: number) => (pixel - at(0)) / (at(1) - at(0));
  return [...d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(
    (found) => [of(px, Number(found[1])), of(py, Number(found[2]))] as const,
  );
}

describe("contours", () => {
  it("of a bowl are circles, closed: x² + y² = level", () => {
    const all = ends(maps(contour(bowl, 1)));
    expect(all.length).toBeGreaterThan(40);
    for (const [x, y] of all) expect(Math.hypot(x, y)).toBeCloseTo(1, 2);
    // Each end is the end of another piece too.
    const keys = all.map(([x, y]) => `${x.toFixed(2)} ${y.toFixed(2)}`);
    for (const key of keys) expect(keys.filter((other) => other === key).length).toBeGreaterThan(1);
  });

  it("go round no gap of a map, which is not 0 high", () => {
    const gap = bowl.map((row, j) => row.map((v, i) => (i > 28 && j > 28 ? null : v)));
    const all = ends(maps(contour(gap, 0.5)));
    for (const [x, y] of all) expect(Math.hypot(x, y)).toBeCloseTo(Math.SQRT1_2, 2);
    // A plane with a hole, below which its level lies.
    const holed = side.map((_, j) => side.map((_, i) => (i === 20 && j === 20 ? null : 3)));
    expect(maps(contour(holed, 1)).clipped).toEqual([]);
  });

  it("are none where no level is met or given, and have their number where that is asked for", () => {
    expect(maps(contour(bowl, 99)).clipped).toEqual([]);
    expect(maps({ ...contour(bowl, 1), contours: {} }).clipped).toEqual([]);
    const { clipped } = maps(contour(bowl, 1, { end: 3, showlabels: true }));
    expect(clipped).toHaveLength(6);
    expect(
      clipped.filter((each) => each.startsWith("<text")).map((each) => />([^<]*)</.exec(each)![1]),
    ).toEqual(["1", "2", "3"]);
  });
});

describe("a colour bar", () => {
  it("runs from the lowest value to the highest, low at the bottom; none without a map", () => {
    const trace = {
      type: "heatmap",
      x: side,
      y: side,
      z: bowl,
      colorscale: [
        [0, "#000000"],
        [1, "#ffffff"],
      ],
    };
    const bar = (more: object) => colourBar(framed({ ...trace, ...more }), "p");
    const stops = (svg: string) =>
      [...svg.matchAll(/stop-color="rgb\((\d+)/g)].map((found) => Number(found[1]));
    const rising = stops(bar({}));
    expect([rising[0], rising.at(-1)]).toEqual([0, 255]);
    expect(rising).toEqual([...rising].sort((a, b) => a - b));
    expect(stops(bar({ reversescale: true }))).toEqual([...rising].reverse());
    const titled = bar({
      colorbar: { title: { text: "rise <b>(mK)</b>" }, tickvals: [0, 8], ticktext: ["0", "8"] },
    });
    expect(titled).toContain(">rise (mK)<");
    expect(bar({ showscale: false })).toBe("");
  });
});
