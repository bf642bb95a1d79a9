import { describe, expect, it } from "vitest";
import { standardCatalogue } from "../../src/materials/standard.js";
import { thermalBudget } from "../../src/mount/budget.js";
import { conductorOf, smallest } from "../mount/things/smallest.js";

const head =
  "property,form,valid_from,valid_to,parameter,value,unit,uncertainty,sample,source,where,note";
const sources =
  "key,authors,title,journal,year,doi,note\nbench2026,own,Own joint,log book,2026,,invented";
const rows = (changes: Readonly<Record<string, string | undefined>> = {}) => {
  const all: Readonly<Record<string, string | undefined>> = {
    conductance: "20,mW/K",
    reference_force: "500,N",
    force_from: "100,N",
    force_to: "1,kN",
    force_exponent: "0.9,",
    temperature_exponent: "1.2,",
    ...changes,
  };
  return Object.entries(all)
    .filter(([, value]) => value !== undefined)
    .map(
      ([name, value]) =>
        `brass on brass,pressed,0.05,2,${name},${value},,,bench2026,page 7,invented`,
    );
};
const own = (lines: readonly string[]) =>
  standardCatalogue().withLaws("joints", "pressed", [head, ...lines].join("\n"), sources);

describe("pressed faces of one's own, from a CSV text in the catalogue's form", () => {
  const joint = { faces: "brass on brass", force: "1 kN", count: 2 } as const;

  it("serve beside the catalogue's, with their source", () => {
    const catalogue = own(rows());
    const budget = thermalBudget(smallest({ joint }), { catalogue });
    const found = budget.provenance.find(({ quantity }) =>
      quantity.includes("brass on brass, conductance"),
    );
    expect(found).toMatchObject({ value: 0.02, unit: "W/K" });
    expect(found!.source).toContain("Own joint");
    const bolted = budget.elements.find(({ name }) => name === "joint to the stage")!;
    // G = 2 × 20 mW/K × 2^0.9 (T/1 K)^1.2.
    const T = (bolted.power / bolted.conductance + 2 * budget.stage) / 2;
    expect(bolted.conductance / (0.04 * 2 ** 0.9 * T ** 1.2)).toBeCloseTo(1, 3);
    expect(() => conductorOf(smallest({ joint }), "joint to the stage")).toThrow(
      'joint.faces: pair of faces "brass on brass" is not known',
    );
    expect(catalogue.laws("joints", "pressed").length).toBeGreaterThan(6);
  });

  it("tell where they leave their range of temperature", () => {
    const warm = smallest({ joint, stage: "3 K" });
    const { warnings } = thermalBudget(warm, { catalogue: own(rows()) });
    expect(warnings.join()).toMatch(/joint to the stage: 3.*K is outside 50.0 mK to 2.00 K/);
  });

  it("are refused by file and line where they are wrong", () => {
    const missing = rows({ force_exponent: undefined });
    expect(() => own(missing)).toThrow(
      "pressed.csv:2 parameter: expected a row force_exponent for pressed",
    );
    expect(() => own(rows({ conductance: "20,W" }))).toThrow(
      "pressed.csv:2 unit: expected a unit such as W/K",
    );
    expect(() => own(rows().map((row) => row.replace(",pressed,", ",bolted,")))).toThrow(
      'pressed.csv:2 form: expected one of pressed, got "bolted"',
    );
    expect(() => own(rows().map((row) => row.replace("0.05,2", ",")))).toThrow(
      "pressed.csv:2 valid_to",
    );
    expect(() => own(rows().map((row) => row.replace("bench2026", "bench")))).toThrow(
      "pressed.csv:2 source",
    );
  });
});
