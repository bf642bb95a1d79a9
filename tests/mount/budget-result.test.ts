/** A budget of invented numbers, so that all it derives and prints can be worked by hand. */
import { describe, expect, it } from "vitest";
import { Budget, type BudgetElement } from "../../src/mount/budget-result.js";

const stage = 0.1;
const element = (name: string, drop: number, more: Partial<BudgetElement> = {}): BudgetElement => ({
  name,
  from: "die",
  to: "stage",
  power: 4e-9,
  share: 0.8,
  drop,
  conductance: 4e-9 / drop,
  count: 1,
  main: true,
  extrapolated: false,
  ...more,
});
const source = (name: string, power: number, extrapolated = false) => ({
  name,
  on: "die",
  power,
  share: power / 5e-9,
  extrapolated,
});

/** A chip 4 mK above a stage at 100 mK: 1 mK over one element, 3 mK over the next. */
function budget(more: object = {}, otherPhononsRise?: () => number | "not solved" | undefined) {
  const content = {
    name: "by hand",
    places: [
      { name: "die", temperature: 0.104, rise: 4e-3 },
      { name: "stage", temperature: stage, rise: 0 },
    ],
    chip: { name: "die", temperature: 0.104, rise: 4e-3 },
    stage,
    limit: 0.105,
    sources: [source("light", 3e-9), source("wires", 2e-9)],
    elements: [
      element("film", 1e-3),
      element("joint", 3e-3),
      element("strap", 3.9e-3, { main: false, power: 1e-9, share: 0.2 }),
    ],
    solution: { steps: 7, imbalance: { node: "die", power: 0, relative: 0 } } as never,
    field: undefined,
    contacts: [],
    dies: [],
    twoNodeRise: undefined,
    dieModels: undefined,
    cooling: undefined,
    detectors: [],
    wires: [],
    ...more,
  };
  return new Budget(content, otherPhononsRise);
}

describe("a budget", () => {
  it("sums its loads, and takes the largest drop of the main path, not of one beside it", () => {
    const { total, margin, mainPath, largestDrop, summary } = budget();
    expect(total).toBeCloseTo(5e-9, 20);
    expect(margin).toBeCloseTo(1e-3, 12);
    expect(mainPath.map(({ name }) => name)).toEqual(["film", "joint"]);
    expect(largestDrop.name).toBe("joint");
    expect(summary).toBe(
      "The chip reaches 104.0 mK at its hottest point (die), 4.00 mK above the stage at 100.0 mK. " +
        "The limit is 105.0 mK: 1.00 mK of margin. Most of the rise, 3.00 mK or 75 %, falls over joint.",
    );
    expect(budget({ limit: 0.103 }).summary).toContain("too warm by 1.00 mK");
    expect(budget({ limit: undefined }).margin).toBeUndefined();
  });

  it("calls half of the rise its largest part, and names none of a rise of rounding", () => {
    const halves = { elements: [element("film", 2e-3), element("joint", 2e-3)] };
    expect(budget(halves).summary).toContain("The largest part of the rise, 2.00 mK or 50 %");
    const none = { chip: { name: "die", temperature: stage, rise: 0.9e-10 } };
    expect(budget(none).summary).toMatch(/The heat flow is negligible\.$/);
  });

  it("rests on an extrapolated law where that brings over a hundredth of rise or heat", () => {
    // 1 % of the rise of 4 mK is 40 µK, of the heat of 5 nW 50 pW.
    const off = (drop: number, main = true) =>
      budget({
        elements: [element("film", drop, { extrapolated: true, main }), element("joint", 3e-3)],
      });
    expect([off(39e-6), off(41e-6), off(1e-3, false)].map((each) => each.extrapolated)).toEqual([
      false,
      true,
      false,
    ]);
    const load = (power: number) => budget({ sources: [source("light", power, true)] });
    expect([load(49e-12), load(51e-12)].map((each) => each.extrapolated)).toEqual([false, true]);
    expect(off(1e-3).summary).toContain("1.0 mK of margin, extrapolated");
    expect(off(1e-3).toText()).toContain("film, extrapolated");
  });

  it("solves with the other phonons only when that is read, once", () => {
    let solves = 0;
    const lazy = budget({}, () => {
      solves++;
      return 6e-3;
    });
    expect(solves).toBe(0);
    expect(lazy.toText()).toContain("the chip would be 6.00 mK above the stage; both are bounds");
    expect(lazy.toCsv()).toContain('"rise with the other phonons",0.006,"K"');
    expect(solves).toBe(1);
    expect(budget({}, () => "not solved").toText()).toContain("was not solved");
    expect(budget().toText()).not.toContain("waves of its phonons");
  });

  it("prints how long a stage holds, a shift in parts of a million, and density in 1/µm³", () => {
    const cooling = (holdTime: number) => ({ name: "salt", power: 5e-9, largest: 1e-6, holdTime });
    const detectors = [
      { name: "tones", internalQuality: 2e5, frequencyShift: -3e-6, quasiparticleDensity: 2e19 },
    ];
    const text = budget({ cooling: cooling(7200), detectors }).toText();
    expect(text).toMatch(/holds for +2\.00 h/);
    expect(text).toMatch(/tones +2e5 +-3\.0 ppm +20\.0 \/µm³/);
    expect(budget({ cooling: cooling(Number.POSITIVE_INFINITY) }).toText()).toMatch(
      /holds for +as long as there is no load/,
    );
  });

  it("writes an element as on the main path or beside it", () => {
    const rows = budget().toCsv().split("\r\n");
    const of = (name: string) => rows.filter((row) => row.includes(`"${name}","die","stage"`));
    expect(of("joint").every((row) => row.startsWith('"main path"'))).toBe(true);
    expect(of("strap").every((row) => row.startsWith('"beside"'))).toBe(true);
    expect([of("joint").length, of("strap").length]).toEqual([4, 4]);
    expect(budget().toText()).toContain("strap (parallel path)");
  });
});
