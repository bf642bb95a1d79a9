/**
 * Heat sources of a given power, of all dies of a mount and of its box.
 * @module
 */
import type { PlainMount } from "./mount.js";
import { fieldOn, lawOfDie, lawOn, nameOn, ofDie, ownDie, seenFrom } from "./on-die.js";
import { type PowerSource, powerSources } from "./things/load.js";
import { dieNames } from "./things/stack.js";

/** Heat sources of a given power of all dies and of the box. */
export function allSources(mount: PlainMount): readonly PowerSource[] {
  return dieNames(mount).flatMap((name) => sourcesOn(mount, name));
}

/** Heat sources of a die, or of what else they fall on as they are written with it. */
export function sourcesOn(mount: PlainMount, name: string): readonly PowerSource[] {
  const own = powerSources(seenFrom(mount, name));
  if (name === ownDie) return own;
  return own.map((source) => ({
    ...source,
    name: nameOn(name, source.name),
    field: fieldOn(name, source.field),
    on: source.on === "die" ? name : source.on,
    map: (m) => source.map(seenFrom(m, name)),
    heat(m, catalogue, chip) {
      const heat = lawOfDie(m, name, (seen) => source.heat(seen, catalogue, chip));
      return { ...heat, name: nameOn(name, heat.name) };
    },
    law(m, catalogue) {
      const law = ofDie(m, name, (seen) => source.law(seen, catalogue));
      if (!law) return undefined;
      return {
        ...law,
        name: nameOn(name, law.name),
        at: (T) => ({ ...lawOn(name, law.at(T)), name: nameOn(name, law.name) }),
      };
    },
    coldEnd: (m) => source.coldEnd(seenFrom(m, name)),
    hits: (m, catalogue, place) => ofDie(m, name, (seen) => source.hits(seen, catalogue, place)),
  }));
}
