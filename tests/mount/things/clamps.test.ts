import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { contactGroups } from "../../../src/mount/assemble.js";
import { thermalBudget } from "../../../src/mount/budget.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount, spreadsOf } from "../../../src/mount/read.js";
import type { Clamp } from "../../../src/mount/things/clamps.js";
import { spread } from "../../../src/units/spread.js";
import { drawn } from "./films.js";
import {
  catalogue,
  conductorOf,
  count,
  force,
  itBalances,
  itReads,
  itTouches,
  length,
  lengthFromZero,
  lorenz,
  maybe,
  name,
  smallest,
  storeOf,
  telling,
} from "./smallest.js";

const clamp: Clamp = { faces: "sapphire on silicon", force: 5.4, count: 2 };
const placed: Clamp = { ...clamp, count: 1, places: [{ x: 2e-3, y: 2e-3 }], size: 5e-4 };
const mount = smallest({ clamps: [clamp, placed] });

describe("clamps", () => {
  itReads(mount, "clamps[1]", {
    name: maybe(name),
    count: maybe(count),
    places: undefined,
    size: maybe(length),
    body: undefined,
    resistance: undefined,
    conductance: undefined,
    at: undefined,
    exponent: undefined,
    faces: telling({ ...name, refused: ["", 7] }),
    sample: undefined,
    screws: undefined,
    force,
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
      "clamps[0].count: expected at most 1000 on a 2-D die, got 1001",
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

  it("conduct as they were measured, or by screws whose forces add up", () => {
    const by = (own: object) => smallest({ clamps: [{ count: 3, ...own } as Clamp] });
    const G = (own: object) => conductorOf(by(own), "clamps").conductance(0.2);
    expect(G({ conductance: "1 uW/K", at: "0.1 K", exponent: 3 })).toBeCloseTo(8e-6, 15);
    expect(G({ resistance: 1e-6 }) / ((lorenz * 0.2) / 1e-6)).toBeCloseTo(1, 8);
    const screws = { size: "M2", torque: 0.02, nutFactor: 0.2, count: 2 };
    const faces = "sapphire on silicon";
    // 50 N a screw by F = T/(K d).
    expect(G({ faces, screws }) / G({ faces, force: 100 })).toBeCloseTo(1, 12);
    expect(conductorOf(by({ faces, screws }), "clamps").count).toBe(3);
    const { warnings } = thermalBudget(by({ faces, screws }));
    expect(warnings.join()).toContain("clamps[0].screws: what the screws clamp is not given");
  });

  it("take a spread wherever they take a number", () => {
    const screws = { size: "M2", torque: spread(0.01, 0.04), nutFactor: spread(0.15, 0.3) };
    const own = smallest({ clamps: [{ faces: "sapphire on silicon", screws }] });
    expect(spreadsOf(own).map(({ field, unit }) => [field, unit])).toEqual([
      ["clamps.0.screws.torque", "N m"],
      ["clamps.0.screws.nutFactor", ""],
    ]);
  });

  it("store heat at the box by what their bodies are made of", () => {
    const body = { material: "copper", volume: "100 mm^3" } as const;
    const stored = storeOf(smallest({ clamps: [{ ...clamp, body }] }), "clamps");
    const copper = catalogue.material("copper").heatCapacity().value(0.1);
    expect(stored.heatCapacity(0.1) / (2 * 1e-7 * copper)).toBeCloseTo(1, 12);
  });
});
