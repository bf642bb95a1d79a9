import { describe, expect, it } from "vitest";
import { readMount } from "../../../src/mount/read.js";
import { bondWires } from "../../../src/mount/things/wires.js";
import { spread } from "../../../src/units/spread.js";
import { padded, smallest } from "./smallest.js";

const wires = (things: Parameters<typeof smallest>[0]) => bondWires(readMount(smallest(things)));
const withLength = (length: never) => wires({ ...padded, bonds: { ...padded.bonds, length } });

describe("the bond wires of a mount", () => {
  it("of a given length have that, and nothing to report", () => {
    expect(wires(padded)).toEqual([
      { name: "bonds", count: 4, length: 2e-3, shortest: 2e-3, longest: 2e-3, isGiven: true },
    ]);
    expect(wires({})).toEqual([]);
  });

  it("of a spread lie between its ends", () => {
    const [own] = withLength(spread("1 mm", "4 mm") as never);
    // The median of a log-normal spread is the geometric mean of its ends.
    expect(own!.length).toBeCloseTo(2e-3, 12);
    expect([own!.shortest, own!.longest]).toEqual([
      expect.closeTo(1e-3, 12),
      expect.closeTo(4e-3, 12),
    ]);
    expect(own!.isGiven).toBe(false);
  });

  it("that follow from a gap, a step and a loop are longer with each of them", () => {
    const path = (gap: unknown, step: unknown = 2e-4, loop: unknown = 1e-4) =>
      withLength({ gap, step, loop } as never)[0]!;
    const fixed = path(5e-4);
    expect([fixed.shortest, fixed.longest]).toEqual([fixed.length, fixed.length]);
    expect(fixed.isGiven).toBe(false);
    // No shorter than the straight line, from the middle of a pad 0.3 mm deep on the edge.
    expect(fixed.length).toBeGreaterThan(Math.hypot(5e-4 + 1.5e-4, 2e-4));
    const loose = path(spread("0.4 mm", "0.6 mm"), spread("0.1 mm", "0.3 mm"));
    expect(loose.shortest).toBeCloseTo(path(4e-4, 1e-4).length, 12);
    expect(loose.longest).toBeCloseTo(path(6e-4, 3e-4).length, 12);
  });

  it("of a further die are its own", () => {
    const die = { material: "silicon", width: 4e-3, length: 4e-3, thickness: 3e-4 } as const;
    const bonds = { ...padded.bonds, length: spread("1 mm", "4 mm") };
    const second = { die, ...padded, bonds, offset: { x: 6e-3, y: 0 } };
    const [own, other] = wires({ ...padded, dies: { second } });
    expect([own!.name, own!.longest]).toEqual(["bonds", 2e-3]);
    expect([other!.name, other!.longest]).toEqual(["second: bonds", expect.closeTo(4e-3, 12)]);
  });
});
