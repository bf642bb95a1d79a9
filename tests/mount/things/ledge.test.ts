import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { drawn } from "./films.js";
import {
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
} from "./smallest.js";

const mount = smallest({
  ...padded,
  bonds: { ...padded.bonds, residualResistivityRatio: purityFrom300(30) },
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
