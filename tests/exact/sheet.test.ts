/** The sheet against closed forms, and how its error falls with the size of the cells. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Contact } from "../../src/chip/contact.js";
import type { Rectangle } from "../../src/chip/grid.js";
import { Sheet } from "../../src/chip/sheet.js";
import { powerConductor } from "../../src/conductor.js";
import { boundary } from "../../src/joints/boundary.js";
import { electronPhonon } from "../../src/joints/electron-phonon.js";
import { stripConductor } from "../../src/joints/strip.js";
import { wireBond } from "../../src/joints/wire-bond.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import { plateMeanFreePath } from "../../src/materials/phonons.js";
import { solveSteady } from "../../src/network/steady.js";

/** Order in the cell size, from errors at cells that halve each time. */
const orders = (errors: readonly number[]) =>
  errors.slice(1).map((error, i) => Math.log2(errors[i]! / error));

describe("conduction along the sheet", () => {
  it("of an evenly heated square with cold edges rises 0.0737 P/(κt) in its middle", () => {
    // A plate with insulated rims, heated in two of its quarters and cooled in the others, has one
    // temperature along both middle lines; a quarter, mirrored at the rims, is a square with cold edges
    // whose middle is the plate's corner. H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids,
    // 2nd ed. (1959), chapter V; to more digits the series of `sheetFactor` gives 0.0736714.
    const rise = (cells: number) => {
      const sheet = new Sheet({ width: 1, length: 1, cellsX: cells, cellsY: cells });
      // 1 W on each square of side 1, of which the quarter shows a quarter.
      const board = Float64Array.from({ length: cells ** 2 }, (_, c) => {
        const [i, j] = [c % cells, Math.floor(c / cells)];
        return (i < cells / 2 === j < cells / 2 ? 1 : -1) / cells ** 2;
      });
      const theta = sheet.potential(board);
      // Along a rim the field is even: half a cell beyond the middle of the corner cell it is higher by an
      // eighth of the step to the next, in x and in y.
      return theta[0]! + (theta[0]! - theta[1]!) / 8 + (theta[0]! - theta[cells]!) / 8;
    };
    expect(rise(128)).toBeCloseTo(0.0737, 4);
    const errors = [16, 32, 64, 128].map((cells) => Math.abs(rise(cells) - 0.07367135328151));
    for (const order of orders(errors)) expect(order).toBeCloseTo(2, 1);
  });

  it("of a bar with κ ~ T³ heated evenly is warmest by its fourth root", () => {
    const [length, width, T0, P] = [20e-3, 1e-3, 0.1, 5e-9];
    const law = powerConductor(2e-4, 4);
    const sheet = new Sheet({ width: length, length: width, cellsX: 256, cellsY: 4 });
    const end = (name: string, left: number, right: number): Contact => ({
      name,
      area: { left, right, bottom: 0, top: width },
    });
    const cell = length / 256;
    const condensed = sheet.condense([end("a", 0, cell), end("b", length - cell, length)]);
    const body = condensed.body(law, { kind: "uniform", power: P });
    const field = condensed.field(body, [T0, T0]);
    // ΔΘ = P·squares/8 between middle and ends; here the ends are half a cell inside.
    const squares = (length - cell) / width;
    const share = (length - cell) / length;
    const expected = (T0 ** 4 + (P * share * squares) / 8 / 2e-4) ** 0.25;
    expect(field.hottest.temperature / expected - 1).toBeLessThan(1e-5);
    expect(field.hottest.x).toBeCloseTo(length / 2, 6);
  });

  it("of a smooth load is second order in the cell", () => {
    // −∇²Θ = q for Θ = cos(πx/a) cos(2πy/b) + ½ cos(3πx/a): the modes of insulated rims.
    const [a, b] = [3, 2];
    const error = (cells: number) => {
      const sheet = new Sheet({ width: a, length: b, cellsX: cells, cellsY: cells });
      const { grid } = sheet;
      const modes = [
        { k: Math.PI / a, l: (2 * Math.PI) / b, size: 1 },
        { k: (3 * Math.PI) / a, l: 0, size: 0.5 },
      ];
      const sum = (each: (mode: (typeof modes)[number]) => number) => (x: number, y: number) =>
        modes.reduce((s, m) => s + each(m) * Math.cos(m.k * x) * Math.cos(m.l * y), 0);
      const exact = sum((m) => m.size);
      const load = sum((m) => m.size * (m.k ** 2 + m.l ** 2));
      const at = (of: (x: number, y: number) => number) =>
        Float64Array.from({ length: grid.cells }, (_, c) =>
          of(grid.x(c % cells), grid.y(Math.floor(c / cells))),
        );
      const powers = at(load).map((q) => q * grid.cellWidth * grid.cellLength);
      const found = sheet.potential(powers);
      return at(exact).reduce((most, theta, c) => Math.max(most, Math.abs(theta - found[c]!)), 0);
    };
    const errors = [16, 32, 64, 128, 256].map(error);
    expect(errors.at(-1)).toBeLessThan(2e-4);
    for (const order of orders(errors)) expect(order).toBeCloseTo(2, 1);
  });

  it("between two contacts is second order in the cell", () => {
    // The sum over all modes of insulated rims, of 1 W that enters evenly over one rectangle and leaves
    // evenly over another, of what the means of Θ over them differ by.
    const die = { left: 0, right: 1, bottom: 0, top: 1 };
    const one = { left: 0.125, right: 0.375, bottom: 0.125, top: 0.25 };
    const other = { left: 0.5, right: 0.875, bottom: 0.5, top: 1 };
    const mean = (from: number, to: number, k: number) =>
      k === 0
        ? 1
        : (Math.sin(Math.PI * k * to) - Math.sin(Math.PI * k * from)) / (Math.PI * k * (to - from));
    const amplitude = ({ left, right, bottom, top }: Rectangle, k: number, l: number) =>
      mean(left, right, k) * mean(bottom, top, l);
    let exact = 0;
    for (let k = 0; k < 1500; k++) {
      for (let l = 0; l < 1500; l++) {
        if (k + l === 0) continue;
        const norm = (k ? 2 : 1) * (l ? 2 : 1);
        const difference = amplitude(one, k, l) - amplitude(other, k, l);
        exact += (norm * difference ** 2) / (Math.PI ** 2 * (k * k + l * l));
      }
    }
    const resistance = (cells: number) => {
      const sheet = new Sheet({ width: die.right, length: die.top, cellsX: cells, cellsY: cells });
      const { admittance } = sheet.condense([
        { name: "one", area: one },
        { name: "other", area: other },
      ]);
      return 1 / admittance[0]!;
    };
    const errors = [16, 32, 64, 128].map((cells) => Math.abs(resistance(cells) - exact));
    expect(errors.at(-1)! / exact).toBeLessThan(1e-3);
    for (const order of orders(errors)) expect(order).toBeGreaterThan(1.7);
  });
});

describe("the camera's die with its eighty pads", () => {
  const catalogue = readCatalogue(readDataFolder());
  const file = new URL("../../data/mounts/ombrel-camera.json", import.meta.url);
  const mount = JSON.parse(readFileSync(file, "utf8"));
  const metres = (text: string) => {
    const [value, unit] = text.split(" ") as [string, "mm" | "um"];
    return Number(value) * { mm: 1e-3, um: 1e-6 }[unit];
  };
  const width = metres(mount.die.width);
  const thickness = metres(mount.die.thickness);
  const [across, along] = [metres(mount.pads.width), metres(mount.pads.length)];
  const inset = 100e-6;
  /** Twenty on each edge, evenly, their length away from the rim. */
  const pads: Contact[] = Array.from({ length: 80 }, (_, i) => {
    const middle = (((i >> 2) + 1) * width) / 21;
    const [near, far] = i % 2 ? [width - inset - along, width - inset] : [inset, inset + along];
    const [from, to] = [middle - across / 2, middle + across / 2];
    const area =
      i % 4 < 2
        ? { left: from, right: to, bottom: near, top: far }
        : { left: near, right: far, bottom: from, top: to };
    return { name: `pad ${i}`, area };
  });
  const law = stripConductor(
    catalogue.material("silicon").thermalConductivity({
      meanFreePath: plateMeanFreePath({ thickness, width, specularity: 0 }),
    }),
    thickness,
  );
  const power = 11e-9;
  const stage = 0.11;
  const film = { metal: "gold", area: across * along, thickness: 300e-9 };
  const chain = {
    boundary: boundary({ between: ["silicon", "gold"], area: across * along }, catalogue),
    film: electronPhonon(film, catalogue),
    bond: wireBond(
      { metal: "gold", diameter: "25 um", length: "1.5 mm", residualResistivityRatio: 30 },
      catalogue,
    ),
  };

  function solve(cells: number | undefined) {
    const options = cells === undefined ? {} : { cellsX: cells, cellsY: cells };
    const sheet = new Sheet({ width, length: width, ...options });
    const condensed = sheet.condense(pads);
    const body = condensed.body(law, [
      { kind: "uniform", power: 0.7 * power },
      { kind: "spot", power: 0.3 * power, x: 0.6 * width, y: 0.4 * width, radius: 3e-3 },
    ]);
    const solution = solveSteady({
      nodes: [
        { name: "stage", temperature: stage },
        ...pads.flatMap(({ name }) => [
          { name },
          { name: `${name} phonons` },
          { name: `${name} electrons` },
        ]),
      ],
      links: pads.flatMap(({ name }) => {
        const places = [name, `${name} phonons`, `${name} electrons`, "stage"];
        return Object.entries(chain).map(([part, conductor], i) => ({
          name: `${name} ${part}`,
          from: places[i]!,
          to: places[i + 1]!,
          conductor,
        }));
      }),
      bodies: [{ name: "die", terminals: condensed.terminals, body }],
    });
    return {
      sheet,
      condensed,
      body,
      solution,
      field: condensed.fieldOf(body, solution, "die"),
      // All pads at one temperature: what the die alone adds, and the hardest on the mesh.
      alone: condensed.field(
        body,
        pads.map(() => stage),
      ),
    };
  }
  const usual = solve(undefined);

  it("is within half a per cent of cells half the size", () => {
    const finer = solve(2 * usual.sheet.grid.cellsX);
    const change = ({ alone, field }: typeof usual, of: "alone" | "field") =>
      (of === "alone" ? alone : field).hottest.temperature - stage;
    for (const of of ["alone", "field"] as const) {
      const share = change(usual, of) / change(finer, of) - 1;
      console.log(
        `camera's die, ${of}: halving the cell changes the rise by ${share.toExponential(1)}`,
      );
      expect(Math.abs(share)).toBeLessThan(5e-3);
    }
    const mean = (usual.field.mean - stage) / (finer.field.mean - stage) - 1;
    expect(Math.abs(mean)).toBeLessThan(5e-3);
  });

  it("balances to 1e-9 of its load over sheet and network", () => {
    const { solution, body, condensed } = usual;
    const into = solution.flows
      .filter((flow) => flow.to === "stage")
      .reduce((sum, flow) => sum + flow.power, 0);
    const outOfDie = -solution.bodyFlows.reduce((sum, flow) => sum + flow.power, 0);
    expect(Math.abs(into / power - 1)).toBeLessThan(1e-9);
    expect(Math.abs(outOfDie / power - 1)).toBeLessThan(1e-9);
    expect(solution.imbalance.relative).toBeLessThan(1e-9);
    expect(usual.field.mismatch).toBeLessThan(1e-9);
    // Cell by cell: what the neighbours and the pads bring is what falls on it.
    const { cellsX, cellsY } = usual.sheet.grid;
    const { theta } = usual.field;
    const left = Float64Array.from(body.powers);
    for (let j = 0; j < cellsY; j++) {
      for (let i = 0; i < cellsX; i++) {
        const c = j * cellsX + i;
        for (const next of [i + 1 < cellsX ? c + 1 : c, j + 1 < cellsY ? c + cellsX : c]) {
          left[c]! -= theta[c]! - theta[next]!;
          left[next]! += theta[c]! - theta[next]!;
        }
      }
    }
    solution.bodyFlows.forEach(({ power }, p) => {
      const { left: l, right, bottom, top } = pads[p]!.area as Rectangle;
      const { columns, rows } = {
        columns: usual.sheet.grid.columns({ left: l, right, bottom, top }),
        rows: usual.sheet.grid.rows({ left: l, right, bottom, top }),
      };
      rows.shares.forEach((row, j) => {
        columns.shares.forEach((column, i) => {
          left[(rows.first + j) * cellsX + columns.first + i]! += power * row * column;
        });
      });
    });
    expect(condensed.terminals).toHaveLength(80);
    for (const rest of left) expect(Math.abs(rest)).toBeLessThan(1e-9 * power);
  });
});
