import { inflateSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import {
  curvesFigure,
  dieMapFigure,
  dropsFigure,
  loadsFigure,
  mapFigure,
  mountsFigure,
  sharesFigure,
  thermalBudget,
} from "../../../src/index.js";
import { figurePicture } from "../../../src/plots/index.js";
import { fittedFigure } from "../../../src/plots/picture/fit.js";
import { frameOf } from "../../../src/plots/picture/frame.js";
import { textWidth } from "../../../src/plots/picture/text-size.js";
import { drawable } from "../../../src/plots/traces.js";
import { exampleMount } from "../../mount/example.js";
import { budget, counts, map, mount } from "../examples.js";
import { wellFormed } from "../xml.js";

const named = { ...budget, name: `<b>"long" & longer & longest name of a mount` } as typeof budget;
const figures = {
  drops: dropsFigure(budget),
  shares: sharesFigure(counts, budget.mainPath, {
    scale: "logarithmic",
    limit: 0.01,
    marks: [
      { at: 40, text: "forty hold" },
      { at: 50, text: "fifty are better" },
    ],
  }),
  curves: curvesFigure(map, { limit: 0.01 }),
  map: mapFigure(map, { limit: 0.01, scales: ["logarithmic", "logarithmic"] }),
  die: dieMapFigure(thermalBudget(exampleMount())),
  loads: loadsFigure([budget, thermalBudget({ ...mount, name: "another" })]),
  mounts: mountsFigure([thermalBudget({ ...mount, name: named.name }), budget]),
};

describe.each(Object.entries(figures))("the picture of %s", (_, figure) => {
  it("is well-formed SVG with its alternative, at the width of a page and of a telephone", () => {
    for (const width of [680, 360]) {
      const svg = figurePicture(figure, { width })!;
      expect(wellFormed(svg)).toBe(true);
      expect(svg).not.toMatch(/NaN|undefined|Infinity|<b>/);
      expect(svg).toContain(`viewBox="0 0 ${width} `);
    }
  });

  it("has its words inside, none on another of its kind", () => {
    for (const width of [680, 360]) {
      const frame = frameOf(drawable(figure)!, width);
      const { plot, size, notes, legend, yLabels, xLabels } = frame;
      expect(plot.width).toBeGreaterThan(0.35 * width);
      for (const { lines } of yLabels)
        for (const text of lines) expect(textWidth(text, size.label)).toBeLessThan(plot.left - 8);
      xLabels.slice(1).forEach((label, i) => {
        const half =
          (textWidth(label.lines[0]!, size.label) + textWidth(xLabels[i]!.lines[0]!, size.label)) /
          2;
        expect(label.at - xLabels[i]!.at).toBeGreaterThan(half - 2);
      });
      for (const note of notes) {
        expect(note.left).toBeGreaterThanOrEqual(0);
        expect(note.left + note.width).toBeLessThanOrEqual(width + 1);
      }
      notes.forEach((a, i) => {
        for (const b of notes.slice(i + 1)) {
          const apart =
            a.left + a.width <= b.left ||
            b.left + b.width <= a.left ||
            a.top + a.height <= b.top + 0.5 ||
            b.top + b.height <= a.top + 0.5;
          expect(apart, `${a.lines} and ${b.lines}`).toBe(true);
        }
      });
      for (const { x, y, lines } of legend) {
        for (const text of lines)
          expect(x + 40 + textWidth(text, size.label)).toBeLessThanOrEqual(width);
        expect(y).toBeLessThan(frame.height - 10);
      }
    }
  });

  it("fits Plotly to the same places, without a title of its own", () => {
    const { layout } = fittedFigure(figure, 360) as { layout: Record<string, never> };
    const frame = frameOf(drawable(figure)!, 360, false);
    expect(layout).toMatchObject({
      autosize: true,
      height: frame.height,
      margin: { l: frame.plot.left, t: frame.plot.top },
    });
    expect(layout).not.toHaveProperty("title");
    expect(layout).not.toHaveProperty("width");
  });
});

describe("a picture", () => {
  const line = {
    data: [{ x: [0, 10], y: [0, 5], mode: "lines" }],
    layout: { xaxis: { range: [0, 10] }, yaxis: { range: [0, 5] } },
  };

  it("puts points where the axes say: corner to corner", () => {
    const { plot } = frameOf(drawable(line)!, 680);
    const { left, top, width, height } = plot;
    expect(figurePicture(line)).toContain(`d="M${left} ${top + height}L${left + width} ${top}"`);
  });

  it("draws error bars from low to high", () => {
    const svg = figurePicture({
      ...line,
      data: [{ x: [5], y: [2], mode: "markers", error_y: { array: [1], arrayminus: [2] } }],
    })!;
    const { px, py } = frameOf(drawable(line)!, 680);
    expect(svg).toContain(`d="M${px(5)} ${py(0)}L${px(5)} ${py(3)}"`);
  });

  it("stacks bars end to end", () => {
    const bars = {
      data: [1, 2].map((length) => ({
        type: "bar",
        orientation: "h",
        y: ["a"],
        x: [length],
        name: `${length}`,
      })),
      layout: { barmode: "stack", xaxis: { range: [0, 3] }, yaxis: {} },
    };
    const frame = frameOf(drawable(bars)!, 680);
    const rects = [
      ...figurePicture(bars)!.matchAll(
        /<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)"[^>]*stroke-width="0.8"/g,
      ),
    ].slice(0, 2);
    expect(Number(rects[1]![1])).toBeCloseTo(Number(rects[0]![1]) + Number(rects[0]![2]), 1);
    expect(Number(rects[1]![2])).toBeCloseTo((2 / 3) * frame.plot.width, 1);
  });

  it("follows a contour of a plane: straight, where the plane has that value", () => {
    const grid = [0, 1, 2, 3, 4];
    const plane = {
      data: [
        {
          type: "contour",
          x: grid,
          y: grid,
          z: grid.map(() => grid),
          contours: { start: 2.5, end: 2.5, size: 1 },
        },
      ],
      layout: {},
    };
    const { px } = frameOf(drawable(plane)!, 680);
    const path = /<path d="((?:M[\d. ]+L[\d. ]+)+)"/.exec(
      figurePicture(plane)!.replace(/^[\s\S]*<g clip-path/, ""),
    )![1]!;
    for (const [x] of path.match(/[\d.]+ [\d.]+/g)!.map((p) => p.split(" ").map(Number)))
      expect(x).toBeCloseTo(px(2.5), 1);
  });

  it("leaves gaps of a map clear, and draws its cells as they are unless it is smoothed", () => {
    const z = [
      [0, null],
      [1, 1],
    ];
    const svg = figurePicture({ data: [{ type: "heatmap", z, showscale: false }], layout: {} })!;
    const bytes = Buffer.from(/base64,([^"]+)/.exec(svg)![1]!, "base64");
    const at = bytes.indexOf("IDAT");
    const raw = inflateSync(bytes.subarray(at + 4, at + 4 + bytes.readUInt32BE(at - 4)));
    const width = bytes.readUInt32BE(16);
    const rows = raw.length / (width + 1);
    const pixel = (row: number, column: number) => raw[row * (width + 1) + 1 + column];
    expect([pixel(0, 0), pixel(0, width - 1)]).toEqual([63, 63]);
    expect([pixel(rows - 1, 0), pixel(rows - 1, width - 1)]).toEqual([0, 64]);
    expect(new Set(raw)).toEqual(new Set([0, 63, 64]));
  });

  it("is not made of what only Plotly draws", () => {
    expect(figurePicture({ data: [{ type: "surface" }], layout: {} })).toBeUndefined();
    for (const more of [
      { yaxis: "y2" },
      { fill: "tonexty" },
      { error_x: { array: [1] } },
      { line: { shape: "hv" } },
      { type: "bar", error_y: { array: [1] } },
    ])
      expect(figurePicture({ data: [{ y: [1], ...more }], layout: {} })).toBeUndefined();
  });
});
