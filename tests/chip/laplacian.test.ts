import fc from "fast-check";
import { expect, test } from "vitest";
import { Grid, type Rectangle } from "../../src/chip/grid.js";
import { Laplacian } from "../../src/chip/laplacian.js";
import { cellPowers } from "../../src/chip/power-map.js";

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

/** What patches couple against the field of each, over the largest coupling. */
function off(rectangles: readonly Rectangle[], cellsX: number, cellsY: number): number {
  const grid = new Grid(side[0], side[1], cellsX, cellsY);
  const laplacian = new Laplacian(grid);
  const coupling = laplacian.coupling(rectangles.map((area) => laplacian.patch(area)));
  const shares = rectangles.map((area) =>
    cellPowers(grid, { kind: "rectangle", power: 1, over: area }),
  );
  const n = rectangles.length;
  let largest = 1e-3;
  let worst = 0;
  shares.forEach((heat, b) => {
    const field = heat.slice();
    laplacian.solve(field);
    shares.forEach((over, a) => {
      const mean = over.reduce((sum, share, cell) => sum + share * field[cell]!, 0);
      largest = Math.max(largest, Math.abs(mean));
      worst = Math.max(worst, Math.abs(coupling[a * n + b]! - mean));
    });
  });
  return worst / largest;
}

test("What patches couple is what one's heat raises the mean over another by.", () => {
  const cells = fc.integer({ min: 1, max: 24 });
  fc.assert(
    fc.property(
      fc.array(rectangle, { minLength: 1, maxLength: 7 }),
      cells,
      cells,
      (rectangles, cellsX, cellsY) => {
        expect(off(rectangles, cellsX, cellsY)).toBeLessThan(1e-12);
      },
    ),
    { seed: 3, numRuns: 300 },
  );
});

test("So it is for pads apart, in the same columns, sharing a cell, and below a clamp.", () => {
  const pad = (left: number, bottom = 0.1e-3) => ({
    left,
    right: left + 0.2e-3,
    bottom,
    top: bottom + 0.3e-3,
  });
  const pads = [0.5e-3, 1.1e-3, 1.32e-3, 3e-3, 8.7e-3].map((left) => pad(left));
  const clamp = { left: 0.9e-3, right: 4e-3, bottom: 2e-3, top: 5e-3 };
  for (const more of [[], [pad(1.1e-3, 6e-3)], [clamp]]) {
    expect(off([...pads, ...more], 64, 32)).toBeLessThan(1e-12);
  }
});
