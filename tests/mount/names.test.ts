/** Names of users' things and of places: nothing that a user writes as a name moves a temperature. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Mount, readMount, thermalBudget } from "../../src/index.js";
import { assemble } from "../../src/mount/assemble.js";
import { allThings } from "../../src/mount/mount.js";
import { sourceNames } from "../../src/mount/things/load.js";
import { exampleMounts } from "./example-mounts.js";
import { dieModels, padded, smallest } from "./things/smallest.js";

const wire = {
  kind: "conduction",
  material: "stainless-steel",
  length: "0.1 m",
  from: "1 K",
} as const;
const { length: _, ...ring } = padded.pads!;

/** A mount with two loads, a wire on the die, one on the box and two clamps, all with names. */
const named = ([a, b, c, d, e, f]: readonly string[], things: Partial<Mount>): Mount => ({
  ...smallest(things),
  clamps: [
    { name: e!, faces: "sapphire on silicon", force: 1, places: [{ x: 1.5e-3, y: 1.5e-3 }] },
    { name: f!, faces: "sapphire on silicon", force: 2, places: [{ x: 2.6e-3, y: 2.6e-3 }] },
  ],
  loads: [
    { kind: "given", name: a!, power: 1e-9 },
    { kind: "given", name: b!, power: 2e-9, on: "box" },
    { ...wire, name: c!, diameter: 1e-5, on: "box" },
    { ...wire, name: d!, diameter: 1e-5 },
  ],
});
const plain = ["one", "two", "three", "four", "five", "six"];

describe("a name that a user gives", () => {
  it("is no place: what is called like one is refused, or changes nothing", () => {
    const forms: readonly Partial<Mount>[] = [
      padded,
      { bonds: padded.bonds!, ring: ring as never },
    ];
    const taken = forms.flatMap((things) =>
      dieModels.flatMap((die) => {
        const { places, paths, groups } = assemble(readMount(named(plain, things)), die);
        return [...places, ...paths, ...groups].flatMap(({ name }) => [name, `${name} 1`]);
      }),
    );
    const word = fc.constantFrom(
      ...new Set([
        ...taken,
        "pads",
        "ring",
        "back",
        "glue",
        "warm end of three",
        "die",
        "spreading",
      ]),
      "cooling of the stage",
      "stage without load",
      "__proto__",
    );
    const expected = new Map<string, readonly number[]>();
    const temperatures = (
      names: readonly string[],
      form: number,
      model: (typeof dieModels)[number],
    ) => {
      const mount = named(names, forms[form]!);
      const { places } = thermalBudget({
        ...mount,
        die: { ...mount.die, model, cells: 16 },
      } as Mount);
      return places.map(({ temperature }) => temperature);
    };
    let compared = 0;
    fc.assert(
      fc.property(
        fc.array(word, { minLength: 6, maxLength: 6 }),
        fc.nat(1),
        fc.constantFrom(...dieModels),
        (names, form, model) => {
          let found: readonly number[];
          try {
            found = temperatures(names, form, model);
          } catch (error) {
            if ((error as Error).name !== "FieldError") throw error;
            return;
          }
          const key = `${form} ${model}`;
          if (!expected.has(key)) expected.set(key, temperatures(plain, form, model));
          const wanted = expected.get(key)!;
          const apart = Math.max(...found.map((T, i) => Math.abs(T / wanted[i]! - 1)));
          expect(apart).toBeLessThan(1e-12);
          compared++;
        },
      ),
      { numRuns: 60, seed: 4 },
    );
    expect(compared).toBeGreaterThan(10);
  });

  it("is one load's only, also beside one that looks numbered", () => {
    const loads = ["a", "a 1", "a", "a"].map(
      (name) => ({ kind: "given", name, power: 1 }) as const,
    );
    expect(sourceNames(loads)).toEqual(["a 2", "a 1", "a 3", "a 4"]);
  });
});

describe("a group of contacts", () => {
  it("is laid out for every path that ends on the die, listed by its thing or not", () => {
    for (const mount of Object.values(exampleMounts)) {
      const read = readMount(mount);
      const { groups, paths, warm } = assemble(read, "sheet");
      for (const { from, to } of [...paths, ...warm]) {
        for (const { group } of [from, to]) if (group) expect(groups).toContain(group);
      }
      const listed = allThings.flatMap(([, thing]) => thing.parts?.(read).contacts ?? []);
      expect(new Set(groups).size).toBe(groups.length);
      expect(groups.length).toBeGreaterThanOrEqual(listed.length);
    }
  });
});
