/** The cheapest choice of several fields, against every choice of a grid, and the step of its search. */
import { describe, expect, it } from "vitest";
import { solveHere } from "../../../src/design/confidence/samples.js";
import { cheapest } from "../../../src/design/sizing/cheapest.js";
import { convexStep } from "../../../src/design/sizing/convex-step.js";
import { confidence, type Mount, type PlainMount, readMount, spread } from "../../../src/index.js";
import { tradeOffFigure } from "../../../src/plots/index.js";
import { exampleMount } from "../../mount/example.js";
import { slowly } from "../../slowly.js";

const example = exampleMount();
/** The example with a few unknowns, its die of two nodes (invented spreads). */
const mount: Mount = {
  ...example,
  die: { ...example.die, model: "two nodes" },
  pads: {
    ...example.pads!,
    coupling: { coefficient: spread(1.2e9, 4.8e9), exponent: 5 },
    boundary: { resistance: spread(6.3e-4, 2.52e-3) },
  },
  bonds: { ...example.bonds!, residualResistivityRatio: spread(15, 60) },
  limit: { rise: "10 mK" },
};
const options = { rows: "none", runner: solveHere } as const;
const choices = [
  { field: "bonds.count", from: 20, to: 240 },
  { field: "pads.thickness", from: "100 nm", to: "1 um" },
] as const;

/** Of a bond 1, and as much for pads of 0.4 µm (invented). */
const price = {
  name: "price",
  unit: "",
  of: ({ bonds, pads }: PlainMount) => bonds!.count * (1 + pads!.thickness / 4e-7),
};

describe("cheapest(mount, choices, { least })", () => {
  slowly(
    "finds what is best of every choice of a grid, with a fraction of its solves",
    async () => {
      const found = await cheapest(mount, choices, { least: price, ...options });
      expect(found.meets).toBe(true);
      expect(found.confidence.chance!.value).toBeGreaterThanOrEqual(0.95);
      const [count, thickness] = found.fields.map(({ value }) => value) as [number, number];
      expect(thickness).toBeLessThan(0.95e-6);
      expect(found.cost).toBeCloseTo(count * (1 + thickness / 4e-7), 9);
      // Every eighth number of bonds, with pads for which it costs a thirtieth less: none is enough.
      let tried = 0;
      for (let n = 20; n <= 240; n += 8) {
        const t = ((0.97 * found.cost) / n - 1) * 4e-7;
        if (!(t >= 1e-7 && t <= 1e-6)) continue;
        tried++;
        const pads = { ...mount.pads!, thickness: t };
        const at = { ...mount, bonds: { ...mount.bonds!, count: n }, pads };
        const { chance } = await confidence(at, { ...options, samples: 2048 });
        expect(chance!.value, `${n} bonds`).toBeLessThan(0.95);
      }
      expect(tried).toBeGreaterThan(5);
      // As many solves as three such lines of a grid take, and less.
      expect(found.solves).toBeLessThan(3 * tried * 2048);
      // And fewer bonds, with the thickest pads, cost less but do not do either.
      const front = found.tradeOff.filter(({ meets }) => meets);
      expect(front.length).toBeGreaterThan(4);
      front.slice(1).forEach(({ cost, rise, limit }, i) => {
        expect(cost).toBeLessThan(front[i]!.cost);
        expect(rise).toBeGreaterThan(front[i]!.rise);
        expect(rise).toBeLessThanOrEqual(limit * 1.003);
      });
      const here = front.find(({ limit }) => Math.abs(limit / found.allowed - 1) < 1e-9)!;
      expect(here.cost / found.cost).toBeCloseTo(1, 2);
      const figure = tradeOffFigure(found);
      const [line, chosen] = figure.data as unknown as readonly { x: number[]; y: number[] }[];
      expect(line!.x).toHaveLength(front.length);
      expect(line!.y[0]! / front[0]!.cost).toBeCloseTo(1, 3);
      expect([chosen!.x[0]! / 1e3 / found.allowed, chosen!.y[0]! / found.cost]).toEqual(
        [1, 1].map((one) => expect.closeTo(one, 3)),
      );
      expect(figure.alt).toContain("Least price against the rise");
    },
    180_000,
  );

  slowly(
    "ends at the same choice wherever it begins",
    async () => {
      const costs = await Promise.all(
        (
          [
            [20, 1e-7],
            [240, 1e-6],
          ] as const
        ).map(async ([count, thickness]) => {
          const bonds = { ...mount.bonds!, count };
          const begun = { ...mount, bonds, pads: { ...mount.pads!, thickness } };
          return (await cheapest(begun, choices, { least: "gold", ...options })).cost;
        }),
      );
      expect(costs[0]! / costs[1]!).toBeCloseTo(1, 2);
    },
    180_000,
  );

  slowly(
    "counts bonds and force, and a cost of one's own",
    async () => {
      const gold = await cheapest(mount, choices, { least: "gold", ...options });
      const [count, thickness] = gold.fields.map(({ value }) => value) as [number, number];
      // Round wires of 25 µm and 1.5 mm, a pad of 150 by 300 µm each.
      const each = (Math.PI / 4) * 25e-6 ** 2 * 1.5e-3 + 150e-6 * 300e-6 * thickness;
      expect(gold.cost / (count * each)).toBeCloseTo(1, 9);
      const bonds = await cheapest(mount, choices, { least: "bonds", ...options });
      // Gold is free: pads are as thick as they may be.
      expect(bonds.fields[1]!.value).toBeCloseTo(1e-6, 9);
      expect(bonds.cost).toBe(bonds.fields[0]!.value);
      const fewer = { ...mount, pads: { ...mount.pads!, thickness: 1e-6 } };
      const one = await confidence(
        { ...fewer, bonds: { ...mount.bonds!, count: bonds.cost - 1 } },
        options,
      );
      expect(one.chance!.value).toBeLessThan(0.95);
      const priced = await cheapest(mount, choices, { least: price, ...options });
      expect(priced.cost).toBeLessThan(price.of(readMount(bonds.mount)));
      const clamped: Mount = {
        ...mount,
        clamps: [{ name: "clamps", faces: "sapphire on silicon", force: "3 N", count: 4 }],
        limit: { rise: "14 mK" },
      };
      const forced = await cheapest(
        clamped,
        [{ field: "clamps.0.force", from: "1 N", to: "60 N" }],
        {
          least: "force",
          ...options,
        },
      );
      expect(forced.cost).toBeCloseTo(4 * forced.fields[0]!.value, 9);
      expect(forced.summary).toContain("of force of all clamps meets the limit");
    },
    180_000,
  );

  it("says so where no choice is enough", async () => {
    const none = await cheapest({ ...mount, limit: { rise: "1 mK" } }, choices, {
      least: "gold",
      ...options,
    });
    expect(none.meets).toBe(false);
    expect(none.fields.map(({ value }) => value)).toEqual([240, expect.closeTo(1e-6, 10)]);
    expect(none.summary).toMatch(
      /^No choice is enough: bonds\.count 240 \(the most allowed\), pads\.thickness 1\.00 µm \(the most allowed\) meet the limit with .* less than 95 %\.$/,
    );
  }, 180_000);

  it.each([
    [[], {}, "choices: expected a field to choose or more, got []"],
    [["pads.thickness"], {}, "choices[0]: expected { field, from, to }, such as "],
    [[choices[0], choices[0]], {}, 'choices: expected each field once, got "bonds.count"'],
    [
      [{ field: "pads.coupling.coefficient", from: 1e9, to: 2e9 }],
      {},
      "choices[0].field: expected a field that has no spread",
    ],
    [[{ ...choices[0], to: 10 }], {}, "choices[0].to: expected more than 20, got 10"],
    [
      [{ field: "bonds.footResistance", from: 0, to: "1 mohm" }],
      {},
      "choices[0].from: expected a value above 0, got 0",
    ],
    [
      [{ ...choices[0], to: 2000 }],
      {},
      "choices[0].to: expected at most 324 bonds, which fit, got 2000",
    ],
    [choices, { probability: 0.2 }, "probability: expected a number from 0.5 to below 1, got 0.2"],
    [choices, { least: "silver" }, 'least: expected "bonds", "gold", "force" or a cost with name'],
    [choices, { least: "force" }, "clamps: expected clamps, which are to cost least"],
  ])("refuses what is wrong (%#)", async (some, more, message) => {
    await expect(
      cheapest(mount, some as never, { least: "gold", ...options, ...(more as object) }),
    ).rejects.toThrow(message);
    const { limit: _, ...without } = mount;
    await expect(cheapest(without, choices, { least: "gold", ...options })).rejects.toThrow(
      "limit: expected a limit to meet",
    );
  });
});

describe("convexStep", () => {
  it("gives the closed form of a sum of prices over a sum of inverses", () => {
    // Least a u + b v with c/u + d/v = 1: u = √c (√(ac) + √(bd))/√a (Lagrange, by hand).
    const [a, b, c, d] = [2, 5, 0.3, 0.7];
    const [u, v] = convexStep({
      costs: [a / (a + b), b / (a + b)],
      ratio: 1,
      slopes: [-c, -d],
      target: 1,
      bounds: [
        [1e-3, 1e3],
        [1e-3, 1e3],
      ],
    });
    const sum = Math.sqrt(a * c) + Math.sqrt(b * d);
    expect(u).toBeCloseTo((Math.sqrt(c) * sum) / Math.sqrt(a), 6);
    expect(v).toBeCloseTo((Math.sqrt(d) * sum) / Math.sqrt(b), 6);
  });

  it("keeps to its bounds, and comes as near as they let it", () => {
    const bounds = [
      [0.5, 1.2],
      [0.5, 2],
    ] as const;
    const problem = { costs: [1, 1], ratio: 3, slopes: [-0.5, -0.5], bounds };
    expect(convexStep({ ...problem, target: 1 })).toEqual([1.2, 2]);
    expect(convexStep({ ...problem, target: 9 })).toEqual([0.5, 0.5]);
  });
});
