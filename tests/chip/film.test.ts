import { describe, expect, it } from "vitest";
import { checkContacts, withoutHole } from "../../src/chip/contact.js";
import { cornerSquares, type FilmPatches, faceFilm, ringFilm } from "../../src/chip/film.js";
import { Grid } from "../../src/chip/grid.js";
import { Sheet } from "../../src/chip/sheet.js";
import { powerConductor, scaled } from "../../src/conductor.js";
import { solveSteady } from "../../src/network/steady.js";

/** Θ of a square of a normal metal goes as T². */
const square = powerConductor(3e-7, 2);
const size = (film: FilmPatches) => film.patches.reduce((sum, patch) => sum + patch.size, 0);

/** Squares between patches of a film: heat at one, taken out at another. */
function squaresBetween(film: FilmPatches, from: string, to: string): number {
  const { temperatures } = solveSteady({
    nodes: film.patches.map(({ name }) =>
      name === to ? { name, temperature: 0.1 } : { name, load: name === from ? 1e-9 : 0 },
    ),
    links: film.links.map(({ from, to, squares }) => ({
      name: `${from} to ${to}`,
      from,
      to,
      conductor: scaled(square, 1 / squares),
    })),
  });
  return (square.integral(temperatures.get(from)!) - square.integral(0.1)) / 1e-9;
}

describe("a ring of film", () => {
  const ring = ringFilm({
    name: "ring",
    width: 20e-3,
    length: 10e-3,
    inset: 0.5e-3,
    band: 1e-3,
    across: 17,
    along: 7,
  });

  it("covers its band once", () => {
    expect(ring.patches).toHaveLength(4 + 2 * 17 + 2 * 7);
    expect(size(ring)).toBeCloseTo((19 * 9 - 17 * 7) * 1e-6, 12);
    const grid = new Grid(20e-3, 10e-3, 64, 32);
    expect(checkContacts(grid, ring.patches)).toHaveLength(52);
  });

  it("closes on itself, each patch beside the next", () => {
    expect(ring.links).toHaveLength(52);
    expect(ring.links.at(-1)).toMatchObject({ from: "ring 52", to: "ring 1" });
    ring.links.forEach(({ from, to }) => {
      const [a, b] = [from, to].map((name) => ring.patches.find((p) => p.name === name)!);
      expect(Math.hypot(a!.x - b!.x, a!.y - b!.y)).toBeCloseTo(1e-3, 9);
    });
  });

  it("has the squares of its sides and corners: from corner to corner both ways round", () => {
    // Half of 17 + 7 squares of straight film and two corners: one between, and a half at each end.
    const half = 17 + 7 + 2 * cornerSquares;
    expect(squaresBetween(ring, "ring 1", "ring 27") / (half / 2)).toBeCloseTo(1, 9);
    // P. M. Hall, Thin Solid Films 1, 277 (1968): a corner square counts 0.559.
    expect(cornerSquares).toBeCloseTo(0.559, 3);
  });

  it("must fit on the die", () => {
    const die = { name: "ring", width: 4e-3, length: 4e-3 };
    expect(() => ringFilm({ ...die, band: 2e-3 })).toThrow(
      "ring.band: expected a width greater than 0 that leaves the middle of the die open",
    );
    expect(() => ringFilm({ ...die, band: 1e-3, inset: -1e-3 })).toThrow("ring.inset: expected");
  });
});

describe("a film over a face", () => {
  const face = { left: 0, right: 12e-3, bottom: 0, top: 8e-3 };

  it("of one row of tiles is a strip", () => {
    const film = faceFilm("strip", { ...face, top: 1e-3 }, 12, 1);
    expect(squaresBetween(film, "strip 1", "strip 12")).toBeCloseTo(11, 9);
  });

  it("leaves out a hole", () => {
    const frame = withoutHole(face, { left: 4e-3, right: 8e-3, bottom: 2e-3, top: 6e-3 });
    const film = faceFilm("back", frame, 12, 8);
    expect(film.patches).toHaveLength(96 - 16);
    expect(size(film)).toBeCloseTo(80e-6, 12);
    // Every inner edge of the 12 × 8 tiles but the 24 inside the hole and the 16 around it.
    expect(film.links).toHaveLength(11 * 8 + 12 * 7 - 24 - 16);
    for (const { squares } of film.links) expect(squares).toBeCloseTo(1, 9);
  });

  it("is what the same film is as a sheet of its own, the better the smaller the tiles", () => {
    // Heat comes in evenly over a third of the film and leaves evenly over another.
    const heat = 1e-9;
    const hot = { left: 0, right: 4e-3, bottom: 0, top: 8e-3 };
    const cold = { left: 8e-3, right: 12e-3, bottom: 0, top: 4e-3 };
    const within = ({ x, y }: { x: number; y: number }, area: typeof hot) =>
      x > area.left && x < area.right && y > area.bottom && y < area.top;
    const sheet = new Sheet({ width: 12e-3, length: 8e-3, cellsX: 384, cellsY: 256 });
    const potential = sheet.potential(
      sheet.powers([
        { kind: "rectangle", power: heat, over: hot },
        { kind: "rectangle", power: -heat, over: cold },
      ]),
    );
    const difference = (n: number) => {
      const film = faceFilm("film", face, 3 * n, 2 * n);
      const [from, to] = [film.patches[2 * n * 3 * n - 3 * n]!, film.patches[3 * n - 1]!];
      const loads = film.patches.map((patch) => {
        const into = within(patch, hot) ? (heat * patch.size) / 32e-6 : 0;
        return into - (within(patch, cold) ? (heat * patch.size) / 16e-6 : 0);
      });
      const { temperatures } = solveSteady({
        nodes: film.patches.map(({ name }, i) =>
          name === to.name ? { name, temperature: 0.1 } : { name, load: loads[i]! },
        ),
        links: film.links.map(({ from, to, squares }) => ({
          name: `${from} to ${to}`,
          from,
          to,
          conductor: scaled(square, 1 / squares),
        })),
      });
      const byLinks =
        square.integral(temperatures.get(from.name)!) - square.integral(temperatures.get(to.name)!);
      const [a, b] = sheet.condense([from, to]).means(potential);
      return Math.abs(byLinks / (a! - b!) - 1);
    };
    const [coarse, fine] = [difference(2), difference(4)];
    expect(fine).toBeLessThan(0.02);
    expect(fine).toBeLessThan(coarse / 3);
  });
});
