import { describe, expect, it } from "vitest";
import {
  filmContacts,
  filmSquare,
  otherPhonons,
  patchesThatFit,
  purityWords,
  times,
} from "../../../src/mount/things/film.js";
import { catalogue, conductorOf, goldSlope, padded, purityFrom300, smallest } from "./smallest.js";

const gold = { material: "gold", thickness: 4e-7 } as const;
// h v/(2.82 k_B d) of gold 400 nm thick: 54.9 mK at 1290 m/s, 144 mK at 3390 m/s.
const [transverse, longitudinal] = [54.9e-3, 144.2e-3];

describe("a film", () => {
  it("conducts along itself by its thickness: a square is t ∫κ dT", () => {
    const film = { ...gold, residualResistivityRatio: purityFrom300(5) };
    const one = filmSquare(film, "pads", catalogue);
    expect(one.integral(0.2) / (4e-7 * goldSlope(5) * (0.2 ** 2 / 2))).toBeCloseTo(1, 8);
    const twice = filmSquare({ ...film, thickness: 8e-7 }, "pads", catalogue);
    expect(twice.conductance(0.1) / one.conductance(0.1)).toBeCloseTo(2, 12);
  });

  it("is changed to the other phonons where its choice is in doubt, each by itself", () => {
    const padGroups = [{ ...gold, name: "south" }];
    const patches = [{ ...gold, name: "plane", phonons: "shared" as const }];
    const mount = { pads: gold, padGroups, patches, back: { film: gold, force: 1 } };
    const at = (warm: readonly string[]) => (name: string) =>
      warm.includes(name) ? 1.01 * longitudinal : 0.99 * transverse;
    const changed = otherPhonons(mount, catalogue, at(["pad", "back"]))!;
    expect(changed.films).toEqual(["pads south"]);
    const asked = changed.mount;
    expect(asked.pads).toBe(gold);
    expect(asked.back).toEqual({ film: gold, force: 1 });
    // Cold, its own phonons have waves too long for it; shared ones are right there.
    expect(asked.padGroups[0]!).toEqual({ ...padGroups[0], phonons: "shared" });
    expect(asked.patches[0]).toBe(patches[0]);
    const all = ["pad", "back", "pads south", "patch plane"];
    const warm = otherPhonons(mount, catalogue, at(all))!.mount;
    expect(warm.patches[0]!.phonons).toBe("own");
    expect(warm.padGroups[0]).toBe(padGroups[0]);
    expect(otherPhonons({ pads: gold }, catalogue, () => 1.01 * longitudinal)).toBeUndefined();
  });

  it("needs what its boundary and its coupling are computed from, or a measured one", () => {
    const pads = { ...padded.pads, material: "nbti" };
    expect(() => conductorOf(smallest({ ...padded, pads }), "pad boundary")).toThrow(
      /^pads\.material: expected a material with sound speed longitudinal.*, got "nbti"/,
    );
    expect(() => conductorOf(smallest({ ...padded, pads }), "electron-phonon coupling")).toThrow(
      /^pads\.material: expected a material with electron phonon coupling.*, got "nbti"/,
    );
    const boundary = { resistance: 1e-3 };
    const given = { ...pads, boundary, coupling: { coefficient: 1e9, exponent: 5 } };
    expect(() => conductorOf(smallest({ ...padded, pads: given }), "pad boundary")).not.toThrow();
  });

  it("in patches has shares by area, and links by the numbers of its patches", () => {
    const square = (name: string, size: number) => ({ name, area: [], size, x: 0, y: 0 });
    const film = {
      patches: [square("a", 3), square("b", 1)],
      links: [{ from: "b", to: "a", squares: 2 }],
    };
    expect(filmContacts(film, [0, 5])).toEqual({
      patches: [
        { area: [], share: 0.75, bonds: 0 },
        { area: [], share: 0.25, bonds: 5 },
      ],
      links: [{ from: 1, to: 0, squares: 2 }],
    });
    // No more than the cells of the die can tell apart: 0.6 of those along a side.
    expect([
      patchesThatFit({ cells: 16 }, 12),
      patchesThatFit({}, 12),
      patchesThatFit({}, 99),
    ]).toEqual([9, 12, 76]);
  });

  it("says number and purity in words", () => {
    expect([times(1, "pad"), times(2, "pad"), times(2, "glass", "glasses")]).toEqual([
      "1 pad",
      "2 pads",
      "2 glasses",
    ]);
    expect([purityWords(undefined), purityWords(5), purityWords({ value: 7, warm: 300 })]).toEqual([
      [],
      ["RRR 5"],
      ["RRR 7"],
    ]);
  });
});
