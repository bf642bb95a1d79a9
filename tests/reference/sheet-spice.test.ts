/**
 * The same die on the same cells, solved by a circuit simulator (ngspice) as a grid of resistors whose pads
 * are behavioural sources: heat is a current, Θ of a cell and the temperature of a pad are voltages.
 */
import { Simulation } from "eecircuit-engine";
import { describe, expect, it } from "vitest";
import type { Contact } from "../../src/chip/contact.js";
import { Sheet } from "../../src/chip/sheet.js";
import { powerConductor } from "../../src/conductor.js";
import { solveSteady } from "../../src/network/steady.js";

/** Volts and amperes stand for these, so that numbers are near 1: SPICE solves to parts of a volt. */
const kelvin = 0.1;
const watt = 1e-9;

const stage = 0.11 / kelvin;
const [cellsX, cellsY] = [24, 18];
/** Laws c·Tᵖ in those units: a square of the die, a pad's boundary, its film, its bond, the box. */
const die = 70;
const boundary = (pad: number) => 6 + pad;
const film = 9;
const bond = (pad: number) => 2 + (pad % 3);
const box = 120;

const sheet = new Sheet({ width: 12e-3, length: 8e-3, cellsX, cellsY });
const power = sheet.powers([
  { kind: "uniform", power: 3 * watt },
  { kind: "spot", power: 9 * watt, x: 4e-3, y: 5e-3, radius: 0.8e-3 },
]);

/** Along three edges, in any place in the cells; one smaller than a cell. */
const places: [x: number, y: number, width: number, length: number][] = [
  [0.1e-3, 0.2e-3, 0.7e-3, 0.9e-3],
  [5.3e-3, 0.1e-3, 0.3e-3, 0.2e-3],
  [9e-3, 0, 2.2e-3, 0.5e-3],
  [11e-3, 3.1e-3, 0.9e-3, 1.1e-3],
  [10.7e-3, 7e-3, 1.1e-3, 0.8e-3],
  [6.05e-3, 7.2e-3, 0.6e-3, 0.6e-3],
  [0.3e-3, 7.1e-3, 0.8e-3, 0.9e-3],
];
const pads: Contact[] = places.map(([x, y, width, length], i) => ({
  name: `pad ${i}`,
  area: { left: x, right: x + width, bottom: y, top: y + length },
}));

/** Cells of a pad and the part of it in each, from areas. */
function shares([x, y, width, length]: (typeof places)[number]) {
  const { cellWidth, cellLength } = sheet.grid;
  return Array.from({ length: cellsX * cellsY }, (_, cell) => {
    const [left, bottom] = [(cell % cellsX) * cellWidth, Math.floor(cell / cellsX) * cellLength];
    const wide = Math.min(x + width, left + cellWidth) - Math.max(x, left);
    const long = Math.min(y + length, bottom + cellLength) - Math.max(y, bottom);
    return { cell, share: wide > 0 && long > 0 ? (wide * long) / (width * length) : 0 };
  }).filter(({ share }) => share > 0);
}

function netlist(): string {
  const { cellWidth, cellLength } = sheet.grid;
  const lines = ["die"];
  for (let cell = 0; cell < cellsX * cellsY; cell++) {
    lines.push(
      `I${cell} 0 c${cell} ${power[cell]! / watt}`,
      `.nodeset v(c${cell})=${die * 1.2 ** 4}`,
    );
    if ((cell + 1) % cellsX)
      lines.push(`RX${cell} c${cell} c${cell + 1} ${cellWidth / cellLength}`);
    if (cell + cellsX < cellsX * cellsY) {
      lines.push(`RY${cell} c${cell} c${cell + cellsX} ${cellLength / cellWidth}`);
    }
  }
  places.forEach((place, p) => {
    const own = shares(place);
    const mean = own.map(({ cell, share }) => `${share}*v(c${cell})`).join("+");
    const toPhonons = `${boundary(p)}*(v(t${p})^4-v(p${p})^4)`;
    const toElectrons = `${film}*(v(p${p})^5-v(e${p})^5)`;
    const toBox = `${bond(p)}*(v(e${p})^2-v(box)^2)`;
    lines.push(
      `BT${p} t${p} 0 V=((${mean})/${die})^0.25`,
      ...own.map(({ cell, share }) => `BC${p}_${cell} c${cell} 0 I=${share}*${toPhonons}`),
      `BP${p} 0 p${p} I=${toPhonons}-${toElectrons}`,
      `BE${p} 0 e${p} I=${toElectrons}-${toBox}`,
      `BB${p} 0 box I=${toBox}`,
      `.nodeset v(t${p})=1.2 v(p${p})=1.18 v(e${p})=1.15`,
    );
  });
  lines.push(`BS box 0 I=${box}*(v(box)^2-${stage}^2)`, ".nodeset v(box)=1.12");
  const exact = "reltol=1e-12 abstol=1e-15 vntol=1e-13 gmin=1e-30 itl1=500";
  return [...lines, `.options ${exact}`, ".op", ".end"].join("\n");
}

async function bySimulator(): Promise<Map<string, number>> {
  const simulation = new Simulation();
  await simulation.start();
  simulation.setNetList(netlist());
  const { data } = await simulation.runSim();
  return new Map(
    data.map(({ name, values: [value] }) => [name, typeof value === "number" ? value : Number.NaN]),
  );
}

/** c·Tᵖ in SI. */
const inSI = (coefficient: number, exponent: number) =>
  powerConductor((coefficient * watt) / kelvin ** exponent, exponent);

describe("a die with nonlinear pads", () => {
  it("has at every cell and pad the temperature that a circuit simulator finds", async () => {
    const condensed = sheet.condense(pads);
    const body = condensed.body(inSI(die, 4), { kind: "cells", cells: power });
    const solution = solveSteady({
      nodes: [
        { name: "box" },
        { name: "stage", temperature: stage * kelvin },
        ...pads.flatMap(({ name }) => [
          { name },
          { name: `${name} phonons` },
          { name: `${name} electrons` },
        ]),
      ],
      links: [
        { name: "joint", from: "box", to: "stage", conductor: inSI(box, 2) },
        ...pads.flatMap(({ name }, p) => {
          const [phonons, electrons] = [`${name} phonons`, `${name} electrons`];
          return [
            { name: `${name} boundary`, from: name, to: phonons, conductor: inSI(boundary(p), 4) },
            { name: `${name} film`, from: phonons, to: electrons, conductor: inSI(film, 5) },
            { name: `${name} bond`, from: electrons, to: "box", conductor: inSI(bond(p), 2) },
          ];
        }),
      ],
      bodies: [{ name: "die", terminals: condensed.terminals, body }],
    });
    const field = condensed.fieldOf(body, solution, "die");
    const simulated = await bySimulator();
    const T = (name: string) => simulated.get(`v(${name})`)! * kelvin;
    const rise = field.hottest.temperature - stage * kelvin;
    expect(rise).toBeGreaterThan(10e-3);
    let largest = 0;
    field.temperatures.forEach((temperature, cell) => {
      const theta = simulated.get(`v(c${cell})`)!;
      largest = Math.max(largest, Math.abs(temperature - (theta / die) ** 0.25 * kelvin));
    });
    for (const [name, node] of pads.flatMap(({ name }, p) => [
      [name, `t${p}`],
      [`${name} phonons`, `p${p}`],
      [`${name} electrons`, `e${p}`],
    ])) {
      largest = Math.max(largest, Math.abs(solution.temperatures.get(name!)! - T(node!)));
    }
    largest = Math.max(largest, Math.abs(solution.temperatures.get("box")! - T("box")));
    console.log(
      `sheet and circuit simulator: ${(largest / rise).toExponential(1)} of the rise apart`,
    );
    expect(largest / rise).toBeLessThan(1e-6);
  }, 60_000);
});
