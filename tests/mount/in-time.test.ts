import { describe, expect, it } from "vitest";
import { withField } from "../../src/design/field.js";
import { inTime, storesOf } from "../../src/mount/in-time.js";
import { dieModels, modelOf, padded, smallest } from "./things/smallest.js";

const mount = smallest(padded);

describe("a mount in time", () => {
  it.each(dieModels)("stores as much on every model of the die: %s", (die) => {
    const model = modelOf(mount, die);
    const { network } = inTime(model, 16);
    const stored = network.nodes.reduce(
      (sum, { store }) => sum + (store?.heatCapacity(0.1) ?? 0),
      0,
    );
    const parts = storesOf(model).stores.reduce(
      (sum, { store }) => sum + store.heatCapacity(0.1),
      0,
    );
    expect(stored / parts).toBeCloseTo(1, 10);
    const whole = storesOf(modelOf(mount, "one node")).stores;
    const same = whole.reduce((sum, { store }) => sum + store.heatCapacity(0.1), 0);
    expect(parts / same).toBeCloseTo(1, 10);
  });

  it.each(dieModels)(
    "has nodes without loads, and shares of each load that sum to 1: %s",
    (die) => {
      const { network, loads, nodes, grid } = inTime(modelOf(mount, die), 16);
      for (const { load } of network.nodes) expect(load).toBeUndefined();
      for (const load of loads)
        expect(load.nodes.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
      expect(nodes.get("pad foot")).toHaveLength(die === "sheet" || die === "flights" ? 4 : 1);
      expect(grid?.cells).toBe(die === "sheet" ? 256 : undefined);
    },
  );

  it.each(dieModels)("takes a hit wherever it falls, and none off the die: %s", (die) => {
    const { hit } = inTime(modelOf(mount, die), 16);
    for (const at of [undefined, { x: 1e-3, y: 4e-3 }])
      expect(hit(at, "hit").reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    expect(() => hit({ x: 1e-3, y: 5e-3 }, "hits[0].place")).toThrow(
      'hits[0].place.y: expected a place on the die, 0 to 4 mm, got "5 mm"',
    );
  });

  it("refuses cells that are no grid", () => {
    for (const cells of [3, 129, 16.5])
      expect(() => inTime(modelOf(mount, "sheet"), cells)).toThrow(
        `cells: expected a whole number from 4 to 128, got ${cells}`,
      );
  });

  it("leaves out what has no heat capacity, with a warning; not the die", () => {
    const brassy = modelOf(withField(mount, "box.material", "nbti"), "one node");
    brassy.take(
      { ...brassy.mount, box: { material: "nbti", crossSection: 1e-6, pathLength: 1e-2 } },
      brassy.catalogue,
    );
    const { warnings, stores } = storesOf(brassy);
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).toMatch(/^box\.material: .* Its heat is left out\.$/);
    expect(stores.some(({ name }) => name.startsWith("box"))).toBe(false);
    const die = modelOf(withField(mount, "die.material", "nbti"), "one node");
    expect(() => storesOf(die)).toThrow(/^die|^nbti/);
  });
});
