import { describe, expect, test } from "vitest";
import { readNumberTable } from "../../src/materials/number-table.js";

const columns = [
  { name: "temperature", unit: "K" },
  { name: "power", unit: "W" },
] as const;
const read = (csv: string) => readNumberTable(csv, "curve.csv", columns);

describe("readNumberTable", () => {
  test("converts the units of the header, in any order and past further columns", () => {
    const rows = read("# ours\npower [uW],note,temperature [mK]\n0,base,20\n\n400,,100\n");
    expect(rows.map((row) => row.place)).toEqual(["curve.csv:3", "curve.csv:5"]);
    expect(rows[1]!.values[0]).toBeCloseTo(0.1, 15);
    expect(rows[1]!.values[1]).toBeCloseTo(4e-4, 15);
  });

  test("takes numbers as SI where the header names no unit, and pure numbers", () => {
    expect(read("temperature,power\n0.1,1e-6")[0]!.values).toEqual([0.1, 1e-6]);
    const pure = [{ name: "transmission", unit: "" }];
    expect(readNumberTable("transmission\n0.5", "a.csv", pure)[0]!.values).toEqual([0.5]);
  });

  test.each([
    ["", 'curve.csv:1: expected the columns temperature [K],power [W], got "nothing"'],
    ["temperature,power", 'curve.csv: expected a line of numbers or more, got "none"'],
    [
      "T,power\n1,2",
      'curve.csv:1 temperature: expected the columns temperature [K],power [W], got "T,power"',
    ],
    [
      "power,temperature,power\n1,2,3",
      'curve.csv:1 power: expected the columns temperature [K],power [W], got "power,temperature,power"',
    ],
    [
      "temperature [uW],power\n1,2",
      'curve.csv:1 temperature: expected a unit such as [K], got "uW"',
    ],
    ["temperature,power\n1,2\n1,2,3", 'curve.csv:3: expected 2 fields, got "3 in 1,2,3"'],
    ["temperature,power\n1,much", 'curve.csv:2 power: expected a number, got "much"'],
    ["temperature,power\n1,", 'curve.csv:2 power: expected a number, got ""'],
  ])("refuses %j", (csv, message) => {
    expect(() => read(csv)).toThrow(message);
  });

  test("refuses what is no text", () => {
    expect(() => read(7 as never)).toThrow("curve.csv: expected the text of a CSV file, got 7");
  });
});
