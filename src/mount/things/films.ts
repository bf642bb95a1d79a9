/**
 * The metal films of a mount, by the contacts that they lie on.
 * @module
 */
import type { Plain } from "../../units/fields.js";
import type { PlainMount } from "../mount.js";
import type { Film } from "./film.js";

/** A film, and the name of its group of contacts. */
export type FilmOnDie = Pick<Plain<Film>, "material" | "thickness" | "phonons"> & {
  readonly contacts: string;
  /** Its field. */
  readonly key: string;
};

/** Every film on the die. */
export function filmsOf(mount: PlainMount): readonly FilmOnDie[] {
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
