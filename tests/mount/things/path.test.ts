import { describe, expect, it } from "vitest";
import { strip } from "../../../src/joints/strip.js";
import { thermalBudget } from "../../../src/mount/budget.js";
import type { Mount } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import type { PathPiece } from "../../../src/mount/things/path.js";
import {
  catalogue,
  conductorOf,
  copperSlope,
  purityFrom300,
  smallest,
  storeOf,
} from "./smallest.js";

const copper = { material: "copper", residualResistivityRatio: purityFrom300(50) } as const;
const finger = { kind: "bar", name: "finger", ...copper, crossSection: 5e-5, length: 0.1 } as const;
const strap = {
  kind: "strap",
  name: "strap",
  ...copper,
  strands: 40,
  diameter: 2e-4,
  length: 5e-2,
} as const;
const plate = {
  kind: "plate",
  name: "plate",
  ...copper,
  thickness: 3e-3,
  innerRadius: 5e-3,
  outerRadius: 5e-2,
} as const;
const flange = {
  kind: "joint",
  name: "flange",
  joint: { faces: "gold-plated copper on gold-plated copper", force: 1000, count: 4 },
} as const;
const all: readonly PathPiece[] = [flange, finger, strap, plate];
const mount = (path: readonly PathPiece[] = all): Mount => smallest({ path });

describe("the path between box and stage", () => {
  it("follows Wiedemann and Franz in bars and strands", () => {
    const T = 0.1;
    const slope = copperSlope(50);
    const bar = (slope * finger.crossSection) / finger.length;
    expect(conductorOf(mount(), "finger").conductance(T) / T / bar).toBeCloseTo(1, 2);
    const strand = (slope * Math.PI * 1e-8) / strap.length;
    const strands = conductorOf(mount(), "strap");
    expect(strands.count).toBe(40);
    expect(strands.conductance(T) / T / strand).toBeCloseTo(1, 1);
  });

  it("spreads in a plate as between two circles, 2π t κ / ln(b/a)", () => {
    const shape = (2 * Math.PI * plate.thickness) / Math.log(10);
    const square = strip(
      { material: "copper", length: 1, area: shape, residualResistivityRatio: purityFrom300(50) },
      catalogue,
    );
    expect(conductorOf(mount(), "plate").conductance(0.1) / square.conductance(0.1)).toBeCloseTo(
      1,
      6,
    );
  });

  it("adds the drop of each piece to that of a mount without it", () => {
    const flow = 1e-9;
    const alone = thermalBudget(smallest());
    const whole = thermalBudget(mount());
    const drops = all.map(({ name }) => whole.elements.find((each) => each.name === name)!.drop);
    expect(drops.every((drop) => drop > 0)).toBe(true);
    const box = (budget: typeof alone) =>
      budget.places.find(({ name }) => name === "box by the bolts")!.rise;
    const sum = drops.reduce((total, drop) => total + drop, 0);
    expect(box(whole) - box(alone)).toBeCloseTo(sum, 12);
    expect(whole.elements.find(({ name }) => name === "joint to the stage")!.power).toBeCloseTo(
      flow,
      15,
    );
  });

  it("takes loads on its pieces: they cross what lies behind, and come in by the box", () => {
    const heat = { kind: "given", name: "leak", power: "1 uW", on: "finger" } as const;
    const held = smallest({ path: all });
    for (const model of ["one node", "two nodes", "sheet"] as const) {
      const plain = { ...held, die: { ...held.die, model } };
      const warmed = thermalBudget({ ...plain, loads: [...plain.loads, heat] });
      const without = thermalBudget(plain);
      const flow = ({ elements }: typeof warmed, name: string) =>
        elements.find((each) => each.name === name)!.power;
      for (const name of ["finger", "strap", "plate", "joint to the stage"]) {
        expect(flow(warmed, name) - flow(without, name)).toBeCloseTo(1e-6, 15);
      }
      expect(flow(warmed, "flange")).toBeCloseTo(flow(without, "flange"), 15);
      expect(warmed.sources.find(({ name }) => name === "leak")!.on).toBe("end of flange");
      // The same heat on the box crosses the flange, too.
      const onBox = thermalBudget({ ...plain, loads: [...plain.loads, { ...heat, on: "box" }] });
      expect(onBox.chip.rise).toBeGreaterThan(warmed.chip.rise);
    }
  });

  it("takes wires and their members on its pieces", () => {
    const wires = [
      {
        kind: "conduction",
        name: "loom",
        on: "strap",
        material: "copper",
        residualResistivityRatio: 50,
        from: "1 K",
        length: "1 m",
        diameter: "0.1 mm",
      },
      {
        kind: "wiring",
        name: "coax",
        members: [
          { name: "pins", material: "nbti", diameter: "0.1 mm" },
          { name: "shields", material: "nbti", area: "0.3 mm^2", lands: { on: "finger" } },
        ],
        stages: [
          { name: "still", temperature: "1 K" },
          { name: "box", temperature: "0.1 K", length: "300 mm" },
        ],
      },
    ] as const;
    const { sources } = thermalBudget(smallest({ path: all, loads: [...wires] }));
    expect(Object.fromEntries(sources.map(({ name, on }) => [name, on]))).toMatchObject({
      loom: "end of finger",
      "coax, shields": "end of flange",
    });
  });

  it.each([
    [
      { kind: "given", power: 1, on: "fingr" },
      'loads[0].on: place for a load "fingr" is not known, did you mean "finger"? Known: die, box, flange, finger, strap, plate',
    ],
    [
      { kind: "given", power: 1, on: "strap", map: { kind: "uniform" } },
      "loads[0].map: expected none, since the load falls on the strap, got ",
    ],
    [
      {
        kind: "wiring",
        members: [{ material: "nbti", area: 1e-7, lands: { on: "lid" } }],
        stages: [
          { name: "still", temperature: 1 },
          { name: "box", temperature: 0.1, length: 0.3 },
        ],
      },
      'loads[0].members[0].lands.on: place for a load "lid" is not known, ',
    ],
  ] as const)("refuses %o", (load, message) => {
    expect(() => readMount(smallest({ path: all, loads: [load as never] }))).toThrow(message);
  });

  it("is refused where no joint to the stage ends it, by the name of what is missing", () => {
    const { joint: _, ...open } = mount();
    expect(() => readMount(open)).toThrow(/^joint: expected an object with one of .*faces/);
  });

  it("does not depend on the order of pieces of one metal", () => {
    const rise = (path: readonly PathPiece[]) => thermalBudget(mount(path)).chip.rise;
    expect(rise([finger, strap]) / rise([strap, finger])).toBeCloseTo(1, 6);
  });

  it("stores half of each piece's heat at either end", () => {
    const each = storeOf(mount(), "finger, near half").heatCapacity(0.1);
    expect(storeOf(mount(), "finger, far half").heatCapacity(0.1)).toBe(each);
    const twice = storeOf(mount([{ ...finger, length: 0.2 }]), "finger, near half");
    expect(twice.heatCapacity(0.1) / each).toBeCloseTo(2, 12);
  });

  it.each([
    [[finger, finger], 'path[1].name: expected a name that no other piece has, got "finger"'],
    [
      [{ ...plate, outerRadius: 1e-3 }],
      "path[0].outerRadius: expected more than the inner radius, 5 mm",
    ],
    [[{ ...strap, diameter: undefined }], "path[0]: expected one cross-section"],
    [[{ ...finger, kind: "rope" }], 'path[0].kind: kind "rope" is not known'],
    [
      [{ ...finger, material: "unobtainium" }],
      'path[0].material: material "unobtainium" is not known',
    ],
    [
      [{ ...finger, name: "box wall" }],
      'name: expected a name that no other part has, got "box wall"',
    ],
  ])("is refused in words: %#", (path, words) => {
    expect(() => thermalBudget(readMount(mount(path as never)) as Mount)).toThrow(words);
  });
});
