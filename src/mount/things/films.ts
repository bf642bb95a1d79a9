/**
 * The metal films of a mount, by the contacts that they lie on.
 * @module
 */
import type { PlainMount } from "../mount.js";

/** Every film on the die, with the name of its group of contacts and its field. */
export function filmsOf(mount: PlainMount) {
  const { pads, ring, back, padGroups = [], patches = [] } = mount;
  return [
    ...(pads ? [{ ...pads, contacts: "pads", key: "pads" }] : []),
    ...(ring ? [{ ...ring, contacts: "ring", key: "ring" }] : []),
    ...(back ? [{ ...back.film, contacts: "back", key: "back.film" }] : []),
    ...padGroups.map((own, i) => ({
      ...own,
      contacts: `pads ${own.name}`,
      key: `padGroups[${i}]`,
    })),
    ...patches.map((own, i) => ({ ...own, contacts: `patch ${own.name}`, key: `patches[${i}]` })),
  ];
}
