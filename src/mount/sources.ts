/**
 * Heat sources of a given power, of all dies of a mount and of its box.
 * @module
 */
import type { PlainMount } from "./mount.js";
import { fieldOn, lawOn, nameOn, ofDie, ownDie, seenFrom } from "./on-die.js";
import { type PowerSource, powerSources } from "./things/load.js";
import { dieNames } from "./things/stack.js";

/** Heat sources of a given power of all dies and of the box. */
export function allSources(mount: PlainMount): readonly PowerSource[] {
  return dieNames(mount).flatMap((name) => powersOn(mount, name));
}

/** Heat sources of a die, or of the box as they are written with it. */
function powersOn(mount: PlainMount, name: string): readonly PowerSource[] {
  const own = powerSources(seenFrom(mount, name));
  if (name === ownDie) return own;
  return own.map((source) => ({
    ...source,
    name: nameOn(name, source.name),
    field: fieldOn(name, source.field),
    on: source.on === "die" ? name : source.on,
    map: (m) => source.map(seenFrom(m, name)),
    heat(m, catalogue, chip) {
      const heat = lawOn(
        name,
        ofDie(m, name, (seen) => source.heat(seen, catalogue, chip)),
      );
      return { ...heat, name: nameOn(name, heat.name) };
    },
    law: (m, catalogue) => ofDie(m, name, (seen) => source.law(seen, catalogue)),
    coldEnd: (m) => source.coldEnd(seenFrom(m, name)),
    hits: (m, catalogue, place) => ofDie(m, name, (seen) => source.hits(seen, catalogue, place)),
  }));
}
