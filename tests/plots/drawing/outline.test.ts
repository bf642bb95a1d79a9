import { describe, expect, it } from "vitest";
import { outlineOf } from "../../../src/plots/drawing/outline.js";

describe("outlines", () => {
  it("of tiles are one outline", () => {
    const tile = (left: number, bottom: number) => ({
      left,
      bottom,
      right: left + 1,
      top: bottom + 1,
    });
    const pieces = outlineOf([tile(0, 0), tile(1, 0), tile(0, 1), tile(1, 1)]);
    const length = pieces.reduce((sum, [x1, y1, x2, y2]) => sum + Math.hypot(x2 - x1, y2 - y1), 0);
    expect(pieces).toHaveLength(4);
    expect(length).toBe(8);
  });

  it("of tiles apart are theirs", () => {
    const tile = (left: number) => ({ left, bottom: 0, right: left + 1, top: 1 });
    expect(outlineOf([tile(0), tile(5)])).toHaveLength(8);
  });
});
