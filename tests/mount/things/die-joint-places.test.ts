import { describe, expect, it } from "vitest";
import {
  bumpMiddles,
  contactAreas,
  countOf,
  glueArea,
  glueMiddles,
  sharedBy,
} from "../../../src/mount/things/die-joint-places.js";
import type { WithBetween } from "../../../src/mount/things/die-joints.js";

const mm = 1e-3;
const flat = (width: number, length: number) => ({
  material: "silicon",
  width: width * mm,
  length: length * mm,
  thickness: 0.5 * mm,
});
/** A die of 8 mm × 4 mm in the middle of a carrier of 14 mm × 10 mm: all of its face is shared. */
const joined = (joint: object): WithBetween => ({
  die: flat(8, 4),
  dies: { carrier: { die: flat(14, 10) } },
  between: [{ from: "die", to: "carrier", ...joint } as never],
});
const bumps = (more: object) =>
  joined({ bumps: { measured: "indium bumps", diameter: 0.1 * mm, ...more } });
const middles = (more: object) => {
  const mount = bumps(more);
  return bumpMiddles(mount, mount.between![0]! as never, 0);
};
const mean = (all: readonly { x: number; y: number }[], of: "x" | "y") =>
  all.reduce((sum, each) => sum + each[of], 0) / all.length;
const area = (pieces: readonly { left: number; right: number; bottom: number; top: number }[]) =>
  pieces.reduce((sum, { left, right, bottom, top }) => sum + (right - left) * (top - bottom), 0);

describe("bumps between two dies", () => {
  it("fill the shared face at their pitch: (side − diameter)/pitch and one more, in the middle of it", () => {
    const all = middles({ pitch: 1 * mm });
    expect(all).toHaveLength(8 * 4);
    expect([mean(all, "x"), mean(all, "y")]).toEqual([
      expect.closeTo(4 * mm, 12),
      expect.closeTo(2 * mm, 12),
    ]);
    expect(all[1]!.x - all[0]!.x).toBeCloseTo(1 * mm, 12);
    // Wall to wall.
    expect(middles({ pitch: 0.1 * mm })).toHaveLength(80 * 40);
  });

  it("of a number stand in rows in the shape of the face, the last row in the middle", () => {
    const seven = middles({ pitch: 1 * mm, count: 7 });
    const rows = [...new Set(seven.map(({ y }) => y))];
    expect(rows.map((row) => seven.filter(({ y }) => y === row).length)).toEqual([4, 3]);
    for (const row of rows)
      expect(
        mean(
          seven.filter(({ y }) => y === row),
          "x",
        ),
      ).toBeCloseTo(4 * mm, 12);
    expect(() => middles({ pitch: 1 * mm, count: 33 })).toThrow(
      "between[0].bumps.count: expected at most 32, which is what fits on the shared face at the pitch, got 33",
    );
  });

  it("cover as much as their circles, each for its share", () => {
    const contacts = contactAreas(bumps({ pitch: 1 * mm }), 0);
    expect(contacts).toHaveLength(32);
    for (const each of contacts) {
      expect(area(each.area) / ((Math.PI / 4) * (0.1 * mm) ** 2)).toBeCloseTo(1, 12);
      expect(each.share).toBeCloseTo(1 / 32, 12);
    }
  });

  it("are taken with their neighbours where they are many, and keep area and shares", () => {
    for (const [pitch, dense] of [
      [0.25 * mm, false],
      [0.12 * mm, true],
    ] as const) {
      const mount = bumps({ pitch });
      const contacts = contactAreas(mount, 0);
      const count = countOf(mount, 0);
      expect(contacts.length).toBeLessThanOrEqual(144);
      expect(count).toBeGreaterThan(144);
      expect(contacts.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
      const covered = contacts.reduce((sum, each) => sum + area(each.area), 0);
      const metal = (count * Math.PI * (0.1 * mm) ** 2) / 4;
      // Dense ones are a rectangle, no larger than the face.
      if (dense) {
        expect(contacts.every((each) => each.area.length === 1)).toBe(true);
        expect(covered).toBeLessThan(8 * 4 * mm ** 2 * (1 + 1e-12));
        expect(covered).toBeGreaterThan(metal);
      } else expect(covered / metal).toBeCloseTo(1, 10);
    }
  });
});

describe("glue between two dies", () => {
  it("covers the shared face in tiles, or spots of its own area", () => {
    const mount = joined({ glue: { glue: "fast epoxy" } });
    const own = mount.between![0]! as never;
    expect(glueArea(mount, own, 0)).toBeCloseTo(32 * mm ** 2, 14);
    const tiles = contactAreas(mount, 0);
    // Squares of a twelfth of the smaller die's longer side.
    expect(tiles).toHaveLength(12 * 6);
    expect(tiles.reduce((sum, each) => sum + area(each.area), 0)).toBeCloseTo(32 * mm ** 2, 14);
    const spots = joined({ glue: { glue: "fast epoxy", area: 1 * mm ** 2, count: 2 } });
    const placed = glueMiddles(
      spots,
      spots.between![0]! as never,
      sharedBy(spots, spots.between![0]!, 0),
    );
    expect(placed.map(({ x }) => x)).toEqual([
      expect.closeTo(2 * mm, 12),
      expect.closeTo(6 * mm, 12),
    ]);
    expect([countOf(mount, 0), countOf(spots, 0)]).toEqual([1, 2]);
  });

  it("has its places from the corner of the upper die, wherever that lies", () => {
    const upside = joined({
      from: "carrier",
      to: "die",
      glue: { glue: "fast epoxy", area: 1 * mm ** 2, places: [{ x: 7 * mm, y: 5 * mm }] },
    });
    const [middle] = glueMiddles(
      upside,
      upside.between![0]! as never,
      sharedBy(upside, upside.between![0]!, 0),
    );
    expect([middle!.x, middle!.y]).toEqual([
      expect.closeTo(4 * mm, 12),
      expect.closeTo(2 * mm, 12),
    ]);
  });
});
