/** The error of a map without what is only scatter. */
import { expect, it } from "vitest";
import { smoothMap, standardError } from "../../../src/chip/flights/smooth-map.js";
import { Grid } from "../../../src/chip/grid.js";
import { random } from "../../../src/numerics/random.js";

const grid = new Grid(1, 1, 8, 8, "die");
const numbers = random(3);
const weights = Float64Array.from({ length: 64 }, (_, c) =>
  c === 27 ? 0.75 : c === 28 ? 0.25 : 0,
);
const sumOf = (cells: Float64Array) => cells.reduce((sum, cell, c) => sum + cell * weights[c]!, 0);
const noisy = () =>
  Float64Array.from({ length: 64 }, (_, c) => {
    const [x, y] = [(c % 8) / 8, Math.floor(c / 8) / 8];
    return 3 - x * x - y + 0.8 * (numbers.uniform() - 0.5);
  });
const maps = Array.from({ length: 16 }, noisy);
const smooth = smoothMap(grid, maps);

it("scatters as it follows its maps", () => {
  // A change of all maps alike leaves their scatter, and changes each mode's mean.
  const scatter = smooth.scatterOf(weights);
  for (const [i, j] of [
    [0, 1],
    [5, 12],
  ] as const) {
    const moved = (epsilon: number) =>
      sumOf(
        smoothMap(
          grid,
          maps.map((map) => map.map((cell, c) => cell + epsilon * (maps[i]![c]! - maps[j]![c]!))),
        ).cells,
      );
    const slope = (moved(1e-6) - moved(-1e-6)) / 2e-6;
    expect(scatter[i]! - scatter[j]!).toBeCloseTo(slope, 6);
  }
  expect(smooth.errorOf(weights)).toBe(standardError(scatter));
});

it("scatters by less than a cell of its maps, and by more than their mean", () => {
  const rough = standardError(maps.map(sumOf));
  const even = standardError(maps.map((map) => map.reduce((sum, cell) => sum + cell / 64, 0)));
  expect(smooth.errorOf(weights)).toBeLessThan(rough);
  expect(smooth.errorOf(weights)).toBeGreaterThan(even);
});
