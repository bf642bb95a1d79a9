import { describe, expect, it } from "vitest";
import {
  alongSide,
  bondFeet,
  bondRoom,
  cooledSides,
  type OnEdges,
  padCount,
  standsOf,
} from "../../../src/mount/things/edges.js";

const die = { width: 8e-3, length: 4e-3 };
const pads = { width: 2e-4, length: 3e-4 };
const on = (bonds: OnEdges["bonds"], more: Partial<OnEdges> = {}): OnEdges => ({
  die,
  pads,
  ...(bonds && { bonds }),
  ...more,
});

describe("what stands along the edges of a die", () => {
  it("names the edges by their number, in order of the list where one is given", () => {
    const sides = [1, 2, 3, 4].map((edges) =>
      cooledSides({ die, bonds: { count: 1, edges } as never }),
    );
    expect(sides).toEqual([
      ["lower"],
      ["lower", "upper"],
      ["lower", "upper", "left"],
      ["lower", "right", "upper", "left"],
    ]);
    expect(cooledSides({ die, bonds: { count: 1, edges: ["right", "lower"] } })).toEqual([
      "right",
      "lower",
    ]);
    expect(cooledSides({ die })).toHaveLength(4);
  });

  it("needs a pad for each perPad bonds, the last one not full", () => {
    expect(padCount({ bonds: { count: 7 } })).toBe(7);
    expect(padCount({ bonds: { count: 7, perPad: 3 } })).toBe(3);
  });

  it("shares pads among edges by their lengths: of 12, four on each long side and two on each short", () => {
    const stands = standsOf(on({ count: 12 }));
    const often = (side: string) => stands.filter((each) => each.side === side).length;
    expect([often("lower"), often("right"), often("upper"), often("left")]).toEqual([4, 2, 4, 2]);
    // Spread over what the corners leave, 8 mm − 2 × 0.3 mm: four steps of 1.85 mm around the middle.
    const lower = stands.filter(({ side }) => side === "lower").map(({ middle }) => middle);
    expect(lower).toEqual(
      [1.225e-3, 3.075e-3, 4.925e-3, 6.775e-3].map((x) => expect.closeTo(x, 12)),
    );
  });

  it("stands in a row at the pitch, a pad's width and a half where none is given", () => {
    const row = standsOf(on({ count: 3, edges: 1, arrangement: "row" }));
    expect(row.map(({ middle }) => middle)).toEqual(
      [3.7e-3, 4e-3, 4.3e-3].map((x) => expect.closeTo(x, 12)),
    );
    const pitched = standsOf(on({ count: 2, edges: 1, arrangement: "row", pitch: 1e-3 }));
    expect(pitched[1]!.middle - pitched[0]!.middle).toBeCloseTo(1e-3, 12);
  });

  it("measures pieces inward from their edge", () => {
    const at = (side: "lower" | "right" | "upper" | "left") =>
      alongSide({ die }, side, [1e-3, 2e-3], [0, 5e-4]);
    expect(at("lower")).toEqual({ left: 1e-3, right: 2e-3, bottom: 0, top: 5e-4 });
    expect(at("upper")).toEqual({ left: 1e-3, right: 2e-3, bottom: 3.5e-3, top: 4e-3 });
    expect(at("left")).toEqual({ left: 0, right: 5e-4, bottom: 1e-3, top: 2e-3 });
    expect(at("right")).toEqual({ left: 7.5e-3, right: 8e-3, bottom: 1e-3, top: 2e-3 });
  });

  it("gives each bond a foot, in the middle of pad or ring across the edge", () => {
    const feet = bondFeet(on({ count: 4, perPad: 2, edges: 1 }));
    expect(feet).toHaveLength(4);
    for (const { y, edge } of feet) expect([y, edge]).toEqual([1.5e-4, "lower"]);
    // Two on a pad 0.2 mm wide stand a quarter of it from its middle.
    expect(feet[1]!.x - feet[0]!.x).toBeCloseTo(1e-4, 12);
    const onRing = bondFeet({
      die,
      ring: { width: 4e-4, inset: 1e-4 },
      bonds: { count: 1, edges: 1, diameter: 2.5e-5 },
    });
    expect(onRing).toEqual([{ x: 4e-3, y: expect.closeTo(3e-4, 12), edge: "lower" }]);
    expect(bondFeet({ die })).toEqual([]);
  });

  it("counts the room at the pitch, and warns of none that still fit closer", () => {
    // Lower edge: (8 mm − 0.6 mm − 0.2 mm)/0.3 mm = 24 steps, 25 pads.
    expect(bondRoom(on({ count: 1, edges: 1 }))).toBe(25);
    expect(bondRoom(on({ count: 1, edges: 1, perPad: 2 }))).toBe(50);
    expect(bondRoom({ die })).toBe(0);
    expect(standsOf(on({ count: 30, edges: 1 }))).toHaveLength(30);
  });

  it("refuses what would overlap", () => {
    // 7.4 mm between the corners hold 37 pads of 0.2 mm, none apart.
    expect(() => standsOf(on({ count: 38, edges: 1 }))).toThrow(
      "bonds.count: expected at most 37 pads on an edge of 8 mm, got 38",
    );
    expect(standsOf(on({ count: 37, edges: 1 }))).toHaveLength(37);
  });
});
