import { describe, expect, it } from "vitest";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { dies, type FurtherDie } from "../../../src/mount/things/dies.js";
import { catalogue, smallest } from "./smallest.js";

const die = { material: "silicon", width: 4e-3, length: 4e-3, thickness: 3e-4, cells: 16 } as const;
const clamps = [{ faces: "sapphire on silicon", force: 2.7 }];
const offset = { x: 6e-3, y: -1e-3 };
const second: FurtherDie = { die, clamps, offset };
const two = (own: Partial<FurtherDie> = {}, name = "second", more: object = {}) =>
  smallest({ clamps, dies: { [name]: { ...second, ...own } }, ...more });

describe("further dies", () => {
  it("have names that no other place has", () => {
    for (const name of [
      "die",
      "chip",
      "box",
      "stage",
      "mount",
      "die two",
      "end of all",
      "box by the wall",
    ])
      expect(() => readMount(two({}, name)), name).toThrow(
        `dies: expected names of dies that no other place has, got "${name}"`,
      );
    const bodies = [
      {
        name: "second edge",
        on: "box",
        material: "copper",
        volume: 1e-9,
        joint: { resistance: 1e-3 },
      },
    ];
    expect(() => readMount(two({}, "second", { bodies }))).toThrow("dies: expected names of dies");
    expect(() => readMount(two({}, "third", { bodies }))).not.toThrow();
  });

  it("are drawn where they lie, each part with its die", () => {
    const parts = drawnParts(readMount(two()));
    const own = parts.filter((part) => part.die === "second");
    expect(own.map(({ kind, name }) => [kind, name])).toEqual([
      ["second: die", "second"],
      ["second: clamps 0", expect.stringMatching(/^second: /)],
    ]);
    expect(own[0]!.places).toEqual([
      {
        left: expect.closeTo(6e-3, 12),
        right: expect.closeTo(10e-3, 12),
        bottom: expect.closeTo(-1e-3, 12),
        top: expect.closeTo(3e-3, 12),
      },
    ]);
  });

  it("break the rules of their things by their own fields, and warn by their own names", () => {
    expect(() => readMount(two({ die: { ...die, thickness: 1.1e-3 } }))).toThrow(
      "dies.second.die.thickness: expected a plate, at most a quarter of its shorter side",
    );
    const map = { kind: "uniform" } as const;
    const load = { kind: "given", power: 1e-9, on: "box", map } as const;
    expect(() => readMount(two({ loads: [load] }))).toThrow(
      "dies.second.loads[0].map: expected none, since the load falls on the box",
    );
    const rays = readMount(two({ die: { ...die, rays: 512 } }));
    expect(dies.warnings!(rays, catalogue)).toEqual([
      expect.stringMatching(/^second: die\.rays: without effect/),
    ]);
    expect(dies.warnings!(readMount(two()), catalogue)).toEqual([]);
  });
});
