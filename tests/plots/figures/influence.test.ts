import { describe, expect, it } from "vitest";
import type { Influence } from "../../../src/design/influence.js";
import { influenceFigure } from "../../../src/plots/figures/influence.js";
import { onMap } from "../../../src/plots/style.js";

/** Places in a row, of which each warms the next by half as much. */
function influence(count: number): Influence {
  const at = Array.from({ length: count }, (_, i) => i);
  const share = (i: number, j: number) => 0.5 ** Math.abs(i - j);
  return {
    places: at.map((i) => ({ name: `place ${i}` })),
    rises: at.map((i) => at.map((j) => 1e6 * share(i, j))),
    share,
    summary: "In words.",
  } as unknown as Influence;
}
const read = (count: number) => {
  const figure = influenceFigure(influence(count));
  const [{ x, y, z, customdata }] = figure.data as [Record<string, unknown>];
  const { annotations, height, yaxis } = figure.layout as {
    annotations: { x: string; y: string; text: string; font: { color: string } }[];
    height: number;
    yaxis: { autorange: string };
  };
  return { x, y, z, customdata, annotations, height, yaxis, alt: figure.alt };
};

describe("how heat at one place warms the others", () => {
  it("is a matrix of per cents, the heated places along x, the first on top", () => {
    const { x, y, z, customdata, annotations, yaxis, alt } = read(3);
    expect([x, y]).toEqual([x, ["place 0", "place 1", "place 2"]]);
    expect(z).toEqual([
      [100, 50, 25],
      [50, 100, 50],
      [25, 50, 100],
    ]);
    expect((customdata as number[][])[0]).toEqual([1e6, 5e5, 2.5e5]);
    expect(yaxis.autorange).toBe("reversed");
    expect(annotations).toHaveLength(9);
    expect(annotations[1]).toMatchObject({ x: "place 1", y: "place 0", text: "50 %" });
    // Light words on the dark half of the colours.
    expect([0, 2].map((k) => annotations[k]!.font.color)).toEqual([onMap.dark, onMap.light]);
    expect(alt).toBe("Matrix of 3 places. In words.");
  });

  it("has no words in its cells where they are many, and does not grow without end", () => {
    expect(read(10).annotations).toHaveLength(100);
    expect(read(11).annotations).toEqual([]);
    expect([read(3).height, read(40).height]).toEqual([460, 900]);
  });
});
