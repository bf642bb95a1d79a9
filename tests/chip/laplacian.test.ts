import fc from "fast-check";
import { expect, test } from "vitest";
import { Grid } from "../../src/chip/grid.js";
import { Laplacian } from "../../src/chip/laplacian.js";

const side = [9e-3, 7e-3] as const;

/** A stretch of a side: anywhere, of any width down to a part of a cell. */
const stretch = (length: number) =>
  fc
    .tuple(
      fc.double({ min: 0, max: 0.999, noNaN: true }),
      fc.double({ min: 1e-4, max: 1, noNaN: true }),
    )
    .map(([from, part]) => [from * length, (from + (1 - from) * part) * length] as const);

const rectangle = fc
  .tuple(stretch(side[0]), stretch(side[1]))
  .map(([[left, right], [bottom, top]]) => ({ left, right, bottom, top }));

test("What patches couple is what one's heat raises the mean over another by, side by side or one over the other.", () => {
  fc.assert(
    fc.property(
      fc.array(rectangle, { minLength: 1, maxLength: 7 }),
      fc.integer({ min: 1, max: 24 }),
      fc.integer({ min: 1, max: 24 }),
      (rectangles, cellsX, cellsY) => {
        const grid = new Grid(side[0], side[1], cellsX, cellsY);
        const laplacian = new Laplacian(grid);
        const patches = rectangles.map((area) => laplacian.patch(area));
        const shares = rectangles.map((area) => {
          const [columns, rows] = [grid.columns(area), grid.rows(area)];
          const cells = new Float64Array(grid.cells);
          for (const [j, row] of rows.shares.entries()) {
            for (const [i, column] of columns.shares.entries()) {
              cells[(rows.first + j) * cellsX + columns.first + i] = row * column;
            }
          }
          return cells;
        });
        const coupling = laplacian.coupling(patches);
        const n = patches.length;
        const largest = coupling.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
        shares.forEach((heat, b) => {
          const field = heat.slice();
          laplacian.solve(field);
          shares.forEach((over, a) => {
            const mean = over.reduce((sum, share, cell) => sum + share * field[cell]!, 0);
            expect(Math.abs(coupling[a * n + b]! - mean)).toBeLessThanOrEqual(
              1e-12 * largest + 1e-15,
            );
          });
        });
      },
    ),
    { seed: 3, numRuns: 300 },
  );
});

test("A row of pads beside each other and a clamp over some of them are symmetric to the last bit.", () => {
  const laplacian = new Laplacian(new Grid(side[0], side[1], 64, 32));
  const pad = (left: number) => ({ left, right: left + 0.2e-3, bottom: 0.1e-3, top: 0.4e-3 });
  const areas = [
    ...[0.5e-3, 1.1e-3, 3e-3, 8.7e-3].map(pad),
    { left: 0.9e-3, right: 4e-3, bottom: 2e-3, top: 5e-3 },
  ];
  const coupling = laplacian.coupling(areas.map((area) => laplacian.patch(area)));
  for (const [i] of areas.entries()) {
    for (let j = 0; j < i; j++) {
      expect(coupling[i * areas.length + j]).toBe(coupling[j * areas.length + i]);
    }
    expect(coupling[i * (areas.length + 1)]).toBeGreaterThan(0);
  }
});
