import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { thermalBudget } from "../../../src/mount/budget.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { drawn } from "./films.js";
import {
  conductorOf,
  copperSlope,
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
    count,
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
    // A disc of area A, evenly heated and drained at a foot of radius r, by the mean of Θ:
    // squares = (b⁴ ln b − (b² − 1)(3b² − 1)/4) / (2π (b² − 1)²) with b² = A/(π r²).
    const film = (area: number, radius: number) => {
      const b2 = area / (Math.PI * radius ** 2);
      const squares =
        (b2 ** 2 * Math.log(Math.sqrt(b2)) - ((b2 - 1) * (3 * b2 - 1)) / 4) /
        (2 * Math.PI * (b2 - 1) ** 2);
      return (goldSlope(5) * 0.2 * 5e-7) / squares;
    };
    const at = (changed: typeof mount) => conductorOf(changed, "pad film").conductance(0.2);
    expect(at(pure) / film(6e-8, 2.5e-5)).toBeCloseTo(1, 8);
    expect(at(withField(pure, "bonds.perPad", 2)) / film(3e-8, 2.5e-5)).toBeCloseTo(1, 8);
    expect(at(withField(pure, "bonds.footRadius", 4e-5)) / film(6e-8, 4e-5)).toBeCloseTo(1, 8);
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
      "bonds: 60 do not fit; the edges have room for 44.",
    );
  });

  it("are drawn by their feet", () => {
    const part = drawn(drawnParts(readMount(mount)), "bonds")!;
    expect(part.name).toBe("4 bonds");
    expect(part.details).toEqual(["gold", "25 µm wire, 2 mm long", "RRR 30"]);
    expect(part.places).toHaveLength(4);
  });
});

describe("a ledge", () => {
  const plating = {
    material: "gold",
    thickness: 2e-6,
    residualResistivityRatio: purityFrom300(10),
  };
  const plated = {
    ...withField(mount, "box.residualResistivityRatio", purityFrom300(50)),
    ledge: { plating },
  };
  itReads(plated, "ledge.plating", {
    material: name,
    thickness: length,
    residualResistivityRatio: maybe(purity),
  });
  itReads(plated, "ledge", { plating: undefined });
  itBalances(plated);

  it("is a constriction in the box, and beside it what its plating carries", () => {
    const { ledge: __, ...bare } = plated;
    const radius = 2.5e-5;
    const below = 4 * radius * copperSlope(50) * 0.2;
    expect(conductorOf(bare, "ledge").conductance(0.2) / below).toBeCloseTo(1, 8);
    const kappa = goldSlope(10) * 0.2;
    const through = (kappa * Math.PI * radius ** 2) / 2e-6;
    const along = (kappa * 2 * Math.PI * 2e-6) / Math.log((1.5 * 2e-4) / radius);
    const both = 1 / (1 / through + 1 / below) + along;
    expect(conductorOf(plated, "ledge").conductance(0.2) / both).toBeCloseTo(1, 8);
  });

  it("is drawn where it is plated", () => {
    expect(drawn(drawnParts(readMount(plated)), "plating")!.details).toEqual([
      "gold",
      "2 µm thick",
      "RRR 10",
    ]);
    expect(drawn(drawnParts(readMount(mount)), "plating")).toBeUndefined();
  });
});
