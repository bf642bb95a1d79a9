import { describe, expect, it } from "vitest";
import { drawable, plainJson, plainWords, titleOf } from "../../src/plots/traces.js";

describe("a figure as it is drawn", () => {
  it("is plain JSON: typed arrays are lists, and numbers that JSON lacks are gaps", () => {
    const trace = { y: Float64Array.of(1, Number.NaN, Number.POSITIVE_INFINITY), x: undefined };
    expect(plainJson(trace)).toEqual({ y: [1, null, null] });
    expect(drawable({ data: [trace], layout: { height: 3 } })).toEqual({
      data: [{ y: [1, null, null] }],
      layout: { height: 3 },
    });
  });

  it("leaves out what is hidden, whatever that is", () => {
    const shown = { type: "bar", y: [1] };
    const data = [{ type: "surface", visible: false }, shown, { fill: "x", visible: "legendonly" }];
    expect(drawable({ data, layout: {} })!.data).toEqual([shown]);
  });

  it("is none where a trace is one that only Plotly draws", () => {
    const fits = (trace: object) => drawable({ data: [trace], layout: {} }) !== undefined;
    expect(
      [{}, { type: "heatmap" }, { line: { shape: "linear" } }, { error_y: {} }].map(fits),
    ).toEqual([true, true, true, true]);
    const others = [
      { type: "scatter3d" },
      { line: { shape: "hv" } },
      { fill: "tozeroy" },
      { error_x: {} },
      { xaxis: "x2" },
      { type: "bar", error_y: {} },
    ];
    expect(others.map(fits)).toEqual(others.map(() => false));
  });

  it("has words without Plotly's HTML, and all else of them as it is", () => {
    expect(plainWords("a<br>b<BR />c <b>d</b><sub>2</sub>")).toBe("a\nb\nc d2");
    expect(plainWords("T &lt; T<sub>c</sub> &amp; 3&nbsp;K")).toBe("T < Tc & 3 K");
    // What was escaped is no tag, and no other entity.
    expect(plainWords("&amp;lt;")).toBe("&lt;");
    expect(plainWords("1 < 2 > 0 <big>")).toBe("1 < 2 > 0 <big>");
    expect([titleOf({}), titleOf({ title: "t" }), titleOf({ title: { text: "u" } })]).toEqual([
      "",
      "t",
      "u",
    ]);
  });
});
