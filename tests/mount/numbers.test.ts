import { describe, expect, it } from "vitest";
import { inTime } from "../../src/mount/in-time.js";
import { provenanceInTime, provenanceLater, provenanceOf } from "../../src/mount/numbers.js";
import { spread } from "../../src/units/spread.js";
import { catalogue, modelOf, padded, smallest } from "./things/smallest.js";

const wire = {
  kind: "conduction",
  name: "lead",
  material: "nbti",
  length: 1,
  diameter: 1e-4,
  from: 0.5,
} as const;
const mount = smallest({
  ...padded,
  pads: { ...padded.pads, thickness: spread("450 nm", "550 nm") },
  bonds: { ...padded.bonds, diameter: spread("24 um", "26 um") },
  loads: [{ kind: "given", power: 1e-9 }, wire],
  correlations: [
    { of: ["pads.thickness", "bonds.diameter"], coefficient: 0.5, reason: "one supplier" },
  ],
});
const model = modelOf(mount, "one node");

describe("the numbers of a mount", () => {
  const rows = provenanceOf(model.point());
  const row = (quantity: string) => rows.find((each) => each.quantity === quantity);

  it("are those of its laws and loads, and what it gives itself", () => {
    expect(row("bonds: number")).toMatchObject({ value: 4, source: "given" });
    expect(row("lead: temperature of the warm end")).toMatchObject({ value: 0.5, unit: "K" });
    expect(row("stage: temperature")).toMatchObject({ value: 0.1, unit: "K" });
    expect(row("pads.thickness, bonds.diameter: correlation")).toMatchObject({
      value: 0.5,
      note: "one supplier",
    });
    // One joint to the stage needs no number.
    expect(row("joint to the stage: number")).toBeUndefined();
  });

  it("are each told once", () => {
    expect(new Set(rows.map((each) => JSON.stringify(each))).size).toBe(rows.length);
  });

  it("have those of heat stores besides in a run in time", () => {
    const inRun = provenanceInTime(inTime(model, 16)).map(({ quantity }) => quantity);
    const debye = "silicon: heat capacity debye, temperature";
    const more = inRun.filter((quantity) => row(quantity) === undefined);
    expect(inRun.length).toBeGreaterThan(rows.length);
    expect(
      more.some((quantity) => /heat capacity/.test(quantity)),
      `${debye}: ${more}`,
    ).toBe(true);
    expect(rows.some(({ quantity }) => /heat capacity/.test(quantity))).toBe(false);
  });

  it("may be listed later, by the model of the mount itself", () => {
    const later = provenanceLater(
      { ...mount, die: { ...mount.die, model: "one node" } },
      catalogue,
    );
    expect(later()).toEqual(rows);
    // A wrong mount is told when they are asked for.
    expect(() => provenanceLater({ ...mount, stage: 0 })()).toThrow(/^stage: expected/);
  });
});
