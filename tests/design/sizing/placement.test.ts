import { describe, expect, it } from "vitest";
import { placeBonds } from "../../../src/design/sizing/placement.js";
import { roomToCount } from "../../../src/design/sizing/size.js";
import { readMount } from "../../../src/mount/read.js";
import { quickMount } from "../../mount/example.js";

const mount = quickMount();

describe("placing bonds", () => {
  it("sizes every choice, and puts first what needs the fewest", () => {
    const { all } = placeBonds(mount, { edges: [1, 4], arrangements: ["spread", "row"] });
    expect(all.map(({ words }) => words).sort()).toEqual([
      "1 edge, in a row, 300 µm apart",
      "1 edge, spread, 300 µm apart",
      "4 edges, in a row, 300 µm apart",
      "4 edges, spread, 300 µm apart",
    ]);
    const counts = all.filter(({ sizing }) => sizing.enough).map(({ sizing }) => sizing.count!);
    expect(counts).toEqual([...counts].sort((a, b) => a - b));
    for (const { mount: placed, sizing } of all)
      expect(placed.bonds!.count).toBe(Math.min(sizing.count ?? sizing.room, sizing.room));
  });

  it("needs bonds, and at least one choice of each", () => {
    const { bonds: _, pads: __, ...bare } = mount;
    expect(() => placeBonds(bare, {})).toThrow("bonds: expected bonds to place, got undefined");
    expect(() => placeBonds(mount, { edges: [] })).toThrow("edges: expected at least one choice");
    expect(() => placeBonds(mount, { pitches: [] })).toThrow(
      "pitches: expected at least one choice",
    );
  });

  it("counts the room of a mount that has bonds and a limit", () => {
    // Each edge of 25 mm: (25 − 2 × 0.3 − 0.15)/0.3 = 80.8 steps, 81 pads.
    expect(roomToCount(readMount(mount))).toBe(4 * 81);
    const { limit: _, ...free } = mount;
    expect(() => roomToCount(readMount(free))).toThrow("limit: expected a limit to hold");
    const { bonds: __, pads: ___, ...bare } = mount;
    const clamped = { ...bare, clamps: [{ faces: "sapphire on silicon", force: 3 }] };
    expect(() => roomToCount(readMount(clamped))).toThrow("bonds: expected bonds to count");
  });
});
