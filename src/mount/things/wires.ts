/**
 * How long the bond wires of a mount are, and how far the tolerances of the box move that.
 * @module
 */
import { isSpread } from "../../units/spread.js";
import { writtenOf } from "../as-written.js";
import type { PlainMount } from "../mount.js";
import { nameOn, seenFrom } from "../on-die.js";
import { numbersOf } from "../read.js";
import { bondKinds } from "./bond-groups.js";
import { bondLength } from "./bonds.js";
import { dieNames } from "./stack.js";

/** Bond wires of one kind. */
export interface BondWires {
  /** As the budget shows them. */
  readonly name: string;
  /** How many. */
  readonly count: number;
  /** Along one, foot to foot [m]. */
  readonly length: number;
  /** The same with every length that it follows from at the lower end of its 90 % interval [m]. */
  readonly shortest: number;
  /** The same with all of them at their upper ends [m]. */
  readonly longest: number;
  /** Whether the length is one given number, so that there is nothing to report of it. */
  readonly isGiven: boolean;
}

/** What the length of a wire follows from: its own gap, step and loop, and where its film lies. */
const lengths =
  /^(dies\.[^.]+\.)?((bonds|bondGroups\.\d+)\.length(\.|$)|((pads|padGroups\.\d+)\.(inset|length)|ring\.(inset|width))$)/;

/** The bond wires of all dies; their lengths do not fall with anything they follow from. */
export function bondWires(mount: PlainMount): readonly BondWires[] {
  const [low, high] = endsOf(mount);
  return dieNames(mount).flatMap((die) =>
    bondKinds(seenFrom(mount, die)).map((kind) => {
      const along = (of: PlainMount) => bondLength(kind, seenFrom(of, die));
      const [shortest, longest] = [along(low), along(high)];
      const isNumber = typeof kind.of(seenFrom(mount, die)).length === "number";
      return {
        name: nameOn(die, kind.names.bonds),
        count: kind.count(seenFrom(mount, die)),
        length: along(mount),
        shortest,
        longest,
        isGiven: isNumber && shortest === longest,
      };
    }),
  );
}

/** The mount with all lengths that have a spread at its lower ends, and at its upper ones. */
function endsOf(mount: PlainMount): readonly [low: PlainMount, high: PlainMount] {
  const { written, read } = writtenOf(mount);
  // To read all numbers once more takes as long as the budget of two nodes.
  if (!holdsSpread(written)) return [mount, mount];
  const ends = [structuredClone(mount), structuredClone(mount)] as const;
  for (const { field, value, distribution } of numbersOf(written as PlainMount).values()) {
    if (!distribution || !lengths.test(field)) continue;
    const keys = field.split(".");
    // A number that was set to another is known.
    if (at(mount, keys) !== at(read, keys) || at(read, keys) !== value) continue;
    [distribution.low, distribution.high].forEach((end, k) => {
      (at(ends[k], keys.slice(0, -1)) as Record<string, number>)[keys.at(-1)!] = end;
    });
  }
  return ends;
}

function holdsSpread(written: unknown): boolean {
  if (typeof written !== "object" || written === null) return false;
  return isSpread(written) || Object.values(written).some(holdsSpread);
}

const at = (root: unknown, keys: readonly string[]) =>
  keys.reduce<unknown>((inside, key) => (inside as Record<string, unknown>)?.[key], root);
