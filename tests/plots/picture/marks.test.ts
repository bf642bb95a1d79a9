import { describe, expect, it } from "vitest";
import { frameOf } from "../../../src/plots/picture/frame.js";
import type { Drawn } from "../../../src/plots/picture/looks.js";
import { drawBars, drawScatter, legendSample } from "../../../src/plots/picture/marks.js";
import { drawable } from "../../../src/plots/traces.js";

const empty = (): Drawn => ({ id: "p", definitions: new Set(), clipped: [], free: [] });
const axes = { xaxis: { range: [0, 10] }, yaxis: { range: [0, 10] } };
function drawnAs(draw: typeof drawScatter, data: readonly object[], layout: object = axes) {
  const frame = frameOf(drawable({ data, layout })!, 680);
  const to = empty();
  draw(frame, to);
  return { ...to, ...frame };
}
const numbers = (text: string) => (text.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);
const paths = ({ clipped }: Drawn) =>
  clipped.flatMap((each) => /d="([^"]*)"/.exec(each)?.[1] ?? []);
/** Edges of each rectangle: left, upper, right, lower. */
const boxes = ({ clipped }: Drawn) =>
  clipped.map((each) => {
    const of = (key: string) => Number(new RegExp(` ${key}="([^"]*)"`).exec(each)![1]);
    return [of("x"), of("y"), of("x") + of("width"), of("y") + of("height")];
  });

describe("lines and markers", () => {
  it("run from point to point, and leave gaps", () => {
    const drawn = drawnAs(drawScatter, [{ x: [0, 5, 6, 10], y: [0, 5, null, 10], mode: "lines" }]);
    const { px, py } = drawn;
    const [d] = paths(drawn);
    // The point after the gap is a run of its own.
    expect(d!.split("M").slice(1)).toHaveLength(2);
    const wanted = [px(0), py(0), px(5), py(5), px(10), py(10)];
    expect(numbers(d!)).toEqual(wanted.map((at) => expect.closeTo(at, 2)));
  });

  it("are stacked on those below, with the ground between filled", () => {
    const stack = { x: [0, 10], mode: "none", stackgroup: "all" };
    const drawn = drawnAs(drawScatter, [
      { ...stack, y: [1, 2] },
      { ...stack, y: [3, 3] },
    ]);
    const { px, py } = drawn;
    const [, second] = paths(drawn);
    const wanted = [px(0), py(4), px(10), py(5), px(10), py(2), px(0), py(1)];
    expect(numbers(second!)).toEqual(wanted.map((at) => expect.closeTo(at, 2)));
  });

  it("have error bars down and up, over the edge of a logarithmic plot where they reach zero", () => {
    const trace = { x: [1], y: [2], mode: "none", error_y: { array: [3], arrayminus: [2] } };
    const linear = drawnAs(drawScatter, [trace]);
    expect(numbers(linear.clipped[0]!.split("stroke")[0]!).filter((v) => v > 3)).toEqual(
      expect.arrayContaining([linear.py(0), linear.py(5)].map((at) => expect.closeTo(at, 2))),
    );
    expect(linear.clipped).toHaveLength(3);
    const log = drawnAs(drawScatter, [trace], {
      ...axes,
      yaxis: { type: "log", range: [-1, 1] },
    });
    expect(log.clipped.join("")).not.toMatch(/NaN|Infinity/);
    expect(numbers(paths(log)[0]!)[1]).toBeCloseTo(log.plot.top + log.plot.height, 2);
  });

  it("may lie over the edge of the plot", () => {
    const trace = { x: [0], y: [0], mode: "markers" };
    expect(drawnAs(drawScatter, [{ ...trace, cliponaxis: false }]).free).toHaveLength(1);
    expect(drawnAs(drawScatter, [trace]).free).toHaveLength(0);
  });
});

describe("bars", () => {
  const bar = { type: "bar", x: ["a", "b"], y: [4, 2] };
  const layout = (barmode: string) => ({ barmode, yaxis: { range: [0, 10] } });

  it("reach from zero to their value, side by side or end to end", () => {
    const [group, stack] = ["group", "stack"].map((mode) =>
      drawnAs(drawBars, [bar, bar], layout(mode)),
    );
    const { py } = group!;
    for (const [, top, , bottom] of boxes(group!).filter((_, k) => k % 2 === 0))
      expect([top, bottom]).toEqual([expect.closeTo(py(4), 1), expect.closeTo(py(0), 1)]);
    const [first, , other] = boxes(group!);
    expect(first![2]).toBeCloseTo(other![0]!, 1);
    const [lower, , upper] = boxes(stack!);
    expect(upper![3]).toBeCloseTo(lower![1]!, 1);
    expect(upper![1]).toBeCloseTo(stack!.py(8), 1);
    expect(upper![0]).toBeCloseTo(lower![0]!, 1);
  });

  it("begin where they are told, and are none of no length", () => {
    const [only, ...others] = boxes(
      drawnAs(drawBars, [{ ...bar, y: [2, 0], base: [3, 3] }], layout("group")),
    );
    const { py } = drawnAs(drawBars, [bar], layout("group"));
    expect(others).toEqual([]);
    expect([only![1], only![3]]).toEqual([expect.closeTo(py(5), 1), expect.closeTo(py(3), 1)]);
  });

  it("lie where they are told, from the edge of a logarithmic plot", () => {
    const lying = { type: "bar", orientation: "h", y: ["a"], x: [10] };
    const drawn = drawnAs(drawBars, [lying], { xaxis: { type: "log", range: [0, 2] } });
    const [[left, , right]] = boxes(drawn) as [number[]];
    expect([left, right]).toEqual([
      expect.closeTo(drawn.plot.left, 1),
      expect.closeTo(drawn.plot.left + drawn.plot.width / 2, 1),
    ]);
  });
});

describe("the sample of a legend", () => {
  it("is a box of a bar, a line, a marker, or both", () => {
    const sample = (trace: object) => legendSample(trace, 0, 0, 0, empty());
    expect(sample({ type: "bar" })).toMatch(/^<rect [^>]*>$/);
    expect(sample({ mode: "lines" })).toMatch(/^<(line|path) [^>]*>$/);
    expect(sample({ mode: "markers" })).toMatch(/^<circle [^>]*>$/);
    expect(sample({ mode: "lines+markers" }).match(/<\w+/g)).toHaveLength(2);
    expect(sample({ mode: "lines", line: { width: 0 } })).toBe("");
  });
});
