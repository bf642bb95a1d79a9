/** Every error of a mount speaks of what was written in it: no number of its own, no name of an option. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Mount, thermalBudget } from "../../src/index.js";
import { numbersOf } from "../../src/mount/read.js";
import { goodMounts } from "../fuzz/mounts.js";
import { strangeVersions } from "../fuzz/strange.js";
import { faultOf, spoiled } from "../fuzz/written.js";
import { exampleMounts } from "./example-mounts.js";

type Tree = Record<string, unknown>;

/** What is wrong with the error of a mount; undefined for a good error, or none. */
function faultIn(mount: unknown): string | undefined {
  try {
    thermalBudget(mount as Mount);
  } catch (error) {
    const fault = faultOf(error, mount);
    return fault && `${fault}: ${(error as Error).message}`;
  }
  return undefined;
}

/** Every path of a description. */
function pathsIn(tree: object, above: readonly string[] = []): readonly (readonly string[])[] {
  return Object.entries(tree).flatMap(([key, value]) => {
    const path = [...above, key];
    return typeof value === "object" && value !== null ? [path, ...pathsIn(value, path)] : [path];
  });
}

/** A copy with another value at a path; without what stands there for undefined. */
function changedAt(mount: object, path: readonly string[], value: unknown): Tree {
  const copy = structuredClone(mount) as Tree;
  const key = path.at(-1)!;
  let parent = copy;
  for (const each of path.slice(0, -1)) parent = parent[each] as Tree;
  if (value === undefined) delete parent[key];
  else parent[key] = value;
  return copy;
}

const others = [undefined, null, -1, "", "gold", "sapphire", "stainless-steel", "nonsense", {}, []];

describe("a mount with one wrong field", () => {
  const mounts = Object.entries(exampleMounts).flatMap(([name, { die, ...mount }]) => {
    const { cells, ...plate } = die;
    const nodes = { ...mount, die: { ...plate, model: "two nodes" as const } };
    // Of the 2-D die every 41st value, a prime so that no kind of value is missed: a solve takes long.
    return [
      [name, nodes, 1] as const,
      [`${name}, 2-D`, { ...mount, die: { ...plate, cells: 16 } }, 41] as const,
    ];
  });
  it.each(mounts)(
    "is refused in the words it was written in: %s",
    { timeout: 120_000 },
    (_, mount, every) => {
      const numbers = numbersOf(mount);
      let turn = 0;
      for (const path of pathsIn(mount)) {
        const number = numbers.get(path.join("."));
        const values = number ? [undefined, ...spoiled(number.value, number.unit)] : others;
        for (const value of values) {
          if (turn++ % every > 0) continue;
          const fault = faultIn(changedAt(mount, path, value));
          expect(fault, `${path.join(".")} = ${JSON.stringify(value)}`).toBeUndefined();
        }
      }
    },
  );

  it("is refused in them with any mistakes", () => {
    const property = fc.property(strangeVersions(goodMounts), (mount) => {
      expect(faultIn(mount)).toBeUndefined();
    });
    fc.assert(property, { numRuns: 300, seed: 20_261_129 });
  });
});
