import { describe, expect, it } from "vitest";
import { readMount } from "../../../src/mount/read.js";
import { countedBonds } from "../../../src/mount/things/counted-bonds.js";
import { padded, smallest } from "./smallest.js";

const { width, length, ...film } = padded.pads;
const { count: _, ...wire } = padded.bonds;
const pads = { name: "south", ...film, width, length, edge: "lower", count: 3 } as const;
const bonds = { pads: "south", perPad: 2, ...wire } as const;
const grouped = readMount(smallest({ padGroups: [pads], bondGroups: [bonds] }));

describe("bonds that are counted", () => {
  it("are those that are all alike, by their number", () => {
    const plain = readMount(smallest({ ...padded, bonds: { ...padded.bonds, perPad: 2 } }));
    const counted = countedBonds(plain);
    expect([counted.field, counted.forOne(plain), counted.each(plain)]).toEqual([
      "bonds.count",
      1,
      2,
    ]);
    expect(counted.with(plain, 12).bonds!.count).toBe(12);
    expect(plain.bonds!.count).toBe(4);
    expect(counted.fieldOf("pads.width")).toBe("pads.width");
  });

  it("are a group along an edge, by the number of its pads", () => {
    const counted = countedBonds(grouped, "south");
    expect([counted.field, counted.forOne(grouped)]).toEqual(["padGroups.0.count", 2]);
    expect(counted.with(grouped, 10).padGroups![0]!.count).toBe(5);
    expect(grouped.padGroups![0]!.count).toBe(3);
    expect(
      ["pads.width", "bonds.length", "bonds.perPad", "die.thickness", "box.material"].map(
        counted.fieldOf,
      ),
    ).toEqual([
      "padGroups.0.width",
      "bondGroups.0.length",
      "bondGroups.0.perPad",
      "die.thickness",
      undefined,
    ]);
    // Pads of 0.2 mm fill an edge of 4 mm less its corners.
    expect(counted.room(grouped)).toBeGreaterThan(2 * 3);
    expect(counted.room(grouped)).toBeLessThanOrEqual((2 * 4) / 0.2);
  });

  it("are a group on pads at places, by the number on each", () => {
    const { edge: _e, count: _c, ...bare } = pads;
    const places = [1e-3, 2e-3, 3e-3].map((x) => ({ x, y: 1e-3 }));
    const mount = readMount(
      smallest({ padGroups: [{ ...bare, places } as never], bondGroups: [bonds] }),
    );
    const counted = countedBonds(mount, "south");
    expect([counted.field, counted.forOne(mount), counted.each(mount)]).toEqual([
      "bondGroups.0.perPad",
      3,
      3,
    ]);
    expect(counted.with(mount, 9).bondGroups![0]!.perPad).toBe(3);
    expect(counted.fieldOf("bonds.perPad")).toBeUndefined();
  });

  it("are refused where there are none, or none of that name", () => {
    expect(() => countedBonds(readMount(smallest()))).toThrow("bonds: expected bonds to count");
    expect(() => countedBonds(grouped, "sooth")).toThrow(
      'group: group of bonds "sooth" is not known, did you mean "south"? Known: south',
    );
  });
});
