/**
 * Which bonds of a mount are counted: those that are all alike, or a group, on any of its dies.
 * @module
 */

import { FieldError, UnknownNameError } from "../../units/errors.js";
import { writtenAs } from "../as-written.js";
import type { PlainMount } from "../mount.js";
import { nameOn, ownDie, seenFrom } from "../on-die.js";
import { bondRoom, groupRoom, padsIn } from "./edges.js";
import { dieNames } from "./stack.js";

/** Bonds that are counted, by the field that is set to count them. */
export interface CountedBonds {
  /** The field: `bonds.count`, `padGroups.0.count` or `bondGroups.0.perPad`. */
  readonly field: string;
  /** Bonds for each of the field's value: 1 of `bonds.count`, whose value counts bonds. */
  readonly forOne: (mount: PlainMount) => number;
  /** The smallest step of their number: the bonds on a pad, or one on each pad. */
  readonly each: (mount: PlainMount) => number;
  /** How many fit. */
  readonly room: (mount: PlainMount) => number;
  /** The fields around them, by what they are for bonds that are all alike; none where there is none. */
  fieldOf(field: string): string | undefined;
  /** The mount with a number of them that need not fit. */
  with(mount: PlainMount, bonds: number): PlainMount;
}

/** The bonds of the mount's own die that are all alike. @throws FieldError where there are none */
function alike({ bonds }: PlainMount): CountedBonds {
  if (!bonds) throw new FieldError("bonds", "bonds to count", undefined);
  return {
    field: "bonds.count",
    forOne: () => 1,
    each: (mount) => mount.bonds!.perPad ?? 1,
    room: bondRoom,
    fieldOf: (field) => field,
    with: (mount, count) => ({ ...mount, bonds: { ...mount.bonds!, count } }),
  };
}

/**
 * The bonds to count in a mount.
 * @param group - name of a group of bonds, as the budget shows it; with that of its further die before it
 * @throws FieldError for a mount without bonds, UnknownNameError for a group that there is not
 */
export function countedBonds(mount: PlainMount, group?: string): CountedBonds {
  if (group === undefined) return alike(mount);
  const known = dieNames(mount).flatMap((die) =>
    (seenFrom(mount, die).bondGroups ?? []).map((own, i) => ({
      die,
      i,
      name: nameOn(die, own.name ?? own.pads),
      g: seenFrom(mount, die).padGroups!.findIndex(({ name }) => name === own.pads),
    })),
  );
  const found = known.find(({ name }) => name === group);
  if (!found) {
    const names = known.map(({ name }) => name);
    throw new UnknownNameError("group", "group of bonds", group, names);
  }
  const { die, i, g } = found;
  const prefix = die === ownDie ? "" : `dies.${die}.`;
  const seen = (of: PlainMount) => seenFrom(of, die);
  const pads = (of: PlainMount) => seen(of).padGroups![g]!;
  const perPad = (of: PlainMount) => seen(of).bondGroups![i]!.perPad ?? 1;
  const isPlaced = pads(mount).places !== undefined;
  const own = isPlaced ? `bondGroups.${i}.perPad` : `padGroups.${g}.count`;
  const forOne = (of: PlainMount) => (isPlaced ? padsIn(pads(of)) : perPad(of));
  return {
    field: prefix + own,
    forOne,
    each: forOne,
    room: (of) => groupRoom(seen(of), i),
    fieldOf(field) {
      const [thing, ...rest] = field.split(".");
      const key = rest.join(".");
      if (thing === "die") return prefix + field;
      if (thing === "pads") return `${prefix}padGroups.${g}.${key}`;
      if (thing !== "bonds" || (isPlaced && key === "perPad")) return undefined;
      return `${prefix}bondGroups.${i}.${key}`;
    },
    with(of, bonds) {
      const made = structuredClone(of);
      const keys = (prefix + own).split(".");
      const holder = keys
        .slice(0, -1)
        .reduce<unknown>((at, key) => (at as Record<string, unknown>)[key], made);
      (holder as Record<string, number>)[keys.at(-1)!] = bonds / forOne(of);
      return writtenAs(of, made);
    },
  };
}
