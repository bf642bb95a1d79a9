import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { coax } from "../../../src/loads/coax.js";
import { thermalBudget } from "../../../src/mount/budget.js";
import { inTime } from "../../../src/mount/in-time.js";
import type { Mount } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { type MountLoad, powerSources, sourceNames } from "../../../src/mount/things/load.js";
import * as kinds from "../../../src/mount/things/load-kinds.js";
import { exampleMounts } from "../example-mounts.js";
import {
  catalogue,
  dieModels,
  itBalances,
  itReads,
  lengthFromZero,
  maybe,
  modelOf,
  name,
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
    on: maybe(name),
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
        "Known: uniform, rectangle, spot, pixels, lines",
    );
  });

  it("falls on the die by a map whatever its kind, and on the box without one", () => {
    const on = (load: object) => () => readMount(by(load));
    const map = { kind: "spot", x: 1e-3, y: 1e-3, radius: 1e-4 } as const;
    const all: readonly MountLoad[] = Object.values(exampleMounts)
      .flatMap(({ loads }) => loads)
      .filter(({ kind }) => kind !== "conduction");
    expect(new Set(all.map(({ kind }) => kind)).size).toBe(Object.keys(kinds).length);
    for (const load of all) {
      const mount = readMount(by({ ...load, map }));
      // What lands in places of its own has its own map.
      expect(powerSources(mount).at(-1)!.map(mount), load.kind).toEqual(map);
    }
    // The compiler knows it, too.
    const typed: MountLoad = { kind: "muons", map };
    expect(on(typed)).not.toThrow();
    expect(on({ kind: "muons", on: "box" })).toThrow('loads[0].on: field "on" is not known');
    expect(on({ kind: "given", power: 1, on: "box", map })).toThrow(
      "loads[0].map: expected none, since the load falls on the box",
    );
  });

  it("falls along lines, by their shares and losses", () => {
    const route = [
      { x: 5e-4, y: 2e-3 },
      { x: 3.5e-3, y: 2e-3 },
    ];
    const heated = (lines: object) => {
      const mount = readMount(mapped({ kind: "lines", lines }));
      const { network, loads } = inTime(modelOf(mount as never, "sheet"), 16);
      expect(network.nodes.length).toBeGreaterThan(256);
      return new Map(loads[0]!.nodes.map(({ node, share }) => [node, share]));
    };
    const thin = heated([
      { route, share: 2 },
      {
        route: [
          { x: 1e-3, y: 1e-3 },
          { x: 1e-3, y: 3e-3 },
        ],
      },
    ]);
    const sum = (all: ReadonlyMap<string, number>) => [...all.values()].reduce((a, b) => a + b, 0);
    expect(sum(thin)).toBeCloseTo(1, 12);
    // Cells of 0.25 mm: a line of 3 mm covers twelve of them evenly, row 8 from the bottom, beginning at column 2.
    expect(thin.get("die cell 140")! / (2 / 3 / 12)).toBeCloseTo(1, 9);
    const lossy = heated([{ route, loss: 10, width: "0.5 mm" }]);
    expect(sum(lossy)).toBeCloseTo(1, 12);
    // 10 dB from end to end: the first cell has ten to the 11/12 times the heat of the last.
    const [first, last] = ["die cell 130", "die cell 141"].map((cell) => lossy.get(cell)!);
    expect(first! / last! / 10 ** (11 / 12)).toBeCloseTo(1, 1);
    expect(refused({ kind: "lines", lines: [{ route: route.slice(1) }] })).toThrow(
      "loads[0].map.lines[0].route: expected two places or more along the line",
    );
    const off = [{ route: [...route, { x: 5e-3, y: 1e-3 }] }];
    expect(() => modelOf(mapped({ kind: "lines", lines: off }), "sheet").point()).toThrow(
      'loads[0].map: expected lines whose corners are on the die, got "x 5 mm, y 1 mm"',
    );
  });

  it("lands on the box with all that it is made of, under its own name", () => {
    const line = {
      kind: "wiring" as const,
      name: "coax",
      members: [{ material: "nbti", diameter: 1e-4, lands: { on: "box" as const } }],
      stages: [
        { name: "still", temperature: 1 },
        { name: "box", temperature: 0.1, length: 0.1 },
      ],
    };
    const { sources } = thermalBudget(smallest({ loads: [line] }));
    expect(sources.map(({ name, on }) => [name, on])).toEqual([["coax", "box by the die"]]);
  });

  it("lands in several places, each a source of its own: a pin on the die, a shield on the box", () => {
    const [centre, dielectric, shield] = coax({
      size: "0.085 in",
      conductor: { material: "nbti" },
      dielectric: { material: "ptfe" },
    });
    const stages = [
      { name: "1 K", temperature: 1 },
      { name: "mount", temperature: 0.11, length: 0.2 },
    ];
    const whole = { kind: "wiring", members: [centre, dielectric, shield], stages } as const;
    const ends = {
      ...whole,
      on: "box",
      members: [
        { ...centre, lands: { on: "die", place: { x: 1e-3, y: 2e-3 } } },
        dielectric,
        shield,
      ],
    } as const;
    const mount = readMount(by(ends));
    const sources = powerSources(mount);
    expect(sources.map(({ name: called, on }) => [called, on])).toEqual([
      ["wiring, centre", "die"],
      ["wiring, dielectric and shield", "box"],
    ]);
    expect(sources[0]!.map(mount)).toEqual({
      kind: "rectangle",
      left: 5e-4,
      right: 1.5e-3,
      bottom: 1.5e-3,
      top: 2.5e-3,
    });
    const heat = (each: (typeof sources)[number]) => each.heat(mount, catalogue, 0.1).power;
    const [one] = powerSources(readMount(by(whole)));
    const all = one!.heat(readMount(by(whole)), catalogue, 0.1).power;
    expect((heat(sources[0]!) + heat(sources[1]!)) / all).toBeCloseTo(1, 12);
    expect(heat(sources[0]!)).toBeLessThan(0.2 * all);
    const wrong = (lands: object) => () =>
      readMount(by({ ...whole, members: [{ ...centre, lands }] }));
    expect(wrong({ on: "box", place: { x: 0, y: 0 } })).toThrow(
      "loads[0].members[0].lands.place: expected none, since it ends on the box",
    );
    expect(wrong({ on: "die", size: 1e-3 })).toThrow("lands.size: expected none without a place");
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
