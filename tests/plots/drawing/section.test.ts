import { describe, expect, it } from "vitest";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { sceneOf } from "../../../src/plots/drawing/scene.js";
import { cutOf, stretchedLayers } from "../../../src/plots/drawing/section.js";
import { padded, smallest } from "../../mount/things/smallest.js";

const cut = (things: Parameters<typeof smallest>[0]) => {
  const plain = readMount(smallest(things));
  return cutOf(plain, drawnParts(plain));
};
const glue = (...ys: number[]) => ({
  glue: "epoxy",
  area: 1e-7,
  thickness: 3e-5,
  places: ys.map((y) => ({ x: 1e-3, y })),
});

describe("where a mount is cut", () => {
  it("shows its bonds: along x, or along y where these stand on the lower and upper edge alone", () => {
    expect(cut(padded)).toEqual({ along: "x", at: expect.closeTo(0.42 * 4e-3, 12) });
    const bonds = { ...padded.bonds, edges: ["lower", "upper"] as const };
    expect(cut({ ...padded, bonds }).along).toBe("y");
    expect(cut({}).along).toBe("x");
  });

  it("goes through the glue that lies nearest to 45 % of the die", () => {
    expect(cut({ glue: glue(5e-4, 1.7e-3, 3.5e-3) }).at).toBeCloseTo(1.7e-3, 12);
    expect(cut({ glue: glue(5e-4, 3.5e-3) }).at).toBeCloseTo(5e-4, 12);
  });

  it("goes through a clamp only where there are no bonds", () => {
    const clamps = [{ faces: "sapphire on silicon", force: 3, places: [{ x: 2e-3, y: 1e-3 }] }];
    expect(cut({ clamps }).at).toBeCloseTo(1e-3, 12);
    expect(cut({ ...padded, clamps }).at).toBeCloseTo(0.42 * 4e-3, 12);
  });
});

describe("heights in a section", () => {
  it("are told by how much they are stretched: pixels over thickness at the scale of the plan", () => {
    const plain = readMount(smallest(padded));
    const scene = sceneOf(plain, drawnParts(plain), "p", 400);
    const words = stretchedLayers(scene);
    const times = (pixels: number, thickness: number) =>
      Number((pixels / (thickness * scene.scale)).toPrecision(2));
    // The die is drawn 22 px high and a film 6 px.
    expect(words[0]).toBe(`part 1 by ${times(22, 3e-4)}`);
    expect(words[1]).toMatch(new RegExp(`^part 2 by ${times(6, 5e-7)}`));
    const twice = stretchedLayers({ ...scene, scale: 2 * scene.scale });
    expect(Number(twice[0]!.split(" ").at(-1))).toBeCloseTo(times(11, 3e-4), 2);
  });
});
