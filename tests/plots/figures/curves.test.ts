import { describe, expect, it } from "vitest";
import { curvesFigure, sweep } from "../../../src/index.js";
import { quickMount } from "../../mount/example.js";
import { read } from "../read.js";

const map = sweep(
  quickMount(),
  { field: "bonds.count", values: [20, 80] },
  { field: "bonds.length", values: ["1 mm", "10 mm"] },
);

describe("the figure of curves", () => {
  it("has one for each value of the second field, named by it", () => {
    const figure = curvesFigure(map);
    const { traces, x, y } = read(figure);
    expect(traces.map(({ name }) => name)).toEqual(["1 mm", "10 mm"]);
    expect(traces[1]!.y[0]).toBeCloseTo(1e3 * map.rise(0, 1), 3);
    expect([x, y]).toEqual(["number of bonds", "chip above the stage (mK)"]);
    expect(figure.layout).toMatchObject({ legend: { title: { text: "bond length (mm)" } } });
    expect(new Set(traces.map(({ line }) => `${line.color} ${line.dash}`)).size).toBe(2);
  });

  it("shows the whole limit and marks in the unit of the axis", () => {
    const lengths = sweep(quickMount(), { field: "bonds.length", values: ["1 mm", "10 mm"] });
    const mark = { at: 3e-3, text: "as drawn" };
    const { yaxis, shapes, notes, traces } = read(curvesFigure(lengths, { limit: 0.5, mark }));
    expect(yaxis.range[1]).toBeGreaterThan(500);
    expect(notes).toEqual(["limit", "as drawn"]);
    expect(shapes[1]!.x0).toBeCloseTo(3, 9);
    expect(traces[0]!.showlegend).toBe(false);
  });
});
