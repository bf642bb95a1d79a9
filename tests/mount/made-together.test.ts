import { describe, expect, it } from "vitest";
import { madeTogether } from "../../src/mount/made-together.js";
import type { Mount } from "../../src/mount/mount.js";
import { readMount } from "../../src/mount/read.js";
import { padded, smallest } from "./things/smallest.js";

const film = { material: "gold", thickness: 5e-7, residualResistivityRatio: 5 } as const;
const patch = (name: string, face: "front" | "back", at: number, more: object = {}) =>
  ({
    name,
    face,
    ...film,
    left: at,
    right: at + 2e-4,
    bottom: 2e-3,
    top: 2.2e-3,
    ...more,
  }) as const;
/** Fields of one thickness, and why. */
const thicknesses = (mount: Mount) =>
  madeTogether(readMount(mount))
    .filter(({ fields }) => fields[0]!.endsWith("thickness"))
    .map(({ fields, reason }) => [fields, reason]);

describe("fields that are one unknown", () => {
  const patches = [
    patch("a", "front", 1e-3),
    patch("b", "front", 1.5e-3, { thickness: 6e-7 }),
    patch("c", "back", 1e-3),
    patch("d", "back", 2e-3),
  ];

  it("are those of films of one metal and thickness on one face", () => {
    expect(thicknesses(smallest({ ...padded, patches }))).toEqual([
      [["pads.thickness", "patches.0.thickness"], "one film of gold"],
      [["patches.2.thickness", "patches.3.thickness"], "one film of gold"],
    ]);
    const purities = madeTogether(readMount(smallest({ ...padded, patches }))).map(
      ({ fields }) => fields[0],
    );
    expect(purities).toContain("pads.residualResistivityRatio");
    // Where they lie is drawn, not deposited.
    expect(purities.some((field) => /left|width/.test(field!))).toBe(false);
  });

  it("are each die's own for films, and every die's for a spool of wire", () => {
    const die = { material: "silicon", width: 4e-3, length: 4e-3, thickness: 3e-4 } as const;
    const second = { die, ...padded, offset: { x: 6e-3, y: 0 } };
    const made = madeTogether(readMount(smallest({ ...padded, dies: { second } })));
    expect(made.map(({ reason }) => reason)).not.toContain("one film of gold");
    expect(made.map(({ fields }) => fields)).toContainEqual([
      "bonds.diameter",
      "dies.second.bonds.diameter",
    ]);
    expect(made.flatMap(({ fields }) => fields).some((field) => /length$/.test(field))).toBe(false);
    const bonds = { ...padded.bonds, diameter: 5e-5 };
    const thicker = smallest({ ...padded, dies: { second: { ...second, bonds } } });
    expect(madeTogether(readMount(thicker))).toEqual([]);
  });

  it("are none of a single film and wire", () => {
    expect(madeTogether(readMount(smallest(padded)))).toEqual([]);
  });
});
