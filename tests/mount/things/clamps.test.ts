import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { contactGroups } from "../../../src/mount/assemble.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import type { Clamp } from "../../../src/mount/things/clamps.js";
import { drawn } from "./films.js";
import {
  conductorOf,
  count,
  force,
  itBalances,
  itReads,
  itTouches,
  length,
  lengthFromZero,
  maybe,
  name,
  smallest,
} from "./smallest.js";

const clamp: Clamp = { faces: "sapphire on silicon", force: 5.4, count: 2 };
const placed: Clamp = { ...clamp, count: 1, places: [{ x: 2e-3, y: 2e-3 }], size: 5e-4 };
const mount = smallest({ clamps: [clamp, placed] });

describe("clamps", () => {
  itReads(mount, "clamps[1]", {
    name: maybe(name),
    faces: name,
    force,
    count: maybe(count),
    places: undefined,
    size: maybe(length),
  });
  itReads(mount, "clamps[1].places[0]", { x: lengthFromZero, y: lengthFromZero });
  itBalances(mount);
  itTouches(mount, ["clamps 1", "clamps 2"]);

  it("are a list, as many as their places", () => {
    expect(() => readMount({ ...mount, clamps: clamp })).toThrow(
      "clamps: expected a list of clamps, got {",
    );
    expect(() => readMount(withField(mount, "clamps.1.places", "corners"))).toThrow(
      'clamps[1].places: expected a list of one place or more, got "corners"',
    );
    expect(() => readMount(withField(mount, "clamps.1.count", 3))).toThrow(
      "clamps[1].count: expected as many as there are places, 1, got 3",
    );
    expect(() => contactGroups(readMount(withField(mount, "clamps.0.count", 1001)))).toThrow(
      "clamps[0].count: expected at most 1000 on a sheet, got 1001",
    );
  });

  it("conduct by the table's law: 380 nW/K at 1 K and 2.7 N, by force^0.667 and T^2.8", () => {
    const { conductance, count: often } = conductorOf(mount, "clamps 1");
    expect(conductance(0.3) / (380e-9 * 2 ** 0.667 * 0.3 ** 2.8)).toBeCloseTo(1, 10);
    expect(often).toBe(2);
  });

  it("stand at the corners first, those with places apart", () => {
    const [corners, own] = contactGroups(readMount(mount));
    const rounded = corners!.contacts.map(({ area }) => area);
    expect(rounded).toMatchObject([
      { left: 0, bottom: 0 },
      { left: 3e-3, bottom: 3e-3 },
    ]);
    expect(own!.contacts).toHaveLength(1);
    expect(own!.field(0)).toBe("clamps[1].places[0]");
  });

  it("are called by their names, and are drawn", () => {
    const named = withField(mount, "clamps.0.name", "left claw");
    expect(conductorOf(named, "left claw").count).toBe(2);
    expect(drawn(drawnParts(readMount(named)), "clamps 0")).toMatchObject({
      name: "left claw",
      details: ["2 clamps", "sapphire on silicon", "5.4 N each, on 1 mm square"],
    });
  });
});
