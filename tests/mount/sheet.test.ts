/** Mounts whose die is a sheet: places, layouts, and what the field must satisfy. */
import { describe, expect, it } from "vitest";
import type { Rectangle } from "../../src/chip/grid.js";
import {
  compareMounts,
  type Mount,
  placeBonds,
  readMount,
  sizeBonds,
  sweep,
  thermalBudget,
  withField,
} from "../../src/index.js";
import { contactGroups } from "../../src/mount/assemble.js";
import type { PlainMount } from "../../src/mount/mount.js";
import { bondRoom } from "../../src/mount/things/edges.js";
import { exampleMount, quickMount } from "./example.js";

/** Where the pads lie, which are the first group. */
const padPlaces = (mount: PlainMount) =>
  contactGroups(mount)[0]!.contacts.map(({ area }) => area as Rectangle);

/** The example on fewer cells, which is quick and close enough for what is asked here. */
function coarse(changes: object = {}): Mount {
  const mount = exampleMount();
  return { ...mount, die: { ...mount.die, cells: 32 }, ...changes } as Mount;
}
const bare = () => {
  const { pads, bonds, ledge, ...rest } = coarse();
  return rest;
};
const film = { material: "gold", thickness: "300 nm", residualResistivityRatio: 5 } as const;
const plated = "gold-plated copper on gold-plated copper";

describe("a sheet", () => {
  it("is hottest in the middle when alike edges cool it, and coldest at a pad", () => {
    const { field } = thermalBudget(coarse());
    expect(field!.hottest.x).toBeCloseTo(12.5e-3, 3);
    expect(field!.hottest.y).toBeCloseTo(12.5e-3, 3);
    const { x, y } = field!.coldest;
    expect(Math.min(x, y, 25e-3 - x, 25e-3 - y)).toBeLessThan(1e-3);
  });

  it("agrees with the series solution of a plate with cold edges for the step inside the die", () => {
    // Carslaw and Jaeger (1959): hottest rise 0.0737 P/(κt) over edges held alike; with pads every
    // millimetre the edges are nearly so, and the pads' own spreading adds a little.
    const sheet = thermalBudget(exampleMount());
    const quick = thermalBudget(quickMount());
    const inside = (budget: typeof sheet) => budget.mainPath[0]!.drop;
    expect(inside(sheet) / inside(quick)).toBeGreaterThan(1);
    expect(inside(sheet) / inside(quick)).toBeLessThan(1.15);
    expect(sheet.twoNodeRise).toBeCloseTo(quick.chip.rise, 12);
  });

  it("balances its heat to 1e-9 of the load, with the field and the network at one", () => {
    for (const mount of [
      coarse(),
      { ...coarse(), clamps: [{ faces: "sapphire on silicon", force: 5 }] },
    ]) {
      const { solution, field, total } = thermalBudget(mount as Mount);
      const out = solution.flows.find(({ link }) => link === "joint to the stage")!.power;
      expect(Math.abs(out - total)).toBeLessThan(1e-9 * total);
      expect(field!.mismatch).toBeLessThan(1e-9);
    }
  });

  it("moves its hottest point by under half a percent of the rise when cells are halved", () => {
    const at = (cells: number) =>
      thermalBudget(withField(exampleMount(), "die.cells", cells)).chip.rise;
    expect(Math.abs(at(128) / at(64) - 1)).toBeLessThan(0.005);
  });

  it("is warmer under a spot than under the same heat spread evenly", () => {
    const loads = (map: object) => ({ loads: [{ kind: "given", power: "6 nW", map }] });
    const spot = { kind: "spot", x: "6 mm", y: "18 mm", radius: "1 mm" };
    const even = thermalBudget(coarse(loads({ kind: "uniform" })));
    const hot = thermalBudget(coarse(loads(spot)));
    expect(hot.chip.rise).toBeGreaterThan(even.chip.rise + 0.5e-3);
    expect(hot.field!.hottest.x).toBeCloseTo(6e-3, 3);
    expect(hot.field!.hottest.y).toBeCloseTo(18e-3, 3);
  });

  it("takes a map of pixels by proportion: alike pixels are an even load", () => {
    const load = (map?: object) =>
      coarse({ loads: [{ kind: "given", power: "6 nW", ...(map && { map }) }] });
    const rows = Array.from({ length: 8 }, () => new Array(8).fill(3));
    const pixels = thermalBudget(load({ kind: "pixels", rows })).chip.temperature;
    expect(pixels / thermalBudget(load()).chip.temperature).toBeCloseTo(1, 12);
    const half = [[0, 1]];
    expect(thermalBudget(load({ kind: "pixels", rows: half })).field!.hottest.x).toBeGreaterThan(
      13e-3,
    );
  });
});

describe("layouts", () => {
  it("pads stand within the die, apart, as many as the bonds", () => {
    const mount = readMount(exampleMount());
    const pads = padPlaces(mount);
    expect(pads).toHaveLength(80);
    for (const [i, a] of pads.entries()) {
      expect(a.left).toBeGreaterThanOrEqual(0);
      expect(a.right).toBeLessThanOrEqual(25e-3 * (1 + 1e-12));
      for (const b of pads.slice(i + 1)) {
        const apart =
          a.right <= b.left || b.right <= a.left || a.top <= b.bottom || b.top <= a.bottom;
        expect(apart).toBe(true);
      }
    }
  });

  it("a row at the pitch stands in the middle of its edge", () => {
    const mount = withField(
      withField(exampleMount(), "bonds.arrangement", "row"),
      "bonds.edges",
      1,
    );
    const pads = padPlaces(readMount(mount));
    const middles = pads.map(({ left, right }) => (left + right) / 2);
    expect(middles[1]! - middles[0]!).toBeCloseTo(0.3e-3, 12);
    expect((middles[0]! + middles.at(-1)!) / 2).toBeCloseTo(12.5e-3, 12);
    expect(bondRoom(readMount(mount))).toBe(81);
  });

  it("takes more cells where pads stand closer than 128 tell apart", () => {
    const wide = { ...exampleMount().die, width: "60 mm", length: "60 mm" } as const;
    const bonds = { ...exampleMount().bonds!, arrangement: "row" } as const;
    expect(thermalBudget({ ...exampleMount(), die: wide, bonds }).field!.grid.cellsX).toBe(256);
    expect(() => thermalBudget({ ...exampleMount(), die: { ...wide, cells: 32 }, bonds })).toThrow(
      /pads: expected a place that cells of 1875 by 1875 µm can tell from die at the pads 1/,
    );
  });

  it.each([
    [
      "ring",
      () => ({
        ...bare(),
        ledge: {},
        bonds: exampleMount().bonds!,
        ring: { ...film, width: "0.5 mm" },
      }),
    ],
    ["back", () => ({ ...bare(), back: { film, joint: { faces: plated, force: "20 N" } } })],
    [
      "frame",
      () => ({ ...bare(), back: { film, frame: "3 mm", joint: { faces: plated, force: "20 N" } } }),
    ],
    [
      "glue",
      () => ({ ...bare(), glue: { glue: "epoxy", area: "9 mm^2", thickness: "30 um", count: 5 } }),
    ],
    [
      "clamps",
      () => ({ ...bare(), clamps: [{ faces: "sapphire on silicon", force: "5 N", count: 4 }] }),
    ],
    [
      "a support on the die",
      () => ({
        ...coarse(),
        loads: [
          { kind: "given", power: "1 nW" },
          {
            kind: "conduction",
            material: "stainless-steel",
            length: "50 mm",
            diameter: "0.1 mm",
            from: "1 K",
          },
        ],
      }),
    ],
  ])("%s: the drops add up to the rise, and the heat comes out", (_, mount) => {
    const { mainPath, chip, total, elements } = thermalBudget(mount() as Mount);
    const sum = mainPath.reduce((drops, { drop }) => drops + drop, 0);
    expect(sum / chip.rise).toBeCloseTo(1, 9);
    expect(elements.find(({ name }) => name === "joint to the stage")!.power / total).toBeCloseTo(
      1,
      9,
    );
  });

  it.each([
    [
      { clamps: [{ faces: "sapphire on silicon", force: 5, places: [{ x: "26 mm", y: 0.01 }] }] },
      /^clamps\[0\]\.places\[0\]: expected a place on the die/,
    ],
    [
      {
        clamps: [
          {
            faces: "sapphire on silicon",
            force: 5,
            places: [
              { x: 0.01, y: 0.01 },
              { x: 0.0102, y: 0.01 },
            ],
          },
        ],
      },
      /^clamps\[0\]\.places\[1\]: expected a place apart from die at the clamps 1/,
    ],
    [
      {
        clamps: [
          { faces: "sapphire on silicon", force: 5, count: 3, places: [{ x: 0.01, y: 0.01 }] },
        ],
      },
      /clamps\[0\]\.count: expected as many as there are places, 1, got 3/,
    ],
    [
      { loads: [{ kind: "given", power: 1e-9, map: { kind: "pixels", rows: [[1, 2], [1]] } }] },
      /rows\[1\]: expected 2 pixels, as many as in row 0, got "1 pixels"/,
    ],
    [
      {
        loads: [
          { kind: "given", power: 1e-9, map: { kind: "spot", x: 0.03, y: 0.01, radius: 1e-3 } },
        ],
      },
      /x/,
    ],
    [{ pads: undefined }, /pads: expected pads or a ring for the bonds to stand on/],
    [{ ring: { ...film, width: "0.5 mm" } }, /ring: expected pads or a ring, not both/],
  ])("%j is refused", (changes, message) => {
    const mount = Object.fromEntries(
      Object.entries({ ...coarse(), ...changes }).filter(([, value]) => value !== undefined),
    );
    expect(() => thermalBudget(mount as unknown as Mount)).toThrow(message);
  });
});

describe("questions asked of a 2-D die", () => {
  it("sizing meets the limit at the hottest point, and one bond less does not", () => {
    const mount = exampleMount();
    const { count } = sizeBonds(mount);
    const rise = (n: number) => thermalBudget(withField(mount, "bonds.count", n)).chip.rise;
    expect(rise(count!)).toBeLessThanOrEqual(10e-3);
    expect(rise(count! - 1)).toBeGreaterThan(10e-3);
  });

  it("says so when the bonds that fit are not enough", () => {
    const sizing = sizeBonds(withField(exampleMount(), "bonds.pitch", "4 mm"));
    expect(sizing.enough).toBe(false);
    expect(sizing.reason).toMatch(/^The 28 bonds that fit do not meet the limit\./);
  });

  it("placement ranks the choices of edges by the bonds they need", () => {
    const placements = placeBonds(exampleMount(), { edges: [1, 2, 4] });
    const { all, best } = placements;
    const lines = placements.toMarkdown().split("\n");
    const head = "| bonds on | bonds needed | room | hottest point |";
    expect(lines).toContain(head);
    const first = lines[lines.indexOf(head) + 2]!;
    expect(first).toContain(`| ${best.words} | ${best.sizing.count} | ${best.sizing.room} | `);
    const inMarkdown = (row: string) => `| ${row.trim().split(/ {2,}/).join(" | ")} |`;
    const rows = placements.toText().split("\n").map(inMarkdown);
    expect(rows[rows.indexOf(head) + 1]).toBe(first);
    expect(all.map(({ words }) => words[0])).toEqual(["4", "2", "1"]);
    expect(best.sizing.count).toBeLessThanOrEqual(all[1]!.sizing.count!);
    expect(thermalBudget(best.mount).margin).toBeGreaterThanOrEqual(0);
    expect(() => placeBonds(exampleMount(), { edges: [] })).toThrow(
      "edges: expected at least one choice, got []",
    );
  });

  it("a sweep gives at each point what the budget gives", () => {
    const mount = exampleMount();
    const swept = sweep(
      mount,
      { field: "bonds.count", values: [30, 60] },
      { field: "die.thickness", values: ["0.3 mm", "0.5 mm"] },
    );
    const point = withField(withField(mount, "bonds.count", 60), "die.thickness", "0.3 mm");
    expect(swept.temperature(1, 0) / thermalBudget(point).chip.temperature).toBeCloseTo(1, 12);
  });

  it("a comparison ranks by the hottest point and names mounts it does not have", () => {
    const mounts = [
      { ...exampleMount(), name: "eighty" },
      { ...withField(exampleMount(), "bonds.count", 160), name: "more" },
    ];
    const comparison = compareMounts(mounts);
    expect(comparison.ranked.map(({ name }) => name)).toEqual(["more", "eighty"]);
    expect(comparison.toMarkdown()).toContain("| 1 | more | 160 |");
    expect(() => comparison.of("most")).toThrow(
      'comparison: expected the name of a mount: "eighty", "more", got "most"',
    );
    expect(() => compareMounts([mounts[0]!, mounts[0]!])).toThrow(
      "mounts: expected a name of its own for each",
    );
  });
});

describe("a ring", () => {
  const ringed = (count: number) => {
    const { pads, ...rest } = exampleMount();
    return {
      ...rest,
      bonds: { ...exampleMount().bonds!, count },
      ring: { ...film, width: "0.5 mm" },
    } as Mount;
  };

  it("can be sized, by both models of the die", () => {
    for (const model of ["sheet", "two nodes"] as const) {
      const mount = {
        ...ringed(20),
        die: { ...exampleMount().die, model },
        limit: { rise: "2 mK" },
      } as Mount;
      const { count, enough } = sizeBonds(mount);
      expect(enough).toBe(true);
      const rise = (n: number) => thermalBudget(withField(mount, "bonds.count", n)).chip.rise;
      expect(rise(count!)).toBeLessThanOrEqual(2e-3);
      if (count! > 1) expect(rise(count! - 1)).toBeGreaterThan(2e-3);
    }
  });

  it("is not warmed by more bonds than rounding of their places explains", () => {
    let before = Number.POSITIVE_INFINITY;
    for (let count = 20; count <= 60; count += 4) {
      const { rise } = thermalBudget(ringed(count)).chip;
      expect(rise).toBeLessThan(before * 1.002);
      before = rise;
    }
  });
});

describe("the mesh of a ring", () => {
  it("gives the two-node model's rise to a percent when bonds stand close, since little heat runs along it", () => {
    const { pads, ...rest } = exampleMount();
    const bonds = { ...exampleMount().bonds!, count: 120 };
    const budget = thermalBudget({ ...rest, bonds, ring: { ...film, width: "0.5 mm" } });
    expect(Math.abs(budget.chip.rise / budget.twoNodeRise! - 1)).toBeLessThan(0.01);
  });
});

describe("more bonds on a 2-D die", () => {
  it.each([1, 2, 4] as const)("never warm it under an even load, on %d edges", (edges) => {
    let before = Number.POSITIVE_INFINITY;
    for (let count = 4; count <= 60; count += 7) {
      const mount = withField(withField(coarse(), "bonds.edges", edges), "die.cells", 128);
      const { rise } = thermalBudget(withField(mount, "bonds.count", count)).chip;
      expect(rise).toBeLessThanOrEqual(before);
      before = rise;
    }
  });
});

describe("edges by name", () => {
  it("left and right are two edges turned", () => {
    const named = (edges: unknown) =>
      thermalBudget(withField(exampleMount(), "bonds.edges", edges));
    const [turned, plain] = [named(["left", "right"]), named(2)];
    expect(turned.chip.rise / plain.chip.rise).toBeCloseTo(1, 6);
    expect(turned.twoNodeRise! / plain.twoNodeRise!).toBeCloseTo(1, 9);
    // Two edges that meet are a quarter of a plate twice as wide and long that is cooled all round.
    const corner = named(["lower", "left"]);
    expect(corner.field!.hottest.x).toBeGreaterThan(20e-3);
    expect(Math.abs(corner.twoNodeRise! / corner.chip.rise - 1)).toBeLessThan(0.1);
    expect(() => named(["lower", "lower"])).toThrow(
      "bonds.edges: expected one edge or more, each once",
    );
  });
});

describe("what the budget says of a 2-D die", () => {
  it("lists the die's numbers with their sources", () => {
    const quantities = thermalBudget(exampleMount())
      .provenance.map(({ quantity }) => quantity)
      .join("\n");
    for (const wanted of ["die: thickness", "silicon: mean free path", "silicon: sound speed"]) {
      expect(quantities).toContain(wanted);
    }
  });

  it("prints no NaN nor Infinity when nothing heats", () => {
    const budget = thermalBudget({ ...exampleMount(), loads: [] });
    for (const print of [budget.toText(), budget.toMarkdown(), budget.toHtml(), budget.toCsv()]) {
      expect(print).not.toMatch(/NaN|Infinity/);
    }
    expect(budget.summary).toContain("The heat flow is negligible.");
  });

  it("a map of pixels keeps its heat however large or small its numbers are", () => {
    for (const weight of [1e60, 1, 1e-320]) {
      const map = {
        kind: "pixels",
        rows: [
          [weight, weight],
          [weight, 0],
        ],
      } as const;
      const mount = coarse({ loads: [{ kind: "given", power: "1 nW", map }] });
      const { total, elements } = thermalBudget(mount);
      expect(total).toBeCloseTo(1e-9, 20);
      const intoStage = elements.find(({ to }) => to === "stage")!.power;
      expect(intoStage / 1e-9).toBeCloseTo(1, 9);
    }
  });

  it("a map of pixels without any heat is refused", () => {
    const load = { kind: "given", power: "1 nW", map: { kind: "pixels", rows: [[0, 0]] } };
    expect(() => thermalBudget(coarse({ loads: [load] }))).toThrow(
      "loads[0].map.rows: expected some pixel with more than 0, got [[0,0]]",
    );
  });

  it("a material that lacks what is asked of it is told by the mount's field", () => {
    const asked = (field: string, value: string) => () =>
      thermalBudget(withField(exampleMount(), field, value));
    expect(asked("die.material", "copper")).toThrow(/^die\.material: expected a material with /);
    expect(asked("pads.material", "silicon")).toThrow(/^pads\.material: expected a material with /);
  });
});
