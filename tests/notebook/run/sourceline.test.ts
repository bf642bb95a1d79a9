import { describe, expect, it } from "vitest";
import { originalLine } from "../../../src/notebook/run/sourceline.js";

// `plain` is what a converter makes of a cell, `marked` what it makes of the cell with marks.
const plain = "a();\nexports.x = f(() => {\n    b();\n});\n";
const marked = "/*@1*/ a();\nexports.x = \n/*@4*/ f(() => {\n    /*@5*/ b();\n});\n";

describe("originalLine", () => {
  it.each([
    [1, 1, 1],
    [2, 13, 4],
    [3, 5, 5],
  ])("finds line %d column %d in the cell's line %d", (line, column, expected) => {
    expect(originalLine(plain, marked, { line, column })).toBe(expected);
  });

  it("knows no line for a place outside the cell, or when the two conversions differ", () => {
    expect(originalLine(plain, marked, { line: 9, column: 1 })).toBeUndefined();
    expect(originalLine(plain, "/*@1*/ other();", { line: 1, column: 1 })).toBeUndefined();
  });
});
