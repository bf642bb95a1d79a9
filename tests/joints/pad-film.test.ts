import { describe, expect, test } from "vitest";
import { padFilm, padSquares } from "../../src/joints/spreading.js";
import { catalogue } from "./hand-made.js";

/**
 * Squares by cells: a quarter of a rectangle, heated evenly outside a foot of temperature 0 in its corner,
 * its sides insulated; by successive overrelaxation.
 */
function byCells(width: number, length: number, foot: number, across: number): number {
  const step = width / 2 / across;
  const along = Math.round(length / 2 / step);
  const u = new Float64Array(across * along);
  const inFoot = u.map((_, c) =>
    Math.hypot(((c % across) + 0.5) * step, (Math.floor(c / across) + 0.5) * step) < foot ? 1 : 0,
  );
  const film = inFoot.reduce((sum, inside) => sum + 1 - inside, 0);
  // For the slowest mode, a quarter of a wave along the length alone.
  const omega = 2 / (1 + Math.PI / (2 * Math.SQRT2 * along));
  const mean = () => u.reduce((sum, each) => sum + each, 0) / film;
  for (let sweep = 0, before = -1; sweep < 5000; sweep++) {
    for (let j = 0, c = 0; j < along; j++) {
      for (let i = 0; i < across; i++, c++) {
        if (inFoot[c] === 1) continue;
        // Beyond an insulated side lies the cell itself, which is taken out again.
        const own = u[c]!;
        const west = i > 0 ? u[c - 1]! : own;
        const east = i < across - 1 ? u[c + 1]! : own;
        const south = j > 0 ? u[c - across]! : own;
        const north = j < along - 1 ? u[c + across]! : own;
        const sides = 4 - +(i === 0) - +(i === across - 1) - +(j === 0) - +(j === along - 1);
        // The heat of the whole is 1 W, that of a quarter's cells a quarter of it.
        const sum = west + east + south + north - (4 - sides) * own + 1 / (4 * film);
        u[c] = own + omega * (sum / sides - own);
      }
    }
    if (sweep % 50 > 0) continue;
    if (Math.abs(mean() - before) < 1e-6 * before) return mean();
    before = mean();
  }
  return mean();
}

describe("padSquares", () => {
  test.each([
    [1, 1, 0.1],
    [1, 1, 0.3],
    [1, 1, 0.4],
    [1, 2, 0.1],
    [1, 2, 0.3],
    [1, 2, 0.5],
    [1, 5, 0.25],
  ])("agrees with a grid of cells for %s by %s and a foot of %s", (width, length, foot) => {
    // The foot's rim is a staircase of cells: a coarse and a fine one, extrapolated.
    const [coarse, fine] = [40, 80].map((n) => byCells(width, length, foot, n));
    expect(Math.abs(padSquares(width, length, foot) / (2 * fine! - coarse!) - 1)).toBeLessThan(
      0.03,
    );
  });

  test("needs no order of the sides, and knows no unit", () => {
    expect(padSquares(3, 1, 0.2)).toBe(padSquares(1, 3, 0.2));
    expect(padSquares(3e-4, 1e-4, 2e-5) / padSquares(3, 1, 0.2)).toBeCloseTo(1, 12);
  });

  test("tends to a strip that heat leaves at its middle, l/12w, for a long pad", () => {
    expect(padSquares(1, 100, 0.5) / padSquares(1, 200, 0.5)).toBeCloseTo(0.5, 2);
    expect(padSquares(1, 200, 0.5) / (200 / 12)).toBeCloseTo(1, 1);
  });
});

describe("padFilm", () => {
  const pad = {
    metal: "metal",
    width: "200 um",
    length: "500 um",
    thickness: "300 nm",
    footRadius: "40 um",
  } as const;

  test("is thickness over squares, times the integral of the conductivity", () => {
    const squares = padSquares(2e-4, 5e-4, 4e-5);
    const film = padFilm(pad, catalogue());
    expect(film.conductance(0.1) / ((2 * 0.1 * 300e-9) / squares)).toBeCloseTo(1, 9);
    expect(film.provenance).toHaveLength(5);
  });

  test.each([
    [
      { thickness: 0 },
      'pad.thickness: expected a length such as "25 um" or a number in metres, greater than 0, got 0',
    ],
    [
      { footRadius: "0.11 mm" },
      "pad.footRadius: expected at most half the shorter side of the pad, 100 µm",
    ],
    [{ width: "1 mm^2" }, 'pad.width: expected a length such as "25 um"'],
    [{ metal: "metall" }, 'pad.metal: material "metall" is not known, did you mean "metal"?'],
  ])("refuses %j", (change, message) => {
    expect(() => padFilm({ ...pad, ...change } as never, catalogue(), "pad")).toThrow(message);
  });
});
