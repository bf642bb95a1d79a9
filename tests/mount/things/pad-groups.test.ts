import { describe, expect, it } from "vitest";
import { thermalBudget } from "../../../src/mount/budget.js";
import type { Mount } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { groupBands, type PadsOnDie, padsOfGroup } from "../../../src/mount/things/edges.js";
import { dieModels, padded, smallest } from "./smallest.js";

const die = { width: 8e-3, length: 4e-3 };
const group = (more: Partial<PadsOnDie>): PadsOnDie => ({
  name: "north",
  width: 2e-4,
  length: 3e-4,
  edge: "upper",
  count: 4,
  ...more,
});
const middles = (more: Partial<PadsOnDie>) =>
  padsOfGroup({ die }, group(more), "padGroups[0]").map(({ area }) => (area.left + area.right) / 2);

const { count: _, ...wire } = padded.bonds;
const named = (more: object = {}) =>
  smallest({
    padGroups: [{ ...padded.pads, name: "north", edge: "upper", count: 2, ...more }],
    bondGroups: [{ ...wire, pads: "north" }],
  } as Partial<Mount>);
const refusal = (mount: unknown) => {
  try {
    readMount(mount);
    return "read";
  } catch (error) {
    return (error as Error).message;
  }
};

describe("pads in groups", () => {
  it("stand evenly between the corners of their edge", () => {
    const free = die.width - 2 * 3e-4;
    expect(middles({})).toEqual(
      [0, 1, 2, 3].map((k) => expect.closeTo(3e-4 + ((k + 0.5) * free) / 4, 12)),
    );
  });

  it("stay out of keep-outs, and share what is left by its length", () => {
    const x = middles({ count: 6, keepOut: [{ from: 2e-3, to: 5e-3 }] });
    expect(x).toHaveLength(6);
    expect(x.filter((at) => at < 2e-3 - 1e-4 + 1e-12)).toHaveLength(2);
    expect(x.filter((at) => at > 5e-3 + 1e-4 - 1e-12)).toHaveLength(4);
  });

  it("stand at a pitch in the middle of what is free", () => {
    const x = middles({ count: 3, pitch: 5e-4 });
    expect(x).toEqual([3.5e-3, 4e-3, 4.5e-3].map((at) => expect.closeTo(at, 12)));
  });

  it("stand in bands that are the same for any number of them, clear of keep-outs", () => {
    const keepOut = [
      { from: 2e-3, to: 5e-3 },
      { from: 5.1e-3, to: 5.2e-3 },
    ];
    const bands = (count: number) => groupBands({ die }, group({ count, keepOut, inset: 1e-4 }));
    // 0.1 mm between the keep-outs hold no pad of 0.2 mm.
    expect(bands(1)).toEqual(
      [
        [4e-4, 2e-3],
        [5.2e-3, 7.6e-3],
      ].map(([left, right]) => ({
        left: expect.closeTo(left!, 12),
        right: expect.closeTo(right!, 12),
        bottom: expect.closeTo(3.6e-3, 12),
        top: expect.closeTo(3.9e-3, 12),
      })),
    );
    for (const count of [2, 5, 9, 19]) {
      expect(bands(count)).toEqual(bands(1));
      const pads = padsOfGroup({ die }, group({ count, keepOut, inset: 1e-4 }), "padGroups[0]");
      for (const { area } of pads) {
        const held = bands(1).filter(
          (band) =>
            area.left > band.left - 1e-12 &&
            area.right < band.right + 1e-12 &&
            Math.abs(area.bottom - band.bottom) + Math.abs(area.top - band.top) < 1e-12,
        );
        expect(held).toHaveLength(1);
      }
    }
  });

  it("lie at places of their own, and their bonds leave over the nearest edge", () => {
    const { edge: _, count: __, ...own } = group({ places: [{ x: 1e-3, y: 2e-3 }] });
    const [pad] = padsOfGroup({ die }, own, "padGroups[0]");
    expect(pad).toMatchObject({ edge: "left", inwards: 1e-3 });
    expect(pad!.area).toEqual({
      left: expect.closeTo(9e-4, 12),
      right: expect.closeTo(1.1e-3, 12),
      bottom: expect.closeTo(1.85e-3, 12),
      top: expect.closeTo(2.15e-3, 12),
    });
  });

  it.each(dieModels)("make the same of a symmetric mount as its short form, %s", (model) => {
    const sides = ["lower", "right", "upper", "left"] as const;
    const base = smallest({ ...padded, bonds: { ...padded.bonds, count: 12 } });
    const short: Mount = { ...base, die: { ...base.die, model } };
    const groups: Mount = {
      ...smallest({
        padGroups: sides.map((edge) => ({ ...padded.pads, name: edge, edge, count: 3 })),
        bondGroups: sides.map((edge) => ({ ...wire, pads: edge })),
      }),
      die: short.die,
    };
    const [a, b] = [thermalBudget(short).chip.rise, thermalBudget(groups).chip.rise];
    expect(Math.abs(a / b - 1)).toBeLessThan(1e-12);
  });

  it("may stand beside pads that are all alike, and then take their share of the heat", () => {
    const alone = thermalBudget(smallest({ ...padded, bonds: { ...padded.bonds, edges: 1 } }));
    const both = thermalBudget(
      smallest({
        ...padded,
        bonds: { ...padded.bonds, edges: 1 },
        padGroups: [{ ...padded.pads, name: "north", edge: "upper", count: 4 }],
        bondGroups: [{ ...wire, pads: "north" }],
      }),
    );
    expect(both.chip.rise).toBeLessThan(0.7 * alone.chip.rise);
    const flow = (name: string) => both.elements.find((each) => each.name === name)!.power;
    expect(flow("bonds") + flow("bonds north")).toBeCloseTo(1e-9, 15);
  });

  it.each([
    [{ count: 40 }, "padGroups[0].count: expected at most 17"],
    [{ keepOut: [{ from: "1 mm", to: "5 mm" }] }, "padGroups[0].keepOut[0].to: expected at most"],
    [{ keepOut: [{ from: "2 mm", to: "1 mm" }] }, "padGroups[0].keepOut[0].to: expected more than"],
    [{ edge: undefined }, "padGroups[0]: expected an edge, or places"],
    [{ count: undefined }, "padGroups[0].count: expected how many"],
    [{ pitch: "0.1 mm" }, "padGroups[0].pitch: expected at least the pads' width"],
    [{ places: [{ x: "1 mm", y: "1 mm" }] }, "padGroups[0].edge: expected nothing beside places"],
    [{ name: "south" }, 'bondGroups[0].pads: group of pads "north" is not known'],
  ])("are refused in words: %j", (more, words) => {
    expect(refusal(named(more))).toContain(words);
  });

  it.each([
    [[{ x: "0.05 mm", y: "1 mm" }], "padGroups[0].places[0]: expected a pad on the die"],
    [
      [
        { x: "1 mm", y: "1 mm" },
        { x: "1.1 mm", y: "1 mm" },
      ],
      "padGroups[0].places[1]: expected a place apart from padGroups[0].places[0]",
    ],
  ])("are refused where they lie off the die or on each other: %j", (places, words) => {
    expect(refusal(named({ edge: undefined, count: undefined, places }))).toContain(words);
  });

  it("need names of their own, and are told where no bonds stand on them", () => {
    const mount = named();
    const [own] = mount.padGroups!;
    expect(refusal({ ...mount, padGroups: [own, own] })).toContain(
      "padGroups[1].name: expected a name",
    );
    const idle = { ...own!, name: "south", edge: "lower" as const };
    expect(thermalBudget({ ...mount, padGroups: [own!, idle] }).warnings).toContain(
      "pads south: no bonds stand on them, so that no heat leaves by them.",
    );
  });
});
