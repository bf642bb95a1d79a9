import { describe, expect, it } from "vitest";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import type { DrawnPart } from "../../../src/mount/thing.js";
import {
  dimension,
  fromBelow,
  hatchingDefinitions,
  inOrder,
  isOf,
  lookOf,
  type Scene,
  sceneOf,
} from "../../../src/plots/drawing/scene.js";
import { flipChip } from "../../mount/flip-chip.js";
import { padded, smallest } from "../../mount/things/smallest.js";

const scene = (mount = smallest(padded), space = 400) => {
  const plain = readMount(mount);
  return sceneOf(plain, drawnParts(plain), "p", space);
};
const part = (name: string, more: Partial<DrawnPart> = {}) =>
  ({ kind: name, look: "film", name, details: [], places: [], ...more }) as DrawnPart;

describe("the scene of a drawing", () => {
  it("fits the box into its space: dies, gap and wall on both sides", () => {
    const wide = scene(flipChip);
    // A carrier of 14 mm around a chip of 8 mm, whose corner is the origin.
    expect(wide.face.left).toBeCloseTo(-3e-3, 12);
    expect(wide.face.right).toBeCloseTo(11e-3, 12);
    const across = 14e-3 + 2 * (wide.gap + wide.wall);
    expect(wide.scale * across).toBeCloseTo(400, 9);
    expect(scene(flipChip, 200).scale / wide.scale).toBeCloseTo(0.5, 12);
    const tall = smallest();
    const high = scene({ ...tall, die: { ...tall.die, length: 16e-3 } });
    expect(high.scale * (16e-3 + 2 * (high.gap + high.wall))).toBeCloseTo(1.25 * 400, 9);
  });

  it("draws a bond from where it stands as far as it is long, and no further than a third of the die", () => {
    const { wires, isShortened, reach, longest } = scene();
    // A bond of 2 mm on a die of 4 mm is drawn as 4/3 mm, from its pad's middle.
    expect([isShortened, longest]).toEqual([true, 2e-3]);
    for (const { from, to } of wires)
      expect(Math.hypot(to.x - from.x, to.y - from.y)).toBeCloseTo(4e-3 / 3, 12);
    expect(reach).toBeLessThan(4e-3 / 3);
    const short = scene(smallest({ ...padded, bonds: { ...padded.bonds, length: 1e-3 } }));
    expect(short.isShortened).toBe(false);
    expect(scene(smallest()).wires).toEqual([]);
  });

  it("has parts from below, some looks first and wires last", () => {
    const levels = new Map([
      ["die", 1],
      ["carrier", 0],
    ]);
    const bumps = part("bumps", { die: "carrier", below: "die" });
    const parts = [part("top"), part("low", { die: "carrier" }), bumps];
    expect(fromBelow({ levels, parts }).map(({ name }) => name)).toEqual(["low", "top", "bumps"]);
    const looks = (["wire", "film", "die", "stage"] as const).map((look) => part(look, { look }));
    expect(inOrder(looks, "stage", "die").map(({ look }) => look)).toEqual([
      "stage",
      "die",
      "film",
      "wire",
    ]);
    const wire = part("bonds", { look: "wire", wire: { length: 1, width: 1, group: 2 } });
    expect([isOf(wire, { die: "die", group: 2 }), isOf(wire, { die: "die", group: 1 })]).toEqual([
      true,
      false,
    ]);
    expect(isOf(part("film"), { die: "die" })).toBe(false);
  });

  it("defines every hatching that a look uses", () => {
    const defined = hatchingDefinitions("p");
    for (const look of ["clamp", "glue", "back", "box", "stage"] as const) {
      const { fill } = lookOf({ id: "p" } as Scene, look);
      expect(fill).toBe(`url(#p-${look})`);
      expect(defined).toContain(`id="p-${look}"`);
    }
    expect(lookOf({ id: "p" } as Scene, "wire").fill).toBe("none");
  });

  it("writes a dimension in its middle, upright along an upright line", () => {
    expect(dimension("4 mm", [0, 10], [40, 10])).toMatch(/<text x="20" y="6"[^>]*>4 mm</);
    expect(dimension("4 mm", [10, 0], [10, 40])).toMatch(/rotate\(-90 10 20\)/);
  });
});
