import { describe, expect, it } from "vitest";
import { contactGroups } from "../../../src/mount/assemble.js";
import { readMount } from "../../../src/mount/read.js";
import { filmsOf } from "../../../src/mount/things/films.js";
import { padded, smallest } from "./smallest.js";

const film = { material: "gold", thickness: 1e-6, residualResistivityRatio: 5 } as const;
const joint = { faces: "gold-plated copper on gold-plated copper", force: 100 };

describe("the films of a mount", () => {
  it("lie on contacts of the name that is told, and are found by their fields", () => {
    const patch = {
      name: "plane",
      face: "front",
      ...film,
      left: 1e-3,
      right: 2e-3,
      bottom: 1e-3,
      top: 2e-3,
    };
    const mount = readMount(
      smallest({ ...padded, back: { film, joint }, patches: [patch as never] }),
    );
    const found = filmsOf(mount);
    expect(found.map(({ key, contacts }) => [key, contacts])).toEqual([
      ["pads", "pads"],
      ["back.film", "back"],
      ["patches[0]", "patch plane"],
    ]);
    const names = contactGroups(mount).map(({ name }) => name);
    for (const { contacts } of found) expect(names).toContain(contacts);
    expect(found.map(({ thickness }) => thickness)).toEqual([5e-7, 1e-6, 1e-6]);
  });

  it("are none on a bare die", () => {
    expect(filmsOf(readMount(smallest()))).toEqual([]);
  });
});
