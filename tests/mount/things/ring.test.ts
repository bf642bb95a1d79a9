import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { contactGroups } from "../../../src/mount/assemble.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { drawn, filmFields } from "./films.js";
import {
  conductorOf,
  goldSlope,
  itBalances,
  itReads,
  itTouches,
  length,
  lengthFromZero,
  maybe,
  modelOf,
  padded,
  purityFrom300,
  siliconOnGold,
  smallest,
} from "./smallest.js";

const { width, length: _, ...film } = padded.pads;
const ring = { ...film, width };
const mount = smallest({ ring, bonds: padded.bonds });

describe("a ring", () => {
  itReads(mount, "ring", { ...filmFields, width: length, inset: maybe(lengthFromZero) });
  itBalances(mount);
  itTouches(mount, ["ring"], 4);

  it("takes the place of pads, needs bonds, and leaves the middle of the die free", () => {
    expect(() => readMount(smallest({ ...padded, ring }))).toThrow(
      'ring: expected pads or a ring, not both, got "both"',
    );
    expect(() => readMount(smallest({ ring }))).toThrow(
      "bonds: expected bonds on the ring, got undefined",
    );
    expect(() => readMount(withField(mount, "ring.inset", 1.9e-3))).toThrow(
      "ring.width: expected less than half the die, 2 mm, got 0.0002 (200 µm)",
    );
  });

  it("is one film of the area of its band, however many bonds stand on it", () => {
    const area = 4e-3 ** 2 - 3.6e-3 ** 2;
    const boundary = conductorOf(mount, "ring boundary");
    expect(boundary.integral(0.2) / (siliconOnGold * area * 0.2 ** 4)).toBeCloseTo(1, 8);
    expect(boundary.count).toBe(1);
    const inset = withField(mount, "ring.inset", 1e-4);
    const within = 3.8e-3 ** 2 - 3.4e-3 ** 2;
    expect(conductorOf(inset, "ring boundary").integral(0.2) / boundary.integral(0.2)).toBeCloseTo(
      within / area,
      10,
    );
  });

  it("conducts along itself: thickness times κ a square, and a band's length over its width", () => {
    const pure = withField(mount, "ring.residualResistivityRatio", purityFrom300(5));
    const { numbers, groups } = modelOf(pure, "sheet");
    const [contacts] = [...groups.keys()];
    const square = numbers.filmSquare(contacts!).conductance(0.2);
    expect(square / (goldSlope(5) * 0.2 * 5e-7)).toBeCloseTo(1, 8);
    // Around the ring as a chain: the middle line is 4 × 3.8 mm, less what the corners save.
    const [group] = contactGroups(readMount(mount));
    const around = group!.links.reduce((sum, { squares }) => sum + squares, 0);
    expect(around).toBeGreaterThan((4 * 3.4e-3) / 2e-4);
    expect(around).toBeLessThan((4 * 3.8e-3) / 2e-4 + 1e-9);
  });

  it("is drawn", () => {
    expect(drawn(drawnParts(readMount(mount)), "ring")!.details).toEqual([
      "gold",
      "200 µm wide, 500 nm thick",
      "RRR 5",
    ]);
  });
});
