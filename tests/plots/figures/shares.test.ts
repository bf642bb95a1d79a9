import { describe, expect, it } from "vitest";
import { sharesFigure, sweep } from "../../../src/index.js";
import { quickMount } from "../../mount/example.js";
import { budgetOf, read } from "../read.js";

const counts = sweep(quickMount(), { field: "bonds.count", values: [10, 30, 100, 300] });
const { mainPath } = budgetOf();
const sums = (smallest: number) => {
  const { traces } = read(sharesFigure(counts, mainPath, { smallest }));
  return [0, 1, 2, 3].map((i) => traces.reduce((sum, { y }) => sum + y[i]!, 0));
};

describe("the figure of the shares", () => {
  it("stacks up to the rise, also where small drops are drawn together", () => {
    for (const smallest of [0, 0.02, 0.4]) {
      sums(smallest).forEach((sum, i) => {
        expect(sum).toBeCloseTo(1e3 * counts.rise(i), 2);
      });
    }
    const few = read(sharesFigure(counts, mainPath, { smallest: 0.4 })).traces;
    expect(few.some(({ name }) => name.startsWith("the rest: "))).toBe(true);
    expect(few.length).toBeLessThan(mainPath.length);
  });

  it("names the field, the unit of the rise, and marks", () => {
    const marks = [
      { at: 40, text: "forty" },
      { at: 45, text: "more" },
    ];
    const figure = sharesFigure(counts, mainPath, { marks, limit: 0.01, scale: "logarithmic" });
    const { x, y, notes, shapes } = read(figure);
    expect([x, y]).toEqual(["number of bonds", "chip above the stage (mK)"]);
    expect(notes.filter((text) => !mainPath.some(({ name }) => name === text))).toEqual([
      "limit",
      "forty",
      "more",
    ]);
    expect(shapes.map(({ x0, y0 }) => [x0, y0])).toEqual([
      [0, 10],
      [40, 0],
      [45, 0],
    ]);
    // A text whose right side is crowded stands on the left.
    const { annotations } = figure.layout as { readonly annotations: readonly { text: string }[] };
    const named = (text: string) => annotations.find((each) => each.text === text);
    expect({ annotations: ["limit", "forty", "more"].map(named) }).toMatchObject({
      annotations: [{}, { xanchor: "right", x: Math.log10(40) }, { xanchor: "left" }],
    });
  });
});
