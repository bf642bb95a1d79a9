import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Grid } from "../../src/chip/grid.js";
import { cellPowers, type PowerMap } from "../../src/chip/power-map.js";

const grid = new Grid(20e-3, 10e-3, 37, 16);
const total = (cells: Float64Array) => cells.reduce((sum, power) => sum + power, 0);

/** Where the heat of a map falls in the mean [m]. */
function middle(cells: Float64Array) {
  let [x, y] = [0, 0];
  cells.forEach((power, c) => {
    x += power * grid.x(c % grid.cellsX);
    y += power * grid.y(Math.floor(c / grid.cellsX));
  });
  return { x: x / total(cells), y: y / total(cells) };
}

describe("a power map", () => {
  it("keeps its total to rounding, whatever the cells", () => {
    const power = fc.double({ min: 1e-12, max: 1e-6, noNaN: true });
    const cells = fc.integer({ min: 1, max: 60 });
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    const pixels = fc.integer({ min: 1, max: 9 });
    fc.assert(
      fc.property(power, cells, cells, share, share, pixels, (p, nx, ny, a, b, n) => {
        const any = new Grid(20e-3, 10e-3, nx, ny);
        const over = { left: a * 15e-3, right: a * 15e-3 + 1e-3, bottom: 0, top: 1e-3 + b * 9e-3 };
        const rows = Array.from({ length: n }, (_, j) => [p * (j + 1), p / (j + 1), p]);
        const sum = rows.flat().reduce((s, each) => s + each, 0);
        const spot = { kind: "spot", power: p, x: a * 20e-3, y: b * 10e-3 } as const;
        const maps: [PowerMap, number][] = [
          [{ kind: "uniform", power: p }, p],
          [{ kind: "rectangle", power: p, over }, p],
          [{ ...spot, radius: 1e-6 }, p],
          [{ ...spot, radius: 5e-3 }, p],
          [{ kind: "pixels", rows }, sum],
          [{ kind: "pixels", rows, over }, sum],
        ];
        for (const [map, whole] of maps) {
          expect(Math.abs(total(cellPowers(any, map)) / whole - 1)).toBeLessThan(1e-12);
        }
        const all = total(
          cellPowers(
            any,
            maps.map(([map]) => map),
          ),
        );
        expect(all / (4 * p + 2 * sum)).toBeCloseTo(1, 12);
      }),
    );
  });

  it("of equal pixels is even, however the pixels lie in the cells", () => {
    const rows = Array.from({ length: 7 }, () => new Array(11).fill(1e-12));
    const cells = cellPowers(grid, { kind: "pixels", rows });
    for (const power of cells) expect(power / (77e-12 / grid.cells)).toBeCloseTo(1, 12);
  });

  it("of pixels has its first row at the bottom and its first pixel at the left", () => {
    const rows = [
      [1, 0],
      [0, 0],
    ];
    const { x, y } = middle(cellPowers(grid, { kind: "pixels", rows }));
    expect(x).toBeCloseTo(5e-3, 4);
    expect(y).toBeCloseTo(2.5e-3, 6);
  });

  it("of a spot is a normal distribution around its middle", () => {
    const map = { kind: "spot", power: 1, x: 8e-3, y: 4e-3, radius: 1e-3 } as const;
    const fine = new Grid(20e-3, 10e-3, 400, 200);
    const cells = cellPowers(fine, map);
    // Within one standard deviation of the middle falls 1 − e^(−1/2) of the power.
    let within = 0;
    cells.forEach((power, c) => {
      const [i, j] = [c % 400, Math.floor(c / 400)];
      if (Math.hypot(fine.x(i) - map.x, fine.y(j) - map.y) < map.radius) within += power;
    });
    expect(within).toBeCloseTo(1 - Math.exp(-0.5), 2);
  });

  it("of cells is taken as it is", () => {
    const cells = Array.from({ length: grid.cells }, (_, i) => i);
    expect([...cellPowers(grid, { kind: "cells", cells })]).toEqual(cells);
  });

  it("loses no heat in silence: the cells have what the map brings, or it is refused", () => {
    const number = fc.oneof(
      fc.double({ min: 0, noNaN: true, noDefaultInfinity: true }),
      fc.constantFrom(0, 5e-324, 1e-300, 1e300, Number.MAX_VALUE),
    );
    const rows = fc.array(fc.array(number, { minLength: 3, maxLength: 3 }), {
      minLength: 1,
      maxLength: 4,
    });
    const side = fc.double({ min: 0, max: 1, noNaN: true });
    const map = fc.oneof(
      fc.record({ kind: fc.constant("pixels" as const), rows }),
      fc.record({ kind: fc.constant("uniform" as const), power: number }),
      fc.record({
        kind: fc.constant("rectangle" as const),
        power: number,
        over: fc.record({ left: side, right: side, bottom: side, top: side }),
      }),
      fc.record({
        kind: fc.constant("spot" as const),
        power: number,
        x: side,
        y: side,
        radius: fc.oneof(number, side),
      }),
    );
    const grid = new Grid(1, 0.7, 16, 8, "die");
    const brought = (each: PowerMap) =>
      "power" in each
        ? each.power
        : (each as Extract<PowerMap, { kind: "pixels" }>).rows.flat().reduce((a, b) => a + b);
    let kept = 0;
    fc.assert(
      fc.property(map, (each) => {
        let cells: Float64Array;
        try {
          cells = cellPowers(grid, each as PowerMap);
        } catch (error) {
          expect((error as Error).name).toBe("FieldError");
          return;
        }
        const total = brought(each as PowerMap);
        const sum = cells.reduce((a, b) => a + b);
        expect(Math.abs(sum - total)).toBeLessThanOrEqual(1e-9 * total);
        kept++;
      }),
      { numRuns: 500, seed: 2 },
    );
    expect(kept).toBeGreaterThan(100);
  });

  it("is refused with the place of what is wrong", () => {
    const refused = (map: unknown) => () => cellPowers(grid, map as PowerMap, "load");
    expect(refused({ kind: "cells", cells: [1, 2] })).toThrow(
      'load.cells: expected 592 numbers, one for each of 37 × 16 cells, got "2 numbers"',
    );
    expect(refused({ kind: "pixels", rows: [[1, 2], [3]] })).toThrow(
      'load.rows[1]: expected 2 pixels, as many as in row 0, got "1 pixels"',
    );
    expect(refused({ kind: "pixels", rows: [[1, Number.NaN]] })).toThrow(
      "load.rows[0][1]: expected a finite number in watts, got NaN",
    );
    expect(refused({ kind: "pixels", rows: [] })).toThrow("load.rows: expected at least one row");
    expect(refused({ kind: "uniform", power: Number.POSITIVE_INFINITY })).toThrow(
      "load.power: expected a finite number in watts, got Infinity",
    );
    const over = { left: 0, right: 30e-3, bottom: 0, top: 1e-3 };
    expect(refused({ kind: "rectangle", power: 1, over })).toThrow(
      "load.over: expected a place on",
    );
    expect(refused({ kind: "spot", power: 1, x: 21e-3, y: 0, radius: 1e-3 })).toThrow(
      'load: expected a spot whose middle is on the die, got "x 21 mm, y 0 m"',
    );
    expect(refused({ kind: "spot", power: 1, x: 1e-3, y: 0, radius: 0 })).toThrow("load.radius:");
    expect(refused({ kind: "stripes" })).toThrow('load.kind: expected "uniform"');
    expect(refused([{ kind: "uniform", power: "2 nW" }])).toThrow(
      "load[0].power: expected a finite",
    );
  });
});
