import { describe, expect, it } from "vitest";
import {
  checkDie,
  checkStack,
  dieNames,
  faceOfDie,
  levelsOf,
  moved,
  plate,
  sharedFace,
  type WithStack,
} from "../../../src/mount/things/stack.js";

const flat = (width: number, length: number) => ({
  material: "silicon",
  width,
  length,
  thickness: 1,
});
const on = (from: string, to: string) => ({ from, to });
const stack = (between: WithStack["between"] = [], x = 0): WithStack => ({
  die: flat(8, 4),
  dies: {
    carrier: { die: flat(14, 10) },
    top: { die: flat(2, 2), offset: { x, y: -1 } },
  },
  between,
});

describe("a stack of dies", () => {
  it("lies middle over middle, from the lower left corner of the mount's own die", () => {
    const mount = stack();
    expect(dieNames(mount)).toEqual(["die", "carrier", "top"]);
    expect(plate(mount, "top")).toEqual(flat(2, 2));
    expect(faceOfDie(mount, "die")).toEqual({ left: 0, right: 8, bottom: 0, top: 4 });
    expect(faceOfDie(mount, "carrier")).toEqual({ left: -3, right: 11, bottom: -3, top: 7 });
    expect(faceOfDie(mount, "top")).toEqual({ left: 3, right: 5, bottom: 0, top: 2 });
    const there = moved(faceOfDie(mount, "top"), faceOfDie(mount, "carrier"), -1);
    expect(there).toEqual({ left: 6, right: 8, bottom: 3, top: 5 });
    expect(moved(there, faceOfDie(mount, "carrier"), 1)).toEqual(faceOfDie(mount, "top"));
  });

  it("shares what lies over each other, and nothing where only edges meet", () => {
    // The middle of a die 2 wide at 4 + x: its left edge reaches the other's right edge at x = 5.
    expect(sharedFace(stack([], 4.5), "die", "top")).toEqual({
      left: 7.5,
      right: 8,
      bottom: 0,
      top: 2,
    });
    expect(sharedFace(stack([], 5), "die", "top")).toBeUndefined();
  });

  it("has the lowest of those that are joined at 0, in whatever order it is written", () => {
    const joints = [on("top", "die"), on("die", "carrier")];
    for (const between of [joints, [...joints].reverse()])
      expect(Object.fromEntries(levelsOf(stack(between)))).toEqual({ carrier: 0, die: 1, top: 2 });
    const apart = levelsOf(stack([on("die", "carrier")]));
    expect([apart.get("die"), apart.get("top")]).toEqual([1, 0]);
  });

  it("refuses joints that no stack has, two dies in one place, and a die that there is not", () => {
    const circle = [on("top", "die"), on("die", "carrier"), on("top", "carrier")];
    expect(() => levelsOf(stack(circle))).toThrow(
      'between[2]: expected dies of which the first lies on the second, got "top and carrier, by what else joins them"',
    );
    expect(() => checkStack(stack([on("die", "carrier")], 20))).not.toThrow();
    // The third lies in the box as the carrier does.
    expect(() => checkStack(stack([on("die", "carrier")]))).toThrow(
      "dies.top.offset: expected a place beside carrier, or bumps, glue or a joint between them",
    );
    expect(() => checkStack(stack())).toThrow(
      "dies.carrier.offset: expected a place beside the mount's own die",
    );
    expect(() => checkDie(stack(), "carier", "between[0].to")).toThrow(
      'between[0].to: die "carier" is not known, did you mean "carrier"?',
    );
  });
});
