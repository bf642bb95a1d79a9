import { describe, expect, it } from "vitest";
import { halvesOf, stacked } from "../../src/plots/composite.js";
import { figureCsv } from "../../src/plots/picture/figure-csv.js";
import { fittedFigure } from "../../src/plots/picture/fit.js";
import { framesOf } from "../../src/plots/picture/frames.js";
import { figurePicture } from "../../src/plots/picture/picture.js";
import { drawable } from "../../src/plots/traces.js";
import { wellFormed } from "./xml.js";

const xaxis = { title: { text: "x (m)" }, range: [0, 10] };
const upper = {
  data: [{ type: "scatter", mode: "lines", name: "a", x: [0, 10], y: [0, 1e6] }],
  layout: {
    title: "T",
    xaxis,
    yaxis: { title: { text: "y (kg)" } },
    annotations: [{ text: "end", x: 10, y: 1e6, xanchor: "left" }],
  },
  alt: "both",
};
const lower = {
  data: [{ type: "scatter", mode: "markers", name: "a", x: [0, 10], y: [-1, 1] }],
  layout: {
    xaxis,
    yaxis: { title: { text: "residual" }, range: [-2, 2] },
    shapes: [{ type: "line", x0: 0, x1: 1, xref: "paper", y0: 1, y1: 1 }],
    annotations: [{ text: "one", x: 1, xref: "paper", y: 0, yref: "paper" }],
  },
  alt: "",
};
const both = stacked(upper, lower);

describe("two plots over one axis", () => {
  it("are told apart again, each with its own marks", () => {
    const [above, below] = halvesOf(drawable(both)!)!;
    expect(above.data.map(({ y }) => y)).toEqual([[0, 1e6]]);
    expect(below.data.map(({ y }) => y)).toEqual([[-1, 1]]);
    expect(above.layout.annotations).toEqual(upper.layout.annotations);
    expect(below.layout.annotations).toEqual(lower.layout.annotations);
    expect(below.layout.shapes).toEqual(lower.layout.shapes);
    expect(halvesOf(drawable(upper)!)).toBeUndefined();
  });

  it.each([680, 350])("lie under each other, %d px wide, without overlap", (width) => {
    const [a, b] = framesOf(drawable(both)!, width, true);
    const ends = ({ plot }: { plot: { left: number; width: number } }) => [plot.left, plot.width];
    expect(ends(a!.frame)).toEqual(ends(b!.frame));
    expect(a!.frame.x.range).toEqual(b!.frame.x.range);
    const bottom = a!.frame.plot.top + a!.frame.plot.height;
    expect(b!.down + b!.frame.plot.top).toBeGreaterThan(bottom);
    expect(b!.height).toBeGreaterThanOrEqual(b!.down + b!.frame.height);
    // Room is made for the words at the end of the curve.
    expect(a!.frame.x.range[1]).toBeGreaterThan(10);
  });

  it("are drawn in one picture, and by Plotly in places that add up", () => {
    const picture = figurePicture(both)!;
    expect(() => wellFormed(picture)).not.toThrow();
    for (const text of ["y (kg)", "residual", "x (m)", "one", "end"])
      expect(picture).toContain(`>${text}</text>`);
    const { layout } = fittedFigure(both, 680) as {
      layout: Record<"yaxis" | "yaxis2", { domain: [number, number] }>;
    };
    expect(layout.yaxis.domain[1]).toBeCloseTo(1, 12);
    expect(layout.yaxis2.domain[0]).toBeCloseTo(0, 12);
    expect(layout.yaxis.domain[0]).toBeGreaterThan(layout.yaxis2.domain[1]);
  });

  it("are one table with both titles", () => {
    const [head, ...rows] = figureCsv(both).trim().split("\r\n");
    expect(head).toContain('"y (kg); below: residual"');
    expect(rows.filter((row) => row.startsWith('"a, below"'))).toHaveLength(2);
  });
});
