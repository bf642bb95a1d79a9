import { describe, expect, it } from "vitest";
import { thermalBudget } from "../../../src/mount/budget.js";
import type { Mount } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import {
  conductorOf,
  itBalances,
  padded,
  purityFrom300,
  siliconOnGold,
  smallest,
} from "./smallest.js";

const film = { material: "gold", thickness: 1e-6, residualResistivityRatio: purityFrom300(5) };
const joint = { faces: "gold-plated copper on gold-plated copper", force: 100 };
const whole = { left: 0, right: 4e-3, bottom: 0, top: 4e-3 };
const half = { name: "half", face: "back", ...film, ...whole, right: 2e-3, joint } as const;
const clamps = [{ faces: "sapphire on silicon", force: 2.7 }];
const mount = (...patches: NonNullable<Mount["patches"]>): Mount => smallest({ patches, clamps });
const rise = (each: Mount) => thermalBudget(each).chip.rise;

describe("patches of metal", () => {
  itBalances(mount(half));

  it("take heat over their rectangle", () => {
    const boundary = conductorOf(mount(half), "patch half boundary").integral(0.2);
    expect(boundary / (siliconOnGold * 8e-6 * 0.2 ** 4)).toBeCloseTo(1, 8);
  });

  it("are a pressed back where one covers the back, but for how finely it is cut", () => {
    const back = smallest({ back: { film, joint }, clamps });
    const same = mount({ ...half, ...whole });
    expect(rise(same) / rise(back)).toBeCloseTo(1, 3);
  });

  it("are a pressed back of two halves when they are pressed as one", () => {
    const pressed = (name: string, left: number, right: number) =>
      ({ ...half, name, left, right, joint: { ...joint, force: 50 } }) as const;
    const two = mount(pressed("left", 0, 2e-3), pressed("right", 2e-3, 4e-3));
    const back = smallest({ back: { film, joint }, clamps });
    // Half the force presses half as well, and the parts of the film do not lead heat to each other.
    expect(rise(two) / rise(back)).toBeCloseTo(1, 2);
  });

  it("spread heat along the die without a joint, and take none to the box", () => {
    const hot = { kind: "spot", x: 2e-3, y: 2e-3, radius: 2e-4 } as const;
    const loads = [{ kind: "given", power: 1e-9, map: hot }] as const;
    const { joint: _, ...own } = half;
    const spreads = { ...own, ...whole, name: "all", face: "front", thickness: 2e-5 } as const;
    const bare = { ...smallest({ clamps }), loads };
    const covered = { ...mount(spreads), loads };
    expect(rise(covered)).toBeLessThan(rise(bare));
    const { elements } = thermalBudget(covered);
    const flow = (name: string) => elements.find((each) => each.name === name)!.power;
    expect(Math.abs(flow("patch all boundary"))).toBeLessThan(1e-12);
    expect(flow("clamps")).toBeCloseTo(1e-9, 15);
  });

  describe("glued to the box", () => {
    const { joint: _, ...bare } = half;
    const epoxy = {
      material: "silver-epoxy",
      residualResistivityRatio: 2,
      thickness: 3e-5,
    } as const;
    const glued = { ...bare, glue: { ...epoxy, area: 2e-6 } } as const;
    itBalances(smallest({ patches: [glued] }));

    it("lead heat as the same glue does under the die, over the glue's area or the whole patch", () => {
      const under = (area: number) =>
        conductorOf(smallest({ glue: { ...epoxy, area } }), "glue").integral(0.2);
      const own = (patch: NonNullable<Mount["patches"]>[number]) =>
        conductorOf(smallest({ patches: [patch] }), "glue under patch half").integral(0.2);
      expect(own(glued) / under(2e-6)).toBeCloseTo(1, 12);
      expect(own({ ...bare, glue: epoxy }) / under(8e-6)).toBeCloseTo(1, 12);
    });

    it("draw the heat of the die through plating and glue", () => {
      const { elements, total } = thermalBudget(smallest({ patches: [glued] }));
      const flow = (name: string) => elements.find((each) => each.name === name)!.power;
      const through = flow("glue under patch half");
      expect(through / flow("patch half boundary")).toBeCloseTo(1, 9);
      expect(through / total).toBeGreaterThan(0.99);
    });

    it("are refused with a joint beside, or with more glue than patch", () => {
      expect(() => readMount(mount({ ...glued, joint }))).toThrow(
        "patches[0].glue: expected nothing beside joint",
      );
      expect(() => readMount(mount({ ...glued, glue: { ...epoxy, area: "1 cm^2" } }))).toThrow(
        'patches[0].glue.area: expected at most the patch, 8e-6 m^2, got "1 cm^2"',
      );
    });
  });

  it("do not hold a die by themselves", () => {
    const { joint: _, ...own } = half;
    const { clamps: __, ...adrift } = mount(own);
    expect(() => readMount(adrift)).toThrow("mount: expected bonds, groups of bonds, clamps, glue");
  });

  it.each([
    [[half, half], 'patches[1].name: expected a name that no other patch has, got "half"'],
    [
      [half, { ...half, name: "b", left: 1e-3, right: 3e-3 }],
      "patches[1]: expected a place apart from patches[0]",
    ],
    [[{ ...half, right: 0.5e-3, left: 1e-3 }], "patches[0].right: expected more than left, 1 mm"],
    [[{ ...half, right: 5e-3 }], "patches[0].right: expected at most the die, 4 mm"],
    [[{ ...half, face: "side" }], 'patches[0].face: expected "front" or "back", got "side"'],
  ])("are refused in words: %#", (patches, words) => {
    expect(() => readMount(mount(...(patches as never[])))).toThrow(words);
  });

  it("lie apart from pads on the front, and from a film over the whole back", () => {
    const onPads = { ...padded, patches: [{ ...half, face: "front" as const }] };
    expect(() => readMount(smallest(onPads))).toThrow(
      "patches[0]: expected a place apart from pads",
    );
    const { count, ...one } = padded.bonds;
    const onRing = (patch: object) =>
      smallest({
        ring: { ...film, width: 0.2e-3, inset: 0.1e-3 },
        bonds: { ...one, count },
        patches: [{ ...half, face: "front", ...patch }],
      } as Partial<Mount>);
    expect(() => readMount(onRing({}))).toThrow("patches[0]: expected a place apart from ring");
    const inside = { left: 0.4e-3, right: 3e-3, bottom: 0.4e-3, top: 3e-3 };
    expect(readMount(onRing(inside)).patches).toHaveLength(1);
    const places = [{ x: 1e-3, y: 2e-3 }];
    const inGroups = { ...mount({ ...half, face: "front" as const }) };
    const { pads, bonds } = padded;
    const { count: _, ...wire } = bonds;
    expect(() =>
      readMount({
        ...inGroups,
        padGroups: [{ ...pads, name: "free", places }],
        bondGroups: [{ ...wire, pads: "free" }],
      }),
    ).toThrow("patches[0]: expected a place apart from padGroups[0]");
    const back = { film, joint };
    expect(() => readMount(smallest({ back, patches: [half] }))).toThrow(
      "patches[0].face: expected the front, since the film of the back takes all of it",
    );
  });
});
