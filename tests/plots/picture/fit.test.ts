import { describe, expect, it } from "vitest";
import { fittedFigure } from "../../../src/plots/picture/fit.js";

const line = {
  data: [{ x: [0, 10], y: [0, 5] }],
  layout: { title: "T", width: 760, xaxis: {}, yaxis: {} },
};

describe("a figure fitted to a width", () => {
  it("drops title and width, and keeps its data", () => {
    const { data, layout } = fittedFigure(line, 680);
    expect(data).toEqual(line.data);
    expect(Object.keys(layout)).not.toContain("title");
    expect(Object.keys(layout)).not.toContain("width");
    expect(layout).toMatchObject({ autosize: true, showlegend: false });
  });

  it("breaks the names of a category axis, and keeps a range that the figure gives", () => {
    const bars = {
      data: [{ type: "bar", orientation: "h", x: [1], y: ["a name ".repeat(12).trim()] }],
      layout: { xaxis: { range: [0, 2] } },
    };
    const { layout } = fittedFigure(bars, 360) as {
      layout: Record<string, { ticktext?: string[]; range?: number[] }>;
    };
    expect(layout.yaxis!.ticktext![0]).toContain("<br>");
    expect(layout.xaxis!.range).toEqual([0, 2]);
  });

  it("leaves what only Plotly draws as it is", () => {
    const data = [{ type: "surface", z: [[1]] }];
    expect(fittedFigure({ data, layout: { title: "T" } }, 680)).toEqual({
      data,
      layout: { autosize: true, margin: { t: 24 } },
    });
  });
});
