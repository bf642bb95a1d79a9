import { describe, expect, it } from "vitest";
import type { ContactGroup } from "../../src/mount/assemble.js";
import { flightOptions, onFaces } from "../../src/mount/die-contacts.js";
import { readMount } from "../../src/mount/read.js";
import { smallest } from "./things/smallest.js";

const plain = readMount(smallest());
const box = (left: number, right: number) => ({ left, right, bottom: 1e-3, top: 2e-3 });
const group = (
  name: string,
  layer: ContactGroup["layer"],
  ...areas: ReturnType<typeof box>[]
): ContactGroup => ({
  name,
  layer,
  field: () => name,
  contacts: areas.map((area) => ({ area, share: 1, bonds: 0 })),
  links: [],
});

describe("contacts of a die of flights", () => {
  it("lie on their face, a later one where no earlier one covers it", () => {
    const pad = group("pads", "face", box(1e-3, 2e-3));
    const clamp = group("clamps", "clamps", box(1.5e-3, 3e-3));
    const back = group("back", "back", box(1e-3, 3e-3));
    const [onPad, beside, under] = onFaces(plain, [pad, clamp, back]);
    expect(onPad).toEqual({
      name: "die at the pads 1",
      area: [{ ...box(1e-3, 2e-3), face: "front" }],
    });
    expect(beside!.area).toEqual([{ ...box(2e-3, 3e-3), face: "front" }]);
    expect(under!.area).toEqual([{ ...box(1e-3, 3e-3), face: "back" }]);
  });

  it("need a place of their own", () => {
    const pad = group("pads", "face", box(1e-3, 2e-3), box(2e-3, 3e-3));
    const clamp = group("clamps", "clamps", box(1.5e-3, 2.5e-3));
    expect(() => onFaces(plain, [pad, clamp])).toThrow(
      'die at the clamps 1: expected a place that no other contact covers, got "none that is left"',
    );
  });

  it("see what the faces reflect, the four sides alike, and no number that is not given", () => {
    const faces = { front: 0.9, back: 0.5, sides: 0.1, provenance: [] };
    expect(flightOptions(plain, faces, 32)).toEqual({
      width: 4e-3,
      length: 4e-3,
      thickness: 3e-4,
      specularity: { front: 0.9, back: 0.5, left: 0.1, right: 0.1, lower: 0.1, upper: 0.1 },
      cells: 32,
    });
    const die = { ...plain.die, bulkLength: 2e-3, rays: 512 };
    expect(flightOptions({ ...plain, die }, faces, 32)).toMatchObject({
      bulkLength: 2e-3,
      rays: 512,
    });
  });
});
