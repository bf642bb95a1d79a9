import { describe, expect, it } from "vitest";
import { Sweep } from "../../../src/design/sweeping/sweep-result.js";

const field = (name: string, ...values: number[]) => ({
  field: name,
  values: Float64Array.from(values),
});
/** Chip and stage at 2 × 3 points: the chip 1 mK a bond warmer, and 10 mK more on the second row. */
const grid = new Sweep({
  name: "by hand",
  axes: [field("stage", 0.1, 0.2), field("bonds.count", 1, 2, 3)],
  places: ["die", "stage"],
  chip: "die",
  temperatures: Float64Array.of(
    ...[0.101, 0.1, 0.102, 0.1, 0.103, 0.1],
    ...[0.211, 0.2, 0.212, 0.2, 0.213, 0.2],
  ),
});

describe("the temperatures of a sweep", () => {
  it("are found by their indices, the last axis fastest", () => {
    expect([grid.temperature(0), grid.temperature(0, 2), grid.temperature(1, 1)]).toEqual([
      0.101, 0.103, 0.212,
    ]);
    expect(grid.temperature(1, 2, "stage")).toBe(0.2);
    expect(grid.rise(1, 2)).toBeCloseTo(13e-3, 12);
  });

  it("are told by the point where the chip is coldest, and where it is warmest, above its stage", () => {
    expect(grid.summary).toBe(
      "6 points. The chip is coldest, 1.00 mK above the stage at stage = 0.1, bonds.count = 1; and warmest, " +
        "13.0 mK above the stage at stage = 0.2, bonds.count = 3.",
    );
  });

  it("are all in the CSV, a section a point: its fields, then its places", () => {
    const rows = grid.toCsv().trim().split("\r\n");
    const points = rows.filter((row) => /^"point \d"/.test(row));
    expect(points).toHaveLength(6 * (2 + 2));
    expect(
      points.filter((row) => row.startsWith('"point 6"')).map((row) => row.split(",")[5]),
    ).toEqual(["0.2", "3", "0.213", "0.2"]);
  });

  it("are printed in part where they are many, first and last point included", () => {
    const count = 50;
    const long = new Sweep({
      name: "long",
      axes: [field("bonds.count", ...Array.from({ length: count }, (_, k) => k + 1))],
      places: ["die", "stage"],
      chip: "die",
      temperatures: Float64Array.from({ length: 2 * count }, (_, k) =>
        k % 2 ? 0.1 : 0.2 - 1e-3 * k,
      ),
    });
    const text = long.toText();
    expect(text).toContain("Temperature of the chip, 20 of 50 points");
    const table = text.slice(text.indexOf("points")).split("\n").slice(2);
    const printed = table.flatMap((row) => /^ +(\d+) +[\d.]+ mK/.exec(row)?.[1] ?? []);
    expect(printed).toHaveLength(20);
    expect([printed[0], printed.at(-1)]).toEqual(["1", "50"]);
  });
});
