import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import type { Mount } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { type MountLoad, powerSources, sourceNames } from "../../../src/mount/things/load.js";
import {
  catalogue,
  dieModels,
  itBalances,
  itReads,
  lengthFromZero,
  maybe,
  modelOf,
  name,
  oneOf,
  power,
  smallest,
} from "./smallest.js";

const by = (...loads: readonly unknown[]) => smallest({ loads: loads as MountLoad[] });
const mapped = (map: object) => by({ kind: "given", power: 1e-9, map });
const rectangle = { kind: "rectangle", left: 1e-3, right: 2e-3, bottom: 1e-3, top: 2e-3 };
const refused = (map: object) => () => readMount(mapped(map));

describe("a load", () => {
  itReads(by({ kind: "given", power: 1e-9 }), "loads[0]", {
    kind: undefined,
    on: maybe(oneOf("die", "box")),
    map: undefined,
    name: maybe(name),
    power,
  });
  itReads(mapped(rectangle), "loads[0].map", {
    kind: undefined,
    left: lengthFromZero,
    right: lengthFromZero,
    bottom: lengthFromZero,
    top: lengthFromZero,
  });
  itReads(mapped({ kind: "spot", x: 1e-3, y: 1e-3, radius: 1e-4 }), "loads[0].map", {
    kind: undefined,
    x: lengthFromZero,
    y: lengthFromZero,
    radius: { ...lengthFromZero, value: "0.1 mm" },
  });
  itReads(mapped({ kind: "uniform" }), "loads[0].map", { kind: undefined });
  itBalances(by({ kind: "given", power: 1e-9, map: rectangle }, { kind: "given", power: 2e-9 }));
  itBalances(by({ kind: "given", power: 1e-9, on: "box" }, { kind: "given", power: 1e-9 }));

  it("is one of a list, told apart by its kind", () => {
    expect(() => readMount(smallest({ loads: {} as never }))).toThrow(
      "loads: expected a list of loads, got {}",
    );
    expect(() => readMount(by({ power: 1 }))).toThrow("loads[0].kind: expected one of ");
    expect(() => readMount(by({ kind: "givne" }))).toThrow(
      'loads[0].kind: kind "givne" is not known, did you mean "given"?',
    );
    expect(refused({ kind: "spots" })).toThrow(
      'loads[0].map.kind: kind "spots" is not known, did you mean "spot"? ' +
        "Known: uniform, rectangle, spot, pixels",
    );
  });

  it("falls on the die by a map only where its kind may", () => {
    const on = (load: object) => () => readMount(by(load));
    const muons = { kind: "muons", map: { kind: "uniform" } };
    expect(on(muons)).toThrow('loads[0].map: field "map" is not known');
    expect(on({ kind: "muons", on: "box" })).toThrow('loads[0].on: field "on" is not known');
  });

  it("has rows of pixels as long as the first, with some weight", () => {
    const pixels = (rows: unknown) => refused({ kind: "pixels", rows });
    expect(pixels([[1, 0]])).not.toThrow();
    expect(pixels([])).toThrow("loads[0].map.rows: expected at least one row of one pixel, got []");
    expect(pixels([[1, 2], [1]])).toThrow(
      'loads[0].map.rows[1]: expected 2 pixels, as many as in row 0, got "1 pixels"',
    );
    expect(pixels([[0, 0]])).toThrow("loads[0].map.rows: expected some pixel with more than 0");
    expect(pixels([[-1]])).toThrow(
      "loads[0].map.rows[0][0]: expected a number, not negative, got -1",
    );
    expect(pixels(7)).toThrow("loads[0].map.rows: expected a list of rows of pixels, got 7");
  });

  it("is called by its name or its kind, numbered where two are alike", () => {
    const { loads } = readMount(
      by({ kind: "given", power: 1 }, { kind: "given", power: 1 }, { kind: "muons", name: "sky" }),
    );
    expect(sourceNames(loads)).toEqual(["given 1", "given 2", "sky"]);
  });

  it("is a source of its power, with its path for errors", () => {
    const mount = readMount(by({ kind: "given", name: "heater", power: "2 nW", on: "box" }));
    const [source] = powerSources(mount);
    expect(source).toMatchObject({
      name: "heater",
      field: "loads[0]",
      on: "box",
      particles: false,
    });
    expect(source!.heat(mount, catalogue, 0.1).power).toBeCloseTo(2e-9, 20);
    expect(source!.map(mount)).toBeUndefined();
    expect(source!.law(mount, catalogue)).toBeUndefined();
    expect(source!.coldEnd(mount)).toBeUndefined();
    expect(powerSources(readMount(by({ kind: "muons" })))[0]!.particles).toBe(true);
  });

  it.each(dieModels)("called like a part of the mount changes no temperature, with %s", (die) => {
    const named = (called: string): Mount =>
      withField(by({ kind: "given", power: 1e-9 }), "loads.0.name", called);
    const free = modelOf(named("heater"), die).point();
    for (const called of ["pads", "ring", "back", "clamps", "box wall", "stage"]) {
      const point = modelOf(named(called), die).point();
      expect([...point.reading.temperatures]).toEqual([...free.reading.temperatures]);
    }
  });

  it.each(["pads", "ring", "back"])(
    "that conducts and is called %s touches the die all the same",
    (called) => {
      const wire = {
        kind: "conduction",
        material: "nbti",
        length: 5e-2,
        diameter: 1e-4,
        from: 0.9,
      };
      const flow = (name: string, die: (typeof dieModels)[number]) =>
        modelOf(by({ ...wire, name }), die)
          .point()
          .reading.flows.get(name)!;
      for (const die of dieModels) expect(flow(called, die)).toBe(flow("support", die));
    },
  );
});
