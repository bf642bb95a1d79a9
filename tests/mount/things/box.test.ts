import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { drawn } from "./films.js";
import {
  area,
  conductorOf,
  copperSlope,
  goldSlope,
  itBalances,
  itReads,
  length,
  maybe,
  name,
  padded,
  purity,
  purityFrom300,
  smallest,
  storeOf,
} from "./smallest.js";

const plating = {
  material: "gold",
  thickness: 5e-6,
  residualResistivityRatio: purityFrom300(10),
  width: 2e-3,
};
const bare = withField(smallest(), "box.residualResistivityRatio", purityFrom300(50));
const mount = withField(bare, "box.plating", plating);

describe("a box", () => {
  itReads(mount, "box", {
    material: name,
    residualResistivityRatio: maybe(purity),
    crossSection: area,
    pathLength: length,
    plating: undefined,
  });
  itReads(mount, "box.plating", {
    material: name,
    thickness: length,
    residualResistivityRatio: maybe(purity),
    width: length,
  });
  itBalances(mount);

  it("conducts by Wiedemann-Franz over its path, its plating beside it", () => {
    const metal = (copperSlope(50) * 0.2 * 1e-6) / 1e-2;
    expect(conductorOf(bare, "box wall").conductance(0.2) / metal).toBeCloseTo(1, 8);
    const plated = metal + (goldSlope(10) * 0.2 * 2e-3 * 5e-6) / 1e-2;
    expect(conductorOf(mount, "box wall").conductance(0.2) / plated).toBeCloseTo(1, 8);
  });

  it("stores half of the heat of its path at either end", () => {
    const electrons = 0.691e-3 * (8960 / 63.546e-3) * ((1e-6 * 1e-2) / 2) * 0.1;
    for (const half of ["near", "far"]) {
      const stored = storeOf(mount, `box, ${half} half`).heatCapacity(0.1) / electrons;
      // Phonons of copper add under a part in a thousand at 0.1 K.
      expect(stored).toBeGreaterThan(1);
      expect(stored).toBeLessThan(1.001);
    }
  });

  it("is drawn with its ledge where there are bonds", () => {
    const part = drawn(drawnParts(readMount(mount)), "box")!;
    expect(part.name).toBe("box");
    expect(part.details).toEqual([
      "copper",
      "RRR 50",
      "1 mm² over 10 mm to the bolts",
      "plated with 5 µm of gold",
    ]);
    expect(drawn(drawnParts(readMount(smallest(padded))), "box")!.name).toBe("box with its ledge");
  });
});
