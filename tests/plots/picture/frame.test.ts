import { describe, expect, it } from "vitest";
import { frameOf } from "../../../src/plots/picture/frame.js";
import { drawable } from "../../../src/plots/traces.js";

const figure = (layout: object, ...data: object[]) =>
  drawable({ data: data.length > 0 ? data : [{ x: [0, 10], y: [0, 5] }], layout })!;

describe("the frame of a figure", () => {
  it("puts values where the axes say, y upwards", () => {
    const { plot, px, py } = frameOf(
      figure({ xaxis: { range: [0, 10] }, yaxis: { range: [0, 5] } }),
      680,
    );
    expect([px(0), px(10)]).toEqual([plot.left, plot.left + plot.width]);
    expect([py(0), py(5)]).toEqual([plot.top + plot.height, plot.top]);
  });

  it("has equal scales where y is bound to x", () => {
    const axes = { xaxis: { range: [0, 10] }, yaxis: { range: [0, 5], scaleanchor: "x" } };
    const { plot } = frameOf(figure(axes), 680);
    expect(plot.height / plot.width).toBeCloseTo(0.5, 2);
  });

  it("leaves space for a title, a title of y and a colour bar only where there is one", () => {
    const bare = frameOf(figure({}), 680);
    const titled = frameOf(figure({ title: "T", yaxis: { title: { text: "rise (mK)" } } }), 680);
    expect(titled.plot.top - bare.plot.top).toBe(21);
    expect(titled.plot.left).toBeGreaterThan(bare.plot.left);
    const map = {
      type: "heatmap",
      z: [
        [1, 2],
        [3, 4],
      ],
    };
    expect(bare.colourBar).toBeUndefined();
    const { colourBar, plot } = frameOf(figure({}, map), 680);
    expect(colourBar!.left).toBe(plot.left + plot.width + 12);
    expect(frameOf(figure({}, { ...map, showscale: false }), 680).colourBar).toBeUndefined();
  });

  it("has a legend for several named traces, in columns that fit the width", () => {
    const named = ["a", "b", "c"].map((name) => ({ name: name.repeat(30), x: [0], y: [1] }));
    const [wide, narrow] = [680, 360].map((width) => frameOf(figure({}, ...named), width).legend);
    expect(new Set(wide!.map(({ y }) => y)).size).toBe(2);
    expect(new Set(narrow!.map(({ y }) => y)).size).toBe(3);
    expect(frameOf(figure({}, named[0]!), 680).legend).toEqual([]);
    expect(frameOf(figure({ showlegend: false }, ...named), 680).legend).toEqual([]);
  });

  it("moves notes inside the figure and clear of each other, and says how far", () => {
    const note = { text: "a long note", x: 1, xref: "paper", y: 1, yref: "paper", yanchor: "top" };
    const { notes } = frameOf(figure({ annotations: [note, note] }), 680);
    expect(notes[0]!.left + notes[0]!.width).toBeLessThanOrEqual(678);
    expect(notes[1]!.top).toBeGreaterThanOrEqual(notes[0]!.top + notes[0]!.height);
    expect(notes[1]!.moved[1]).toBeGreaterThan(0);
  });
});
