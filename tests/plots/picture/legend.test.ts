import { describe, expect, it } from "vitest";
import { legendIndent, legendOf } from "../../../src/plots/picture/legend.js";

const named = ["one", "two", "three"].map((name) => ({ name }));
const legend = (data: readonly object[], layout: object = {}, width = 680) =>
  legendOf({ data, layout }, width, 100, 12);

describe("the legend of a figure", () => {
  it("stands in columns of equal width, row by row below the plot", () => {
    const { entries, high } = legend(named);
    expect(new Set(entries.map(({ y }) => y))).toEqual(new Set([100]));
    const [first, second, third] = entries.map(({ x }) => x);
    expect(third! - second!).toBeCloseTo(second! - first!, 9);
    expect(second! - first!).toBeGreaterThan(legendIndent);
    // In one column each row adds as much.
    const narrow = legend(named, {}, second! - first! + 17);
    expect(new Set(narrow.entries.map(({ x }) => x)).size).toBe(1);
    expect(narrow.high).toBeCloseTo(3 * high, 9);
    expect(narrow.entries.map(({ y }) => y)).toEqual(
      [0, 1, 2].map((k) => expect.closeTo(100 + k * high, 9)),
    );
  });

  it("names lines and bars that have a name and are not told to be left out", () => {
    const data = [
      ...named,
      {},
      { type: "heatmap", name: "map" },
      { name: "no", showlegend: false },
    ];
    expect(legend(data).entries.map(({ name, index }) => [name, index])).toEqual([
      ["one", 0],
      ["two", 1],
      ["three", 2],
    ]);
    const reversed = legend(named, {
      legend: { traceorder: "reversed", title: { text: "<b>n</b>" } },
    });
    expect(reversed.entries.map(({ name }) => name)).toEqual(["three", "two", "one"]);
    expect(reversed.legendTitle).toBe("n");
    expect(reversed.entries[0]!.y).toBeGreaterThan(100);
  });

  it("is none of one trace that does not ask for it, or where it is told so", () => {
    const none = { entries: [], high: 0, legendTitle: "" };
    expect(legend([named[0]!])).toEqual(none);
    expect(legend(named, { showlegend: false })).toEqual(none);
    expect(legend([{ ...named[0], showlegend: true }]).entries).toHaveLength(1);
  });
});
