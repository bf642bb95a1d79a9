import { describe, expect, it } from "vitest";
import {
  colourOf,
  type Drawn,
  dashOf,
  marker,
  markPaint,
  patternFill,
} from "../../../src/plots/picture/looks.js";
import { colours } from "../../../src/plots/style.js";

const corners = (path: string) =>
  [...path.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map((found) => [
    Number(found[1]),
    Number(found[2]),
  ]);

describe("marks", () => {
  it("have dashes in widths of their line, none for a solid one", () => {
    expect([dashOf("dash"), dashOf("dash", 1), dashOf("solid"), dashOf(undefined)]).toEqual([
      "8 6",
      "4 3",
      undefined,
      undefined,
    ]);
  });

  it("have the colour of their line, else of their marker, else of their place", () => {
    const line = { color: "red" };
    const marker = { color: "blue" };
    expect([colourOf({ line, marker }, 0), colourOf({ marker }, 0), colourOf({}, 1)]).toEqual([
      "red",
      "blue",
      colours[1],
    ]);
    const each = { marker: { color: ["red", "blue"], line: { width: 2, color: "black" } } };
    expect(markPaint(each, 0, 1)).toEqual({ fill: "blue", stroke: "black", "stroke-width": 2 });
    expect(markPaint({}, 2)).toEqual({ fill: colours[2], stroke: "none", "stroke-width": 0 });
  });

  it("stand around their place: corners of each symbol have their middle there, in its size", () => {
    for (const [symbol, count] of Object.entries({
      square: 4,
      diamond: 4,
      cross: 12,
      x: 12,
      hexagon: 6,
    })) {
      const [one, twice] = [10, 20].map((size) => corners(marker(symbol, [50, 70], size, {})));
      expect(one).toHaveLength(count);
      for (const [axis, middle] of [50, 70].entries()) {
        expect(one!.reduce((sum, at) => sum + at[axis]!, 0) / count).toBeCloseTo(middle, 2);
        for (const [k, at] of one!.entries())
          expect(twice![k]![axis]! - middle).toBeCloseTo(2 * (at[axis]! - middle), 1);
      }
    }
    expect(marker("square", [50, 70], 10, {})).toContain("M45.5 65.5L54.5 65.5");
    expect(marker("circle", [50, 70], 10, { fill: "red" })).toMatch(
      /<circle cx="50" cy="70" r="5"/,
    );
  });

  it("have hatchings that are defined once for a colour, and none of a name that is not known", () => {
    const to: Drawn = { id: "p", definitions: new Set(), clipped: [], free: [] };
    const first = patternFill(to, "#123456", "/");
    expect(first).toMatch(/^url\(#p-[\w-]+\)$/);
    expect(patternFill(to, "#123456", "/")).toBe(first);
    expect(to.definitions.size).toBe(1);
    expect(patternFill(to, "#123456", "\\")).not.toBe(first);
    expect([...to.definitions][0]).toContain(`id="${first.slice(5, -1)}"`);
    expect([patternFill(to, "red", undefined), patternFill(to, "red", "zigzag")]).toEqual([
      "red",
      "red",
    ]);
    expect(to.definitions.size).toBe(2);
  });
});
