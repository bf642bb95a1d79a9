import { describe, expect, it } from "vitest";
import { readPixels } from "../../src/materials/number-table.js";

describe("a grid of pixels", () => {
  it("is read as a picture: the last line is the lower edge", () => {
    expect(readPixels("# pW\n1, 2\n3, 4\n")).toEqual([
      [3, 4],
      [1, 2],
    ]);
  });

  it.each([
    ["1,2\n3,x", 'p.csv:2 column 2: expected a number, 0 or more, got "x"'],
    ["1,2\n3,-4", 'p.csv:2 column 2: expected a number, 0 or more, got "-4"'],
    ["1,2\n3,", 'p.csv:2 column 2: expected a number, 0 or more, got ""'],
    ["1,2\n\n3,4,5", 'p.csv:3: expected 2 numbers, as many as in the first line, got "3"'],
    ["# nothing\n", "p.csv: expected at least one line of numbers"],
    ["1,Infinity", 'p.csv:1 column 2: expected a number, 0 or more, got "Infinity"'],
  ])("%j is refused", (csv, message) => {
    expect(() => readPixels(csv, "p.csv")).toThrow(message);
  });
});
