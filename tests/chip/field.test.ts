import { describe, expect, it } from "vitest";
import { SheetField } from "../../src/chip/field.js";
import { Grid } from "../../src/chip/grid.js";
import { type Conductor, powerConductor } from "../../src/conductor.js";

const grid = new Grid(16e-3, 8e-3, 16, 8);
const law = powerConductor(1e-3, 4);
/** The same law without its powers, and with another zero of Θ. */
const functions: Conductor = {
  conductance: law.conductance,
  integral: (T) => law.integral(T) + 7e-5,
};

/** Θ − Θ(0.1 K) as a function of the place, on the middles of the cells. */
const potential = (of: (x: number, y: number) => number) =>
  Float64Array.from({ length: grid.cells }, (_, c) =>
    of(grid.x(c % grid.cellsX), grid.y(Math.floor(c / grid.cellsX))),
  );
/** Means over the contacts, and their temperatures. */
const anchors = [new Float64Array([0]), [0.1]] as const;
const hill = (x: number, y: number) => 1e-8 - 2e-4 * (x - 7.3e-3) ** 2 - 3e-4 * (y - 3.1e-3) ** 2;
const temperature = (theta: number) => ((law.integral(0.1) + theta) / 1e-3) ** 0.25;

describe("the field of a die", () => {
  const field = SheetField.levelled(grid, law, potential(hill), ...anchors);

  it("has its hottest point between the middles of the cells", () => {
    const { x, y, temperature: T } = field.hottest;
    expect(x).toBeCloseTo(7.3e-3, 9);
    expect(y).toBeCloseTo(3.1e-3, 9);
    expect(T).toBeCloseTo(temperature(1e-8), 12);
  });

  it("has its hottest point at the rim when it rises towards it", () => {
    const rising = (x: number, y: number) => 1e-6 * x - 1e-6 * y;
    const { x, y } = SheetField.levelled(grid, law, potential(rising), ...anchors).hottest;
    expect(grid.width - x).toBeLessThan(grid.cellWidth / 2);
    expect(y).toBeLessThan(grid.cellLength / 2);
  });

  it("has its coldest point where Θ is least", () => {
    const { x, y } = field.coldest;
    expect(x).toBeGreaterThan(15e-3);
    expect(y).toBeGreaterThan(7e-3);
  });

  it("has a temperature at every place", () => {
    const cell = field.temperatures[3 * 16 + 5]!;
    expect(cell).toBeCloseTo(temperature(hill(grid.x(5), grid.y(3))), 12);
    expect(field.at(grid.x(5), grid.y(3))).toBeCloseTo(cell, 14);
    const between = (hill(grid.x(5), grid.y(3)) + hill(grid.x(6), grid.y(3))) / 2;
    expect(field.at(6e-3, grid.y(3))).toBeCloseTo(temperature(between), 12);
    expect(field.at(0, 0)).toBe(field.temperatures[0]);
    expect(field.at(16e-3, 8e-3)).toBeCloseTo(field.temperatures.at(-1)!, 14);
    const mean = field.temperatures.reduce((sum, T) => sum + T, 0) / grid.cells;
    expect(field.mean).toBeCloseTo(mean, 14);
  });

  it("can be cut along a line", () => {
    const { distance, temperature: T } = field.cut({ x: 0, y: 2e-3 }, { x: 3e-3, y: 6e-3 }, 11);
    expect(distance[10]).toBeCloseTo(5e-3, 12);
    expect(T).toHaveLength(11);
    expect(T[5]).toBeCloseTo(field.at(1.5e-3, 4e-3), 14);
  });

  it("is the same whether the law is a power or a function, whatever its zero", () => {
    const other = SheetField.levelled(grid, functions, potential(hill), ...anchors);
    const limited = { ...functions, powers: law.powers!, powersUpTo: 0.1001 };
    const beyond = SheetField.levelled(grid, limited, potential(hill), ...anchors);
    field.temperatures.forEach((T, c) => {
      expect(other.temperatures[c]).toBeCloseTo(T, 12);
      expect(beyond.temperatures[c]).toBeCloseTo(T, 12);
    });
    expect(other.hottest.temperature).toBeCloseTo(field.hottest.temperature, 12);
  });

  it("tells by how much its contacts miss what it is at them, as a part of its span", () => {
    const slope = (x: number) => 1e-6 * x;
    const span = 15 * grid.cellWidth * 1e-6;
    const off = law.integral(0.1001) - law.integral(0.1);
    const both = [new Float64Array([0, 0]), [0.1, 0.1001]] as const;
    const { mismatch } = SheetField.levelled(grid, law, potential(slope), ...both);
    expect(mismatch / (off / 2 / span)).toBeCloseTo(1, 9);
    expect(SheetField.levelled(grid, law, potential(slope), ...anchors).mismatch).toBeLessThan(
      1e-9,
    );
  });

  it("says where a contact takes more heat than reaches it", () => {
    const hole = potential((x, y) => (x < 1e-3 && y < 1e-3 ? -2e-7 : 0));
    for (const of of [law, functions]) {
      const holed = SheetField.levelled(grid, of, hole.slice(), ...anchors);
      const message =
        "chip: no temperature above 0 K at x 0.5 mm, y 0.5 mm: a contact there takes more heat";
      expect(() => holed.temperatures).toThrow(message);
      expect(() => holed.coldest).toThrow("chip: no temperature above 0 K");
      expect(() => holed.at(0.5e-3, 0.5e-3)).toThrow(message);
      expect(holed.hottest.temperature).toBeGreaterThanOrEqual(0.1);
    }
  });
});
