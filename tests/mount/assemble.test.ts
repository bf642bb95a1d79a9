import { describe, expect, it } from "vitest";
import { assemble, contactGroups, heatOn } from "../../src/mount/assemble.js";
import { MountModel } from "../../src/mount/model.js";
import type { PlainMount } from "../../src/mount/mount.js";
import { readMount } from "../../src/mount/read.js";
import { boxByDie, type HeatPath } from "../../src/mount/thing.js";
import type { MountLoad } from "../../src/mount/things/load.js";
import { catalogue, padded, smallest } from "./things/smallest.js";

const plain = readMount(smallest(padded));
const clamp = { faces: "sapphire on silicon", force: 3 };

describe("the structure of a mount", () => {
  it("has its places in the order of the heat, what all share at the end", () => {
    const behind = ["pad phonons", "pad electrons", "pad foot", "ledge foot"];
    const shared = ["box by the die", "box by the bolts", "stage"];
    const places = (die: "sheet" | "two nodes" | "one node") =>
      assemble(plain, die).places.map(({ name }) => name);
    expect(places("one node")).toEqual(["die", ...behind, ...shared]);
    expect(places("two nodes")).toEqual(["die centre", "die edge", ...behind, ...shared]);
    expect(places("sheet")).toEqual([
      "die, hottest point",
      "die at the pads",
      ...behind,
      ...shared,
    ]);
    expect(assemble(plain).die).toBe("sheet");
  });

  it("refuses two paths of one name", () => {
    const twice = (name: string) => () =>
      assemble(readMount(smallest({ ...padded, clamps: [{ ...clamp, name }] })));
    for (const name of ["bonds", "box wall", "pad film", "spreading in the die"])
      expect(twice(name)).toThrow(`name: expected a name that no other part has, got "${name}"`);
    expect(twice("claw")).not.toThrow();
    const wire: MountLoad = {
      kind: "conduction",
      name: "bonds",
      material: "nbti",
      length: 1,
      diameter: 1e-4,
      from: 0.5,
    };
    expect(() => assemble(readMount(smallest({ ...padded, loads: [wire] })))).toThrow(
      'name: expected a name that no other part has, got "bonds"',
    );
  });

  it("lets nothing onto the die but by contacts", () => {
    type Ends = HeatPath<PlainMount>["from"];
    // @ts-expect-error the die is no place of its own: a path to it stands on contacts
    const place: Ends = { shared: "die" };
    // @ts-expect-error nor is the name of a group enough
    const named: Ends = { on: "pads" };
    expect([place, named]).not.toContain(boxByDie);
  });

  it("holds no numbers: one structure serves every mount of its kind", () => {
    const { paths } = assemble(plain, "one node");
    const bonds = paths.find(({ name }) => name === "bonds")!;
    const longer = readMount(smallest({ ...padded, bonds: { ...padded.bonds, length: 4e-3 } }));
    const ratio =
      bonds.conductor(plain, catalogue).conductance(0.1) /
      bonds.conductor(longer, catalogue).conductance(0.1);
    expect(ratio).toBeCloseTo(2, 10);
    expect(bonds.count!(longer)).toBe(4);
  });

  it("has the contacts of warm wires last, by the field of their load", () => {
    const wire = {
      kind: "conduction",
      material: "nbti",
      length: 1,
      diameter: 1e-4,
      from: 0.5,
    } as const;
    const names = contactGroups(readMount(smallest({ loads: [wire], clamps: [clamp] })));
    expect(names.map(({ name }) => name)).toEqual(["clamps", "loads[0]"]);
  });

  it("adds up loads by what they fall on, watts where none depends on the temperature", () => {
    const given = (power: number, on: "die" | "box"): MountLoad => ({ kind: "given", power, on });
    const mount = smallest({ loads: [given(1, "die"), given(2, "box"), given(4, "die")] });
    const heats = new MountModel(readMount(mount), catalogue).heats();
    expect([heatOn("die", heats), heatOn("box", heats)]).toEqual([5, 2]);
    const law = { power: (T: number) => 10 * T, slope: () => 10 };
    const both = heatOn("die", [...heats, { ...heats[0]!, law: law as never }]);
    expect(both).toMatchObject({});
    expect((both as { power(T: number): number }).power(0.5)).toBe(10);
    expect((both as { slope(T: number): number }).slope(0.5)).toBe(10);
  });
});
