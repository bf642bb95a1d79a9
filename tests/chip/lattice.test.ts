import { describe, expect, it } from "vitest";
import { checkContacts } from "../../src/chip/contact.js";
import { Grid } from "../../src/chip/grid.js";

const grid = new Grid(12e-3, 6e-3, 6, 2);

describe("the die in cells", () => {
  it("joins every pair of neighbours once: 5·2 along x and 6·1 along y", () => {
    const links = grid.links();
    expect(links).toHaveLength(16);
    expect(new Set(links.map(({ from, to }) => `${from} ${to}`)).size).toBe(16);
  });

  it("counts squares from middle to middle: 2 mm over 3 mm along x, the inverse along y", () => {
    const links = grid.links();
    expect(links.find(({ from, to }) => from === 0 && to === 1)!.squares).toBeCloseTo(2 / 3, 12);
    expect(links.find(({ from, to }) => from === 0 && to === 6)!.squares).toBeCloseTo(3 / 2, 12);
  });

  it("has the conductance of a strip end to end: 12 mm over 6 mm is 2 squares", () => {
    // Between the middles of the outer columns 10 mm by 6 mm: five steps of two cells side by side.
    const along = grid.links().filter(({ from, to }) => to === from + 1);
    const perStep = along.length / 5 / along[0]!.squares;
    expect(5 / perStep).toBeCloseTo(10 / 6, 12);
  });

  it("shares a contact among the cells under it by area, around a hole too", () => {
    const [contact] = checkContacts(grid, [
      {
        name: "pad",
        area: [
          { left: 1e-3, right: 3e-3, bottom: 0, top: 1e-3 },
          { left: 5e-3, right: 6e-3, bottom: 2e-3, top: 4e-3 },
        ],
      },
    ]);
    const cells = new Map(grid.cellsUnder(contact!.pieces).map(({ cell, share }) => [cell, share]));
    expect([...cells.keys()].sort((a, b) => a - b)).toEqual([0, 1, 2, 8]);
    for (const share of cells.values()) expect(share).toBeCloseTo(1 / 4, 12);
  });

  it("finds the cell of a place, the far rim included", () => {
    expect(grid.cellAt(0, 0)).toBe(0);
    expect(grid.cellAt(2.1e-3, 3.1e-3)).toBe(7);
    expect(grid.cellAt(12e-3, 6e-3)).toBe(11);
  });
});
