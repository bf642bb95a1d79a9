import { describe, expect, it } from "vitest";
import { notesOf, type Plane, placed } from "../../../src/plots/picture/notes.js";
import type { Scale } from "../../../src/plots/scale.js";

const scale = (kind: string) => ({ kind }) as unknown as Scale;
const plane: Plane = {
  width: 500,
  isNarrow: false,
  plot: { left: 50, top: 20, width: 400, height: 200 },
  x: scale("linear"),
  y: scale("linear"),
  px: (value) => 50 + 4 * Number(value),
  py: (value) => 220 - 2 * Number(value),
};
const notes = (annotations: readonly object[], frame = plane) =>
  notesOf({ data: [], layout: { annotations: annotations as never } }, frame);

describe("the notes of a figure", () => {
  it("are placed by the paper from its lower left corner, or by the data", () => {
    expect([placed(0, "paper", "x", plane), placed(1, "paper", "x", plane)]).toEqual([50, 450]);
    expect([placed(0, "paper", "y", plane), placed(1, "y domain", "y", plane)]).toEqual([220, 20]);
    expect([placed(10, undefined, "x", plane), placed(10, "y", "y", plane)]).toEqual([90, 200]);
  });

  it("hang on their place by the side that is told, shifted right and up", () => {
    const at = { text: "note", x: 50, y: 50 };
    const [middle, left, above] = notes([
      at,
      { ...at, xanchor: "left", xshift: 10 },
      { ...at, yanchor: "bottom", yshift: 5 },
    ]);
    expect(middle!.left + middle!.width / 2).toBeCloseTo(250, 9);
    expect(middle!.top + middle!.height / 2).toBeCloseTo(120, 9);
    expect(left!.left).toBe(260);
    expect(above!.top + above!.height).toBeCloseTo(115, 9);
    for (const { moved } of [middle!, left!, above!]) expect(moved).toEqual([0, 0]);
  });

  it("are at powers of ten on a logarithmic axis, as Plotly writes them", () => {
    const log = {
      ...plane,
      x: scale("log"),
      px: (value: unknown) => 100 * Math.log10(Number(value)),
    };
    const [note] = notes([{ text: "n", x: 2, y: 0, xanchor: "left" }], log);
    expect(note!.left).toBeCloseTo(200, 9);
  });

  it("stay inside the figure, and say how far they were moved", () => {
    const [right, left] = notes([
      { text: "a note of many words", x: 100, y: 50 },
      { text: "a note of many words", x: -20, y: 20 },
    ]);
    expect(right!.left + right!.width).toBeCloseTo(498, 9);
    expect(right!.moved[0]).toBeLessThan(0);
    expect(left!.left).toBe(2);
    expect(left!.moved[0]).toBeGreaterThan(0);
  });

  it("make way downwards by whole lines where they hang on the paper, and only there", () => {
    const at = { text: "note", x: 0.5, xref: "paper", y: 1, yref: "paper", yanchor: "top" };
    const [first, second, third] = notes([at, at, at]);
    expect([first!, second!, third!].map(({ moved }) => moved[1])).toEqual([
      0,
      first!.height,
      2 * first!.height,
    ]);
    const onData = { text: "note", x: 50, y: 50 };
    expect(notes([onData, onData]).map(({ moved }) => moved[1])).toEqual([0, 0]);
  });
});
