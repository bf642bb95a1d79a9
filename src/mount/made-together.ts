/**
 * Fields of a mount that are one unknown written in several places: films of one metal and thickness on
 * one face of a die come from one deposition, and wires of one metal and diameter from one spool and
 * bonder, whichever pads, rings or groups they are. Taken as independent, their spreads would average out
 * the more the finer a mount is described.
 * @module
 */
import type { Plain } from "../units/fields.js";
import type { PlainMount } from "./mount.js";
import { fieldOn, seenFrom } from "./on-die.js";
import type { Bond } from "./things/bonds.js";
import { dieNames } from "./things/stack.js";

/** What a deposition decides of a film, and a spool and a bonder of a wire; not lengths and places. */
const ofFilm = [
  "thickness",
  "residualResistivityRatio",
  "residualResistivityRatio.value",
  "boundary.resistance",
  "coupling.coefficient",
  "coupling.exponent",
];
const ofWire = [
  "residualResistivityRatio",
  "residualResistivityRatio.value",
  "diameter",
  "width",
  "thickness",
  "footRadius",
  "footResistance",
];

/**
 * Lists of fields of a mount that are one unknown where their spreads are alike, by path such as
 * `pads.thickness`, and why: `one film of gold`.
 */
export function madeTogether(mount: PlainMount) {
  const made = new Map<string, { fields: Map<string, string[]>; reason: string }>();
  const add = (key: readonly unknown[], reason: string, at: string, own: readonly string[]) => {
    const name = JSON.stringify(key);
    const known = made.get(name) ?? { fields: new Map<string, string[]>(), reason };
    made.set(name, known);
    for (const field of own) {
      known.fields.set(field, [...(known.fields.get(field) ?? []), `${at}.${field}`]);
    }
  };
  for (const name of dieNames(mount)) {
    const die = seenFrom(mount, name);
    const film = (
      face: "front" | "back",
      at: string,
      of: { readonly material: string; readonly thickness: number } | undefined,
    ) => {
      if (!of) return;
      const key = ["film", name, face, of.material, of.thickness];
      add(key, `one film of ${of.material}`, fieldOn(name, at), ofFilm);
    };
    film("front", "pads", die.pads);
    film("front", "ring", die.ring);
    die.padGroups?.forEach((each, i) => {
      film("front", `padGroups.${i}`, each);
    });
    die.patches?.forEach((each, i) => {
      film(each.face, `patches.${i}`, each);
    });
    film("back", "back.film", die.back?.film);
    const wire = (at: string, { material, diameter, width, thickness }: Plain<Bond>) => {
      const key = ["wire", material, diameter, width, thickness];
      add(key, `one spool of ${material} wire`, fieldOn(name, at), ofWire);
    };
    if (die.bonds) wire("bonds", die.bonds);
    die.bondGroups?.forEach((each, i) => {
      wire(`bondGroups.${i}`, each);
    });
  }
  return [...made.values()].flatMap(({ fields, reason }) =>
    [...fields.values()].filter((all) => all.length > 1).map((all) => ({ fields: all, reason })),
  );
}
