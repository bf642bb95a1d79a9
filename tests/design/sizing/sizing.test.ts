import { describe, expect, it } from "vitest";
import { type Alternative, Sizing } from "../../../src/design/sizing/sizing.js";
import type { Budget } from "../../../src/mount/budget-result.js";

const budget = {
  name: "by hand",
  chip: { rise: 4e-3 },
  stage: 0.1,
  limit: 0.105,
  largestDrop: { name: "coupling" },
  inWords: {
    largestDrop: "3.00 mK",
    rise: (difference: number) => `${(1e3 * difference).toFixed(2)} mK`,
    mark: "",
  },
  warnings: ["bonds: of the budget"],
  provenance: [],
} as unknown as Budget;

function sizing(
  count: number | undefined,
  { floor = 1e-3, alternatives = [] as Alternative[], room = 40, asked = [] as string[] } = {},
) {
  return new Sizing(
    { count, room, budget, alternatives },
    {
      floor() {
        asked.push("floor");
        return floor;
      },
      knee() {
        asked.push("knee");
        return 12;
      },
      told: () => ["glue: of the search"],
    },
  );
}

describe("a number of bonds", () => {
  const most = "most falls over coupling, 3.00 mK of 4.00 mK.";

  it("is told with what fits, or with why none is enough", () => {
    expect(sizing(15).answer).toBe(`15 bonds meet the limit, of 40 that fit; ${most}`);
    expect(sizing(1).answer).toBe(`1 bond meets the limit, of 40 that fit; ${most}`);
    expect(sizing(41).answer).toBe(
      `41 bonds would meet the limit, but the edges have space for 40. With those, ${most}`,
    );
    // The floor is below the limit of 5 mK, so that more bonds would be enough; or above it.
    expect(sizing(undefined).answer).toBe(
      `The 40 bonds that fit do not meet the limit. With those, ${most}`,
    );
    expect(sizing(undefined, { floor: 6e-3 }).answer).toBe(
      "No number of bonds meets the limit: with infinitely many bonds the chip is still 6.00 mK above the " +
        `stage. With the 40 that fit, ${most}`,
    );
  });

  it("is enough where it meets the limit and fits", () => {
    expect([sizing(40), sizing(41), sizing(undefined)].map(({ enough }) => enough)).toEqual([
      true,
      false,
      false,
    ]);
  });

  it("solves for floor and knee when they are read, once, and tells all warnings", () => {
    const asked: string[] = [];
    const found = sizing(15, { asked });
    expect(found.answer).toContain("15 bonds");
    expect(asked).toEqual([]);
    expect([found.floor, found.floor, found.knee]).toEqual([1e-3, 1e-3, 12]);
    expect(asked).toEqual(["floor", "knee"]);
    expect(found.warnings).toEqual(["bonds: of the budget", "glue: of the search"]);
    expect(found.reason).toMatch(/2 warnings\.$/);
  });

  it("stands beside what one change would do, also where that is impossible", () => {
    const change = (name: string, more: object): Alternative => ({
      change: name,
      count: 10,
      room: 40,
      ...more,
    });
    const { toText } = { toText: () => text.toText() };
    const text = sizing(15, {
      alternatives: [
        change("thicker", {}),
        change("wider", { room: 8 }),
        change("thinner", { count: undefined }),
        change("larger", { room: 0 }),
        change("colder", { outside: "extrapolated" }),
        change("warmer", { outside: "refused" }),
      ],
    });
    const of = (name: string) => new RegExp(`${name} +(.*)`).exec(toText())![1];
    expect(["thicker", "wider", "thinner", "larger", "colder", "warmer"].map(of)).toEqual([
      "10",
      "10, of at most 8",
      "no number is enough",
      "does not fit",
      "10, extrapolated",
      "a law is refused there",
    ]);
    expect(text.toCsv()).toContain('"infinitely many"');
  });
});
