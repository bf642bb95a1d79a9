import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { scaled } from "../../src/conductor.js";
import {
  type Budget,
  type Mount,
  readMount,
  standardCatalogue,
  thermalBudget,
} from "../../src/index.js";
import { MountModel } from "../../src/mount/model.js";
import { solveSteady } from "../../src/network/steady.js";
import { cases, slowly } from "../slowly.js";
import { randomMount, randomSheet } from "./random-mount.js";

const runs = { numRuns: cases(300), seed: 20261125 };

/** Chip temperature of a mount [K]. */
const chip = (mount: Mount) => thermalBudget(mount).chip.temperature;
const withBonds = (mount: Mount, changes: object): Mount =>
  ({ ...mount, bonds: { ...mount.bonds, ...changes } }) as Mount;

describe("any mount", () => {
  it("balances its heat at every place to 1e-10 of what crosses there", () => {
    fc.assert(
      fc.property(randomMount, (mount) => {
        const { network } = new MountModel(readMount(mount), standardCatalogue()).describe();
        const { flows } = solveSteady(network);
        const total = Math.max(...flows.map(({ power }) => Math.abs(power)));
        for (const { name, load = 0, temperature } of network.nodes) {
          if (temperature !== undefined) continue;
          const out = flows.filter((f) => f.from === name).map((f) => f.power);
          const into = flows.filter((f) => f.to === name).map((f) => f.power);
          const terms = [...out, ...into.map((power) => -power), -(load as number)];
          // A place that no heat crosses has nothing to compare with but the whole load.
          const size = terms.reduce((sum, x) => sum + Math.abs(x), 1e-8 * total);
          const left = Math.abs(terms.reduce((sum, x) => sum + x, 0));
          expect(left).toBeLessThanOrEqual(1e-10 * size);
        }
      }),
      runs,
    );
  });

  it("is never warmer than its stage allows nor colder than the stage", () => {
    fc.assert(
      fc.property(randomMount, (mount) => {
        const { places, stage } = thermalBudget(mount);
        for (const { temperature } of places) expect(temperature).toBeGreaterThanOrEqual(stage);
      }),
      runs,
    );
  });

  it("does not warm its chip by more bonds", () => {
    fc.assert(
      fc.property(randomMount, fc.integer({ min: 1, max: 500 }), (mount, more) => {
        const { count } = mount.bonds!;
        expect(chip(withBonds(mount, { count: count + more }))).toBeLessThanOrEqual(
          chip(mount) * (1 + 1e-12),
        );
      }),
      runs,
    );
  });

  it("does not warm its chip by shorter or purer bonds", () => {
    const factor = fc.double({ min: 1, max: 30, noNaN: true });
    fc.assert(
      fc.property(randomMount, factor, (mount, by) => {
        const { length, residualResistivityRatio: ratio } = mount.bonds!;
        const now = chip(mount) * (1 + 1e-12);
        // No wire may be shorter than from its foot to the edge of the die.
        const shorter = Math.max((length as number) / by, Math.min(length as number, 5e-4));
        expect(chip(withBonds(mount, { length: shorter }))).toBeLessThanOrEqual(now);
        const purer = withBonds(mount, { residualResistivityRatio: (ratio as number) * by });
        expect(chip(purer)).toBeLessThanOrEqual(now);
      }),
      runs,
    );
  });

  it("keeps its temperatures when all conductors and loads grow alike", () => {
    const factor = fc.double({ min: -6, max: 6, noNaN: true }).map((x) => 10 ** x);
    fc.assert(
      fc.property(randomMount, factor, (mount, by) => {
        const { network } = new MountModel(readMount(mount), standardCatalogue()).describe();
        const before = solveSteady(network).temperatures;
        const after = solveSteady({
          nodes: network.nodes.map((node) =>
            typeof node.load === "number" ? { ...node, load: node.load * by } : node,
          ),
          links: network.links.map((l) => ({ ...l, conductor: scaled(l.conductor, by) })),
        }).temperatures;
        for (const [name, T] of before) expect(after.get(name)! / T).toBeCloseTo(1, 11);
      }),
      runs,
    );
  });

  it("does not care in which order things are declared", () => {
    fc.assert(
      fc.property(randomMount, fc.integer(), (mount, seed) => {
        const keys = Object.keys(mount).sort((a, b) => hash(a, seed) - hash(b, seed));
        const shuffled = Object.fromEntries(keys.map((key) => [key, mount[key as keyof Mount]]));
        const loads = [...mount.loads].reverse();
        const clamps = mount.clamps && [...mount.clamps].reverse();
        const other = { ...shuffled, loads, ...(clamps && { clamps }) } as unknown as Mount;
        expect(chip(other) / chip(mount)).toBeCloseTo(1, 11);
      }),
      runs,
    );
  });
});

describe("any mount on a 2-D die", () => {
  slowly("brings all its heat to the stage, no place colder than that, its drops the rise", () => {
    fc.assert(
      fc.property(randomSheet, (mount) => {
        let budget: Budget;
        try {
          budget = thermalBudget(mount);
        } catch (error) {
          expectWords(error);
          return;
        }
        const { total, stage, places, mainPath, chip, elements } = budget;
        const out = elements.find(({ name }) => name === "joint to the stage")!.power;
        expect(Math.abs(out - total)).toBeLessThanOrEqual(1e-9 * total);
        for (const { temperature } of places)
          expect(temperature).toBeGreaterThan(stage * (1 - 1e-12));
        const drops = mainPath.reduce((sum, { drop }) => sum + drop, 0);
        expect(Math.abs(drops - chip.rise)).toBeLessThanOrEqual(1e-9 * chip.temperature);
      }),
      { ...runs, numRuns: cases(100) },
    );
  });
});

describe("any input at all", () => {
  const junk = fc.oneof(
    fc.constantFrom(0, -1, Number.NaN, Number.POSITIVE_INFINITY, 1e308, 5e-324, "", "1 m", "-1 K"),
    fc.constantFrom(null, undefined, true, "__proto__", "constructor", "25 um", "1e999 W"),
    fc.double(),
    fc.string(),
    fc.anything({ maxDepth: 2 }),
  );

  it("gives a budget of finite numbers, or an error with a message", () => {
    fc.assert(
      fc.property(randomMount, fc.nat(), junk, (mount, pick, value) => {
        const paths = leaves(mount);
        const odd = replaceAt(mount, paths[pick % paths.length]!, value);
        try {
          const budget = thermalBudget(odd as Mount);
          for (const { temperature } of budget.places) expect(temperature).toBeGreaterThan(0);
          for (const e of budget.elements) expect(Number.isFinite(e.power)).toBe(true);
          expect(budget.toText()).not.toMatch(/NaN/);
        } catch (error) {
          expect(error).toBeInstanceOf(Error);
          expect((error as Error).message.length).toBeGreaterThan(10);
          expect((error as Error).name).toMatch(
            /FieldError|UnknownNameError|SolveError|RangeError/,
          );
        }
      }),
      { ...runs, numRuns: cases(3000) },
    );
  });

  it("does so for mounts on a 2-D die, with stages and resonators of their own", () => {
    fc.assert(
      fc.property(randomSheet, fc.nat(), junk, (mount, pick, value) => {
        const paths = leaves(mount);
        const odd = replaceAt(mount, paths[pick % paths.length]!, value);
        try {
          const budget = thermalBudget(odd as Mount);
          for (const { temperature } of budget.places) expect(temperature).toBeGreaterThan(0);
          expect(budget.toText()).not.toMatch(/NaN|Infinity|undefined/);
        } catch (error) {
          expectWords(error);
        }
      }),
      { ...runs, numRuns: cases(400) },
    );
  });
});

/** An error of ours: a kind of its own, and a sentence; not a crash of the language's. */
function expectWords(error: unknown): void {
  expect(error).toBeInstanceOf(Error);
  const { name, message } = error as Error;
  expect(message.length).toBeGreaterThan(10);
  expect(`${name}: ${message}`).toMatch(
    /^(FieldError|UnknownNameError|SolveError|RangeError|Error: (network|die|sweep|chip)|Error: .*readout)/,
  );
}

/** Any order that depends on the seed alone. */
function hash(text: string, seed: number): number {
  let h = seed | 0;
  for (const c of text) h = Math.imul(h ^ c.charCodeAt(0), 0x9e3779b1);
  return h;
}

/** Paths to everything in a mount, branches too. */
function leaves(value: unknown, path: readonly string[] = []): (readonly string[])[] {
  if (typeof value !== "object" || value === null) return [path];
  return Object.entries(value).flatMap(([key, inner]) => [
    [...path, key],
    ...leaves(inner, [...path, key]),
  ]);
}

function replaceAt(target: unknown, [key, ...rest]: readonly string[], value: unknown): unknown {
  if (key === undefined) return value;
  const inner = replaceAt((target as Record<string, unknown>)[key], rest, value);
  if (Array.isArray(target)) return target.map((entry, i) => (String(i) === key ? inner : entry));
  return { ...(target as object), [key]: inner };
}
