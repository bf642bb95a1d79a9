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

  it("puts the legend beside the plot where that is asked for, clear of it and of its colour bar", () => {
    const axes = { xaxis: { range: [0, 10] }, yaxis: { range: [0, 10], scaleanchor: "x" } };
    const map = { type: "heatmap", z: [[1], [2]], colorbar: { title: { text: "rise (mK)" } } };
    const named = ["pads", "clamps"].map((name) => ({ name, x: [0], y: [1] }));
    const sizes = { aside: 260 };
    const { plot, legend, colourBar, height } = frameOf(
      figure(axes, map, ...named),
      600,
      false,
      sizes,
    );
    for (const { x, y } of legend) {
      expect(x).toBeGreaterThan(colourBar!.titleAt);
      expect(y).toBeLessThan(plot.top + plot.height);
    }
    expect(colourBar!.titleAt).toBeGreaterThan(plot.left + plot.width);
    expect(height).toBeLessThan(frameOf(figure(axes, map, ...named), 600, false).height);
    expect(frameOf(figure(axes, map), 600, false, sizes).width).toBe(340);
  });

  it("has rows as high as is asked for, and as their names need", () => {
    const rows = (names: string[]) => {
      const bars = { type: "bar", orientation: "h", y: names, x: names.map(() => 1) };
      return frameOf(figure({}, bars), 680, false, { row: 24 }).plot.height / names.length;
    };
    expect(rows(["a", "b"])).toBe(24);
    expect(rows(["a", "words ".repeat(30)])).toBeGreaterThan(48);
  });

  it("reaches so far that numbers before and behind bars stay inside the plot", () => {
    const bars = { type: "bar", orientation: "h", y: ["a"], x: [2], base: [4] };
    const number = (xanchor: string, x: number) => ({ text: "4.01 mK", x, y: "a", xanchor });
    const layout = {
      xaxis: { range: [3.9, 6.1] },
      annotations: [number("right", 4), number("left", 6)],
    };
    const { plot, notes } = frameOf(figure(layout, bars), 360);
    for (const { left, width } of notes) {
      expect(left).toBeGreaterThanOrEqual(plot.left);
      expect(left + width).toBeLessThanOrEqual(plot.left + plot.width);
    }
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
