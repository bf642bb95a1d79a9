/** Every class of results that the library exports has every form of print, with the numbers behind it. */
import { describe, expect, it } from "vitest";
import { solveHere } from "../src/design/index.js";
import * as coldpath from "../src/index.js";
import { Result } from "../src/units/result.js";
import { quickMount } from "./mount/example.js";

const mount = quickMount();
const coupling = { "pads.coupling.coefficient": "10 %" } as const;
const guess: coldpath.Mount = {
  ...mount,
  pads: {
    ...mount.pads!,
    coupling: { coefficient: coldpath.spread(1.2e9, 4.8e9), exponent: 5 },
  },
};
const readings = coldpath.readThermometry(
  "heater power [nW],die [mK],stage [mK]\n10,120,100\n30,140,100\n100,175,100\n300,225,100\n",
);
const few = { rows: "none", samples: 16 } as const;

/** One of each class, by name. */
const made: Readonly<Record<string, () => Result | Promise<Result>>> = {
  Budget: () => coldpath.thermalBudget(mount),
  TimeCourse: () => coldpath.timeCourse(mount, { duration: "1 ms" }),
  Sizing: () => coldpath.sizeBonds(mount),
  Placements: () => coldpath.placeBonds(mount, { edges: [2, 4] }),
  Comparison: () => coldpath.compareMounts([mount, { ...mount, name: "other" }]),
  Sweep: () => coldpath.sweep(mount, { field: "bonds.count", values: [40, 80] }),
  Influence: () =>
    coldpath.influence(mount, [{ x: "1 mm", y: "1 mm", size: "0.5 mm" }, "box by the die"]),
  Pulse: () => coldpath.heatPulse(mount, { energy: "150 keV" }),
  HitSimulation: () =>
    coldpath.simulateHits({ ...mount, loads: [{ kind: "muons" }] }, { duration: "1 min" }),
  Sensitivity: () => coldpath.sensitivity(guess, { rows: "none" }),
  VarianceIndices: () => coldpath.varianceIndices(guess, few),
  Measurements: () => coldpath.measurementValues(guess, coupling, few),
  Confidence: () => coldpath.confidence(guess, { ...few, runner: solveHere }),
  MountFit: () =>
    coldpath.calibrate(guess, readings, {
      inputs: ["pads.coupling.coefficient"],
      thermometers: { die: "chip" },
    }),
  ConductorFit: () => coldpath.fitConductor(readings, { from: "die", to: "stage" }),
  Recommendation: () => coldpath.recommend(guess, { ...few, runner: solveHere }),
  ConfidentSizing: () => coldpath.sizeWithConfidence(guess, { ...few, runner: solveHere }),
};

/** Results of measurements alone, which take no numbers from the catalogue. */
const measuredOnly = ["ConductorFit"];
/** Classes that print but are no results of this kind. */
const others = ["Panel"];

const forms = ["toText", "toMarkdown", "toHtml", "toCsv", "numbers"] as const;
const classes = Object.entries(coldpath).flatMap(([name, value]) => {
  const methods: unknown = typeof value === "function" ? value.prototype : undefined;
  if (typeof methods !== "object" || methods === null || methods === Result.prototype) return [];
  return forms.some((form) => form in methods) ? [{ name, methods }] : [];
});

describe("the classes of results", () => {
  it("are those that are tried here, each of them a Result", () => {
    const results = classes.filter(({ name }) => !others.includes(name));
    expect(results.map(({ name }) => name).sort()).toEqual(Object.keys(made).sort());
    for (const { name, methods } of results) {
      expect(methods, name).toBeInstanceOf(Result);
      // The forms are made in one place; a class describes its content and prints nothing itself.
      for (const form of forms) expect(Object.hasOwn(methods, form), `${name} ${form}`).toBe(false);
    }
    for (const name of others) {
      const other = classes.find((each) => each.name === name);
      expect(other?.methods instanceof Result, `${name} is a result now: try it above`).toBe(false);
    }
  });

  it.each(Object.keys(made))("%s prints in every form, with warnings and sources", async (name) => {
    const result = await made[name]!();
    expect(result.constructor.name).toBe(name);
    expect(result.name).not.toBe("");
    expect(result.summary).toMatch(/[.:]/);
    expect(result.warnings.every((text) => typeof text === "string")).toBe(true);
    const [text, markdown, html] = [result.toText(), result.toMarkdown(), result.toHtml()];
    for (const print of [text, markdown, html]) {
      expect(print).toContain(result.name);
      expect(print).not.toMatch(/\b(NaN|undefined|Infinity)\b|\[object /);
    }
    expect(text).toContain(result.summary);
    expect(markdown).toMatch(/^\| .* \|$/m);
    expect(html).toMatch(/^<section class="result">[\s\S]*<\/table>[\s\S]*<\/section>$/);
    const [head, ...rows] = result.toCsv().trim().split("\r\n");
    expect(head).toBe(
      '"section","name","from","to","quantity","value","unit","uncertainty","source","note"',
    );
    expect(rows.filter((row) => row.includes(',"computed",')).length).toBeGreaterThan(1);
    expect(rows.filter((row) => row.startsWith('"number used",')).length).toBe(
      result.provenance.length,
    );
    const quantities = result.provenance.map(({ quantity }) => quantity);
    const sources = measuredOnly.includes(name) ? [] : ["gold: sound speed longitudinal"];
    expect(quantities).toEqual(sources.length > 0 ? expect.arrayContaining(sources) : []);
    expect(new Set(result.provenance.map((row) => JSON.stringify(row))).size).toBe(
      quantities.length,
    );
    for (const form of ["toText", "toMarkdown", "toHtml", "toCsv"] as const) {
      for (const source of sources) {
        // Prints have a column for what a number is of.
        for (const part of form === "toCsv" ? [source] : source.split(": "))
          expect(result.numbers()[form]()).toContain(part);
      }
    }
  });
});
