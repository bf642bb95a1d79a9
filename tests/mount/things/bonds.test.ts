import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { thermalBudget } from "../../../src/mount/budget.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { bonds as bondThing } from "../../../src/mount/things/bonds.js";
import { drawn } from "./films.js";
import {
  catalogue,
  conductorOf,
  count,
  goldSlope,
  itBalances,
  itReads,
  itTouches,
  length,
  lorenz,
  maybe,
  name,
  oneOf,
  padded,
  purity,
  purityFrom300,
  resistanceFromZero,
  smallest,
  storeOf,
} from "./smallest.js";

const mount = smallest({
  ...padded,
  bonds: { ...padded.bonds, residualResistivityRatio: purityFrom300(30) },
});
const bonds = mount.bonds!;
const section = (Math.PI / 4) * 2.5e-5 ** 2;

describe("bonds", () => {
  itReads(mount, "bonds", {
    material: name,
    diameter: maybe(length),
    width: maybe(length),
    thickness: maybe(length),
    length,
    footResistance: maybe(resistanceFromZero),
    residualResistivityRatio: maybe(purity),
    state: maybe(oneOf("superconducting", "normal")),
    meanFreePath: maybe(length),
    sample: maybe(name),
    footRadius: maybe(length),
    perPad: maybe(count),
    count,
    pitch: maybe(length),
    arrangement: maybe(oneOf("spread", "row")),
    edges: maybe(oneOf(1, 2, 3, 4)),
  });
  itBalances(mount);
  itTouches(mount, ["pads"], 4);

  it("stand on something, and on each edge once", () => {
    expect(() => readMount(smallest({ bonds }))).toThrow(
      "pads: expected pads or a ring for the bonds to stand on, got undefined",
    );
    const on = (edges: unknown) => () => readMount(withField(mount, "bonds.edges", edges));
    expect(on([])).toThrow("bonds.edges: expected one edge or more, each once, got []");
    expect(on(["left", "left"])).toThrow(
      'bonds.edges: expected one edge or more, each once, got ["left","left"]',
    );
    expect(on(["left", "top"])).toThrow(
      'bonds.edges[1]: expected "lower" or "right" or "upper" or "left", got "top"',
    );
    expect(on(["right", "left"])).not.toThrow();
  });

  it("conduct by Wiedemann-Franz along the wire, and through the resistance of both feet", () => {
    const wire = (goldSlope(30) * 0.2 * section) / 2e-3;
    expect(conductorOf(mount, "bonds").conductance(0.2) / wire).toBeCloseTo(1, 8);
    const feet = withField(mount, "bonds.footResistance", 1e-2);
    const both = 1 / (1 / wire + (2 * 1e-2) / (lorenz * 0.2));
    expect(conductorOf(feet, "bonds").conductance(0.2) / both).toBeCloseTo(1, 8);
    expect(conductorOf(mount, "bonds").count).toBe(4);
  });

  it("may be ribbons, and must be one or the other", () => {
    const { diameter: _, ...rest } = bonds;
    const ribbon = { ...mount, bonds: { ...rest, width: 1e-4, thickness: 2e-5 } };
    const G = (goldSlope(30) * 0.2 * 2e-9) / 2e-3;
    expect(conductorOf(ribbon, "bonds").conductance(0.2) / G).toBeCloseTo(1, 8);
    const neither = { ...mount, bonds: rest };
    expect(() => conductorOf(neither, "bonds")).toThrow(/^bonds/);
    expect(() => conductorOf(neither, "ledge")).toThrow(
      'bonds.diameter: expected a length such as "25 um", or a ribbon\'s width, got undefined',
    );
  });

  it("gather heat from the film around their feet, which shrinks the pad that two share", () => {
    const pure = withField(mount, "pads.residualResistivityRatio", purityFrom300(5));
    // Shape factors of Dietz (1965) for a small foot in a rectangle: 30.88 at 1 to 1, 21.84 at 2 to 1.
    const film = (area: number, shape: number, radius: number) => {
      const squares = Math.log((4 * area) / (1.781 * shape * radius ** 2)) / (4 * Math.PI);
      return (goldSlope(5) * 0.2 * 5e-7) / squares;
    };
    const at = (changed: typeof mount) => conductorOf(changed, "pad film").conductance(0.2);
    const small = withField(pure, "bonds.footRadius", 5e-7);
    const square = withField(small, "pads.length", 2e-4);
    expect(at(square) / film(4e-8, 30.88, 5e-7)).toBeCloseTo(1, 3);
    const oblong = withField(small, "pads.length", 4e-4);
    expect(at(oblong) / film(8e-8, 21.84, 5e-7)).toBeCloseTo(1, 3);
    expect(at(withField(square, "bonds.perPad", 2)) / film(2e-8, 21.84, 5e-7)).toBeCloseTo(1, 3);
  });

  it("are refused where they do not fit on their pad, or do not reach the box", () => {
    const refuse = (field: string, value: number, message: string) =>
      expect(() => readMount(withField(mount, field, value)), field).toThrow(message);
    refuse(
      "bonds.diameter",
      1.1e-4,
      "bonds.diameter: expected a foot that fits on its pad, at most 100 µm, got 0.00011 (110 µm)",
    );
    refuse("bonds.footRadius", 1.1e-4, "bonds.footRadius: expected a foot that fits on its pad");
    const { diameter: _, ...rest } = bonds;
    const ribbon = (width: number) => ({ ...mount, bonds: { ...rest, width, thickness: 1e-5 } });
    expect(() => readMount(ribbon(2.1e-4))).toThrow(
      "bonds.width: expected a foot that fits on its pad, at most 200 µm, got 0.00021 (210 µm)",
    );
    expect(() => readMount(ribbon(2e-4))).not.toThrow();
    refuse(
      "bonds.perPad",
      5,
      "bonds.perPad: expected at most 4 feet of 50 µm on a pad 200 µm wide",
    );
    const inset = withField(mount, "pads.inset", 5e-4);
    expect(() => readMount(withField(inset, "bonds.length", 5e-4))).toThrow(
      "bonds.length: expected enough to reach over the die's edge, 525 µm from the foot",
    );
  });

  it("warn of bonds that are short, and of a pad with fewer", () => {
    const warned = (field: string, value: number) =>
      bondThing.warnings!(readMount(withField(mount, field, value)), catalogue);
    expect(warned("bonds.length", 1e-4)).toEqual([
      "bonds: 100 µm do not reach from the middle of the pads over the edge of the die, 150 µm.",
    ]);
    expect(warned("bonds.perPad", 3)).toEqual([
      "bonds: 4 leave a pad without its 3; all 2 pads are taken to have the same share of them.",
    ]);
    expect(warned("bonds.perPad", 2)).toEqual([]);
  });

  it("store half of their heat at either foot", () => {
    const half = (4 * section * 2e-3) / 2;
    const C = 0.689e-3 * (19300 / 196.967e-3) * half * 0.1;
    for (const foot of ["near", "far"]) {
      // Electrons only to 2 %: at 0.1 K the phonons of gold store under 1 % of that.
      const stored = storeOf(mount, `bonds, ${foot} foot`).heatCapacity(0.1);
      expect(stored / C).toBeGreaterThan(1);
      expect(stored / C).toBeLessThan(1.02);
    }
  });

  it("warn when they do not fit", () => {
    const many = { ...mount, bonds: { ...bonds, count: 60, pitch: 3e-4 } };
    expect(thermalBudget({ ...many, die: { ...mount.die, model: "one node" } }).warnings).toContain(
      "bonds: 60 do not fit; the edges have space for 44.",
    );
  });

  it("are drawn by their feet", () => {
    const part = drawn(drawnParts(readMount(mount)), "bonds")!;
    expect(part.name).toBe("4 bonds");
    expect(part.details).toEqual(["gold", "25 µm wire, 2 mm long", "RRR 30"]);
    expect(part.places).toHaveLength(4);
  });
});
