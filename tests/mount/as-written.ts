/** One field of a mount spoiled after the other, and what is wrong with the error it makes. */
import { expect, it } from "vitest";
import { type Mount, thermalBudget } from "../../src/index.js";
import { numbersOf } from "../../src/mount/read.js";
import { faultOf, spoiled } from "../fuzz/written.js";
import { exampleMounts } from "./example-mounts.js";

type Tree = Record<string, unknown>;

/** What is wrong with the error of a mount; undefined for a good error, or none. */
export function faultIn(mount: unknown): string | undefined {
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

/**
 * Spoils every example's fields.
 * @param every - of the values tried, one in so many
 * @param everyOf2D - the same with the 2-D model of the die, of which a solve takes long; primes, so that
 *   no kind of value is missed
 */
export function spoilFields(every: number, everyOf2D: number): void {
  const mounts = Object.entries(exampleMounts).flatMap(([name, { die, ...mount }]) => {
    const { cells, ...plate } = die;
    const nodes = { ...mount, die: { ...plate, model: "two nodes" as const } };
    return [
      [name, nodes, every] as const,
      [`${name}, 2-D`, { ...mount, die: { ...plate, cells: 16 } }, everyOf2D] as const,
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
}
