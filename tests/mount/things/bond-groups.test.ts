import { describe, expect, it } from "vitest";
import { wireLength } from "../../../src/joints/wire-length.js";
import { thermalBudget } from "../../../src/mount/budget.js";
import type { Mount } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { bondFeet } from "../../../src/mount/things/edges.js";
import { spread } from "../../../src/units/spread.js";
import { conductorOf, goldSlope, padded, smallest } from "./smallest.js";

const { count: _, ...wire } = padded.bonds;
const ribbon = {
  material: "gold",
  width: 250e-6,
  thickness: 12.5e-6,
  residualResistivityRatio: 30,
};
const north = { ...padded.pads, name: "north", width: 1e-3, edge: "upper", count: 3 } as const;
const two = (more: Partial<Mount> = {}): Mount =>
  smallest({
    padGroups: [north],
    bondGroups: [
      { ...wire, pads: "north", perPad: 3 },
      { ...ribbon, length: "1 mm", pads: "north", name: "ribbons" },
    ],
    ...more,
  });

describe("bonds in groups", () => {
  it("stand several on a pad, each kind with its own wire", () => {
    const ribbons = conductorOf(two(), "bonds ribbons");
    expect(ribbons.count).toBe(3);
    expect(conductorOf(two(), "bonds north").count).toBe(9);
    // Θ = κ T²/2 · A/l by Wiedemann and Franz; the film size of 12.5 µm adds its own scattering to it.
    const bulk = (goldSlope(30) * 250e-6 * 12.5e-6) / 1e-3 / 2;
    expect(ribbons.integral(0.1) / 1e-2 / bulk).toBeGreaterThan(0.5);
    expect(ribbons.integral(0.1) / 1e-2 / bulk).toBeLessThan(1.05);
  });

  it("are fed by all of the pad together", () => {
    const { elements } = thermalBudget(two());
    const flow = (name: string) => elements.find((each) => each.name === name)!.power;
    expect(flow("bonds north") + flow("bonds ribbons")).toBeCloseTo(1e-9, 15);
    expect(flow("electron-phonon coupling, pads north")).toBeCloseTo(1e-9, 15);
  });

  it("stand where a drawing shows them, side by side on their pad", () => {
    const feet = bondFeet(readMount(two()));
    expect(feet).toHaveLength(12);
    expect(feet.filter(({ group }) => group === 1)).toHaveLength(3);
    expect(new Set(feet.map(({ edge }) => edge))).toEqual(new Set(["upper"]));
  });

  it("are as long as gap, step and loop make them", () => {
    const reach = { gap: 4e-4, step: 2e-4, loop: 1e-4, onLedge: 1e-4 };
    const long = wireLength(reach, 1.5e-4);
    const given = two({ bondGroups: [{ ...wire, pads: "north", length: long }] });
    const made = two({ bondGroups: [{ ...wire, pads: "north", length: reach }] });
    const rise = (mount: Mount) => thermalBudget(mount).chip.rise;
    expect(rise(made) / rise(given)).toBeCloseTo(1, 12);
    const short = smallest({ ...padded, bonds: { ...padded.bonds, length: reach } });
    const same = smallest({ ...padded, bonds: { ...padded.bonds, length: long } });
    expect(rise(short) / rise(same)).toBeCloseTo(1, 12);
  });

  it("are reported with their shortest and longest wire, by the spreads of the box", () => {
    const tolerance = spread("0.3 mm", "0.5 mm", { distribution: "normal" });
    const length = { gap: tolerance, step: spread(1e-4, 3e-4), loop: "0.2 mm" } as const;
    const mount = two({
      bondGroups: [
        { ...wire, pads: "north", name: "reaching", length },
        { ...ribbon, length: "1 mm", pads: "north", name: "ribbons" },
      ],
    });
    const budget = thermalBudget(mount);
    const [reaching, ribbons] = budget.wires;
    // Their feet stand in the middle of the pads.
    const onDie = north.length / 2;
    const at = (gap: number, step: number) => wireLength({ gap, step, loop: 2e-4 }, onDie);
    expect(reaching!.shortest).toBeCloseTo(at(3e-4, 1e-4), 15);
    expect(reaching!.longest).toBeCloseTo(at(5e-4, 3e-4), 15);
    expect(reaching!.length).toBeCloseTo(at(4e-4, Math.sqrt(3) * 1e-4), 12);
    expect(ribbons).toMatchObject({ length: 1e-3, shortest: 1e-3, longest: 1e-3, isGiven: true });
    const table = budget.toText().split("Bond wires")[1]!;
    expect(table).toMatch(/bonds reaching +3 /);
    expect(budget.toText()).not.toMatch(/\n *bonds ribbons +3 +1\.00.mm/);
    expect(budget.toCsv()).toContain('"wires","bonds reaching",,,"longest",');
  });

  it("take spreads of gap and loop", () => {
    const length = { gap: spread("0.3 mm", "0.5 mm"), loop: spread("0.1 mm", "0.2 mm") };
    const mount = two({ bondGroups: [{ ...wire, pads: "north", length }] });
    expect(thermalBudget(mount).chip.rise).toBeGreaterThan(0);
  });

  it("are refused on pads that there are not, by one name twice, or with lengths that differ", () => {
    const refused = (more: Partial<Mount>) => () => readMount(two(more));
    expect(refused({ bondGroups: [{ ...wire, pads: "south" }] })).toThrow(
      'bondGroups[0].pads: group of pads "south" is not known',
    );
    expect(
      refused({
        bondGroups: [
          { ...wire, pads: "north" },
          { ...wire, pads: "north" },
        ],
      }),
    ).toThrow("bondGroups[1].name: expected a name that no other group has");
    const { edge: _edge, count: _count, ...free } = north;
    const places = [
      { x: 1e-3, y: 1e-3 },
      { x: 2e-3, y: 2e-3 },
    ];
    expect(
      refused({
        padGroups: [{ ...free, places }],
        bondGroups: [{ ...wire, pads: "north", length: { gap: 3e-4, loop: 1e-4 } }],
      }),
    ).toThrow("bondGroups[0].length: expected a length, or groups of pads at one distance");
  });
});
