import { describe, expect, it } from "vitest";
import { curvesFigure, dropsFigure, mapFigure, sweep } from "../../../src/index.js";
import { figureCsv } from "../../../src/plots/index.js";
import { quickMount } from "../../mount/example.js";
import { budgetOf } from "../read.js";

const map = sweep(
  quickMount(),
  { field: "bonds.count", values: [20, 80, 300] },
  { field: "bonds.length", values: ["1 mm", "3 mm", "10 mm"] },
);

describe("the data of a figure as CSV", () => {
  it("has a row a point under the titles of the axes", () => {
    const rows = figureCsv(curvesFigure(map)).split("\r\n");
    expect(rows[0]).toMatch(/^"series","number of bonds","chip above the stage \(mK\)"$/);
    expect(rows[1]).toMatch(/^"1 mm",20,[\d.]+$/);
    expect(rows).toHaveLength(1 + 9 + 1);
  });

  it("has a map's values, not their logarithms", () => {
    const rows = figureCsv(mapFigure(map)).trim().split("\r\n");
    expect(rows).toHaveLength(1 + 9);
    expect(Number(rows[1]!.split(",")[3])).toBeCloseTo(1e3 * map.rise(0, 0), 2);
  });

  it("gives the start of bars, errors up and down, and typed arrays", () => {
    const csv = figureCsv({
      data: [
        {
          name: '=1+"1"',
          x: Float64Array.of(1),
          y: [2],
          base: [3],
          error_y: { array: [4], arrayminus: [5] },
        },
      ],
      layout: { xaxis: { title: { text: "a<br>b" } } },
    });
    expect(csv).toBe(
      '"series","a b","y","base","error up","error down"\r\n"\'=1+""1""",1,2,3,4,5\r\n',
    );
  });

  it("stands by itself, as a page sends it to a browser", () => {
    const alone = new Function(`return (${figureCsv.toString()})`)() as typeof figureCsv;
    const drops = dropsFigure(budgetOf());
    expect(alone(drops)).toBe(figureCsv(drops));
  });
});
