/** A wire whose far end is colder than the chip takes heat away, and is no load. */
import { describe, expect, it } from "vitest";
import { thermalBudget } from "../../src/index.js";
import { quickMount } from "./example.js";

const cold = {
  kind: "conduction",
  name: "strap",
  material: "copper",
  residualResistivityRatio: 50,
  length: "100 mm",
  diameter: "20 um",
  from: "50 mK",
} as const;
const heater = { kind: "given", name: "heater", power: "7 nW" } as const;
const budget = thermalBudget({ ...quickMount(), loads: [heater, cold] });

describe("a wire colder than the chip", () => {
  it("stands among the elements, with the heat that it takes", () => {
    expect(budget.sources.map(({ name }) => name)).toEqual(["heater"]);
    const strap = budget.elements.find(({ name }) => name === "strap")!;
    expect(strap.power).toBeGreaterThan(0);
    const end = budget.places.find(({ name }) => name === strap.from)!;
    expect(strap.drop).toBeCloseTo(end.temperature - 0.05, 9);
    expect(strap).toMatchObject({ main: false, to: "far end of strap" });
    expect(budget.toText()).not.toMatch(/-[\d.]+ [pnµ]W|−[\d.]+ [pnµ]W/);
  });

  it("leaves shares that sum to 100 %, and heat that balances with the stage", () => {
    expect(budget.total).toBeCloseTo(7e-9, 20);
    expect(budget.sources.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    const stage = budget.places.at(-1)!.name;
    const out = budget.elements.filter(({ to, name }) => to === stage || name === "strap");
    expect(out.reduce((sum, { power }) => sum + power, 0) / 7e-9).toBeCloseTo(1, 6);
  });
});
