import { describe, expect, it } from "vitest";
import { allThings, drawnParts, things } from "../../src/mount/mount.js";
import { readMount } from "../../src/mount/read.js";
import { flipChip } from "./flip-chip.js";
import { padded, smallest } from "./things/smallest.js";

describe("the things of a mount", () => {
  it("are drawn from the die outwards: what lies on a die first, the stage last", () => {
    for (const mount of [smallest(padded), flipChip]) {
      const parts = drawnParts(readMount(mount));
      const beside = parts.findIndex(({ places }) => places.length === 0);
      expect(parts[0]!.kind).toBe("die");
      expect(beside).toBeGreaterThan(0);
      expect(parts.slice(beside).every(({ places }) => places.length === 0)).toBe(true);
      expect(parts.at(-1)!.look).toBe("stage");
    }
  });

  it("hold a die where they lead heat off it, and are read where they may be left out", () => {
    const holding = allThings.flatMap(([key, { holds }]) => (holds === undefined ? [] : [key]));
    expect(holding).toEqual(["bonds", "bondGroups", "clamps", "glue", "back", "patches"]);
    const needed = allThings.flatMap(([key, { field }]) => ("optional" in field ? [] : [key]));
    expect(needed).toEqual(["die", "box", "joint", "stage", "loads"]);
    expect(allThings.map(([, thing]) => thing)).toEqual(Object.values(things));
  });
});
