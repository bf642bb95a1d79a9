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
