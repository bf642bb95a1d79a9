import { describe, expect, it } from "vitest";
import { Cheapest, formatCost, type TradeOff } from "../../../src/design/sizing/cheapest-result.js";

const gold = { name: "gold in bonds and pads", unit: "m^3", of: () => 1 };
const field = (name: string, value: number, from: number, to: number, unit = "m") => ({
  name,
  unit,
  value,
  from,
  to,
  whole: unit === "",
});
const off = (limit: number, cost: number, meets = true): TradeOff => ({
  limit,
  rise: limit,
  cost,
  values: [20, 2e-7],
  meets,
});

function cheapest(more: object = {}, asked: string[] = []) {
  return new Cheapest({
    name: "by hand",
    probability: 0.95,
    least: gold,
    cost: 2e-12,
    meets: true,
    fields: [field("bonds.count", 30, 10, 80, ""), field("pads.thickness", 3e-7, 1e-7, 1e-6)],
    mount: {} as never,
    confidence: {
      chance: { value: 0.953, error: 1e-3 },
      warnings: ["glue: told"],
      provenance: [],
      convergence: "4096 samples.",
      expensive: 80,
    } as never,
    allowed: 10e-3,
    solves: 900,
    tradeOff() {
      asked.push("trade-off");
      return [off(4e-3, 9e-12, false), off(5e-3, 6e-12), off(20e-3, 1e-12)];
    },
    ...more,
  } as never);
}

describe("the cheapest choice", () => {
  it("is told by its fields, with the chance that was reached beside the one that was wanted", () => {
    expect(cheapest().summary).toBe(
      "bonds.count 30, pads.thickness 300 nm: 0.00200 mm³ of gold in bonds and pads meets the limit with " +
        "95.3 % confidence (95 % were wanted). 1 warning.",
    );
    const none = cheapest({ meets: false });
    expect(none.summary).toMatch(
      /^No choice is enough: .* with 95\.3 % confidence, less than 95 %\./,
    );
  });

  it("says where a field is at an end of what was allowed", () => {
    const at = (value: number) =>
      cheapest({ fields: [field("pads.thickness", value, 1e-7, 1e-6)] }).summary;
    expect(at(1e-7)).toContain("pads.thickness 100 nm (the least allowed):");
    expect(at(1e-6)).toContain("pads.thickness 1.00 µm (the most allowed):");
    expect(at(2e-7)).not.toContain("allowed)");
  });

  it("solves for other limits when they are read, once, and shows those that are met", () => {
    const asked: string[] = [];
    const found = cheapest({}, asked);
    expect(asked).toEqual([]);
    const text = found.toText();
    expect(found.tradeOff).toHaveLength(3);
    expect(asked).toEqual(["trade-off"]);
    expect(text).toMatch(/5\.00 mK +0\.00600 mm³ +20 +200 nm/);
    expect(text).not.toContain("4.00 mK");
    expect(found.warnings).toEqual(["glue: told"]);
  });

  it("costs in mm³ of gold, in newtons or in bonds", () => {
    expect(formatCost(1.5e-9, gold)).toBe("1.50 mm³");
    expect(formatCost(12, { unit: "N" })).toBe("12.0 N");
    expect(formatCost(12, { unit: "" })).toBe("12");
  });
});
