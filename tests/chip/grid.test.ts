import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaOf, Grid, overlapOf } from "../../src/chip/grid.js";

const grid = new Grid(20e-3, 10e-3, 40, 10);

describe("the cells of a die", () => {
  it("are counted row by row from the lower left corner", () => {
    expect(grid.cells).toBe(400);
    expect(grid.cellWidth).toBeCloseTo(0.5e-3, 15);
    expect(grid.cellLength).toBeCloseTo(1e-3, 15);
    expect(grid.x(0)).toBeCloseTo(0.25e-3, 15);
    expect(grid.y(9)).toBeCloseTo(9.5e-3, 15);
  });

  it("share a rectangle by the area in each", () => {
    const { first, shares } = grid.columns({ left: 0.6e-3, right: 1.6e-3, bottom: 0, top: 1 });
    expect(first).toBe(1);
    expect([...shares].map((share) => Number(share.toFixed(12)))).toEqual([0.4, 0.5, 0.1]);
  });

  it("share any rectangle as a whole, with its middle where the shares put it to within a cell", () => {
    const side = fc.double({ min: 0, max: 20e-3, noNaN: true });
    fc.assert(
      fc.property(side, side, (a, b) => {
        fc.pre(Math.abs(a - b) > 1e-9);
        const [left, right] = a < b ? [a, b] : [b, a];
        const { first, shares } = grid.columns({ left, right, bottom: 0, top: 1 });
        const sum = shares.reduce((total, share) => total + share, 0);
        const middle = shares.reduce((mean, share, i) => mean + share * grid.x(first + i), 0);
        expect(sum).toBeCloseTo(1, 12);
        expect(first + shares.length).toBeLessThanOrEqual(40);
        expect(Math.abs(middle - (left + right) / 2)).toBeLessThanOrEqual(grid.cellWidth / 2);
      }),
    );
  });

  it("refuse a rectangle off the die, and say where it is", () => {
    const off = { left: 19.9e-3, right: 20.1e-3, bottom: 0, top: 1e-3 };
    expect(() => grid.onDie(off, "pad 7")).toThrow(
      'pad 7: expected a place on the die (20 mm by 10 mm), got "x 19.9 to 20.1 mm, y 0 to 1 mm"',
    );
    expect(() => grid.onDie({ left: 2e-3, right: 1e-3, bottom: 0, top: 1e-3 }, "pad 8")).toThrow(
      "pad 8: expected a rectangle whose right is above its left",
    );
  });

  it("take an end that misses the rim by rounding for the rim", () => {
    const inside = grid.onDie({ left: 0, right: 20e-3 * (1 + 1e-15), bottom: 0, top: 1e-3 }, "x");
    expect(inside.right).toBe(20e-3);
  });

  it("refuse a die without size or cells", () => {
    expect(() => new Grid(0, 1, 4, 4)).toThrow("sheet.width: expected a length in metres");
    expect(() => new Grid(1, Number.NaN, 4, 4)).toThrow("sheet.length: expected a length");
    expect(() => new Grid(1, 1, 4.5, 4)).toThrow("sheet.cellsX: expected a whole number of cells");
    expect(() => new Grid(1, 1, 4, 0)).toThrow("sheet.cellsY: expected a whole number of cells");
  });
});

describe("two rectangles", () => {
  const a = { left: 0, right: 2, bottom: 0, top: 2 };

  it("overlap in a rectangle", () => {
    const shared = overlapOf(a, { left: 1, right: 3, bottom: 1, top: 3 });
    expect(shared).toEqual({ left: 1, right: 2, bottom: 1, top: 2 });
    expect(areaOf(shared!)).toBe(1);
  });

  it("that touch do not overlap", () => {
    expect(overlapOf(a, { left: 2, right: 3, bottom: 0, top: 2 })).toBeUndefined();
    expect(overlapOf(a, { left: 2 - 1e-12, right: 3, bottom: 0, top: 2 })).toBeUndefined();
  });
});
