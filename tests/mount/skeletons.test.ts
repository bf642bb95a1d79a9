import { describe, expect, it } from "vitest";
import { type Groups, type Skeleton, Skeletons, startOfPieces } from "../../src/mount/skeletons.js";

const skeleton = () => ({}) as Skeleton;

describe("what the loads of a mount do not change", () => {
  it("is made once for a way of cutting, and anew when anything else has changed", () => {
    const known = new Skeletons();
    const [bonds, other] = [{}, {}];
    const first = known.of("whole", [bonds], skeleton);
    const cut = known.of("1: 2 pieces", [bonds], skeleton);
    expect(cut).not.toBe(first);
    expect(known.of("whole", [bonds], skeleton)).toBe(first);
    const later = known.of("whole", [other], skeleton);
    expect(later).not.toBe(first);
    // What was made of the first is gone.
    expect(known.of("whole", [bonds], skeleton)).not.toBe(first);
    expect(known.of("whole", [bonds, bonds], skeleton)).not.toBe(later);
  });

  it("forgets the ways of cutting that were not asked for the longest", () => {
    const known = new Skeletons();
    const all = Array.from({ length: 12 }, (_, k) => known.of(`${k}`, [], skeleton));
    expect(known.of("0", [], skeleton)).toBe(all[0]);
    known.of("another", [], skeleton);
    expect(known.of("0", [], skeleton)).toBe(all[0]);
    expect(known.of("1", [], skeleton)).not.toBe(all[1]);
  });
});

describe("temperatures to start from", () => {
  const contact = (of?: number) => ({
    area: [],
    share: 1,
    bonds: 0,
    ...(of !== undefined && { of }),
  });
  const key = {} as never;
  const groups = (...contacts: ReturnType<typeof contact>[]): Groups =>
    new Map([
      [key, { name: "pads", layer: "face", field: () => "pads", contacts, links: [] }],
    ]) as never;
  const pieces = { name: "pad phonons", inPieces: true, group: key };
  const links = { nodesOf: new Map([[pieces, []]]) } as never;

  it("are those of the contact that a piece was cut from, on the die and behind it", () => {
    const before = new Map([
      ["die at the pads 1", 0.11],
      ["die at the pads 2", 0.12],
      ["pad phonons 1", 0.105],
      ["pad phonons 2", 0.106],
      ["stage", 0.1],
    ]);
    // The second contact is cut in two.
    const start = startOfPieces(before, groups(contact(), contact()), {
      groups: groups(contact(), contact(1), contact(1)),
      links,
    });
    const at = (node: string) => [1, 2, 3].map((k) => start.get(`${node} ${k}`));
    expect(at("die at the pads")).toEqual([0.11, 0.12, 0.12]);
    expect(at("pad phonons")).toEqual([0.105, 0.106, 0.106]);
    expect(start.get("stage")).toBe(0.1);
    expect(before.get("die at the pads 3")).toBeUndefined();
  });

  it("are those of the first piece where a contact is cut again", () => {
    const before = new Map([0.11, 0.12, 0.13].map((T, k) => [`die at the pads ${k + 1}`, T]));
    const start = startOfPieces(before, groups(contact(), contact(1), contact(1)), {
      groups: groups(contact(), contact(1), contact(1), contact(1)),
      links: { nodesOf: new Map() } as never,
    });
    expect([2, 3, 4].map((k) => start.get(`die at the pads ${k}`))).toEqual([0.12, 0.12, 0.12]);
  });
});
