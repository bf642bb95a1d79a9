/**
 * The things a mount is made of: a line each, in the order of the heat and of the budget.
 *
 *   die → pad phonons → pad electrons → pad foot → ledge foot
 *    ↓ clamps, glue, pressed back                      ↓ ledge
 *    └─────────────────────────────────────────→ box by the die → box by the bolts → stage
 * @module
 */
import type { Mount, PlainMount } from "./mount.js";
import type { DrawnPart, Thing } from "./thing.js";
import { back } from "./things/back.js";
import { bonds } from "./things/bonds.js";
import { box } from "./things/box.js";
import { clamps } from "./things/clamps.js";
import { drawnWires } from "./things/conduction.js";
import { die } from "./things/die.js";
import { glue } from "./things/glue.js";
import { joint } from "./things/joint.js";
import { ledge } from "./things/ledge.js";
import { limit } from "./things/limit.js";
import { loads } from "./things/load.js";
import { pads } from "./things/pads.js";
import { ring } from "./things/ring.js";
import { stage } from "./things/stage.js";

/** A thing for every key of a mount but its name: one that is missing does not compile. */
export const things: {
  readonly [K in Exclude<keyof Mount, "name">]-?: Thing<NonNullable<Mount[K]>, PlainMount>;
} = {
  die,
  pads,
  ring,
  bonds,
  ledge,
  clamps,
  glue,
  back,
  box,
  joint,
  stage,
  loads: { field: loads, drawn: drawnWires },
  limit,
};

/** How a mount is drawn, from the die outwards: what lies on the die, then what is beside and under it. */
export function drawnParts(mount: PlainMount): readonly DrawnPart[] {
  const all = allThings.flatMap(([, { drawn }]) => drawn?.(mount) ?? []);
  return [
    ...all.filter(({ places }) => places.length > 0),
    ...all.filter(({ places }) => places.length === 0),
  ];
}

/** All things, without their types, for code that treats them alike. */
export const allThings = Object.entries(things) as unknown as readonly (readonly [
  key: string,
  thing: Thing<unknown, PlainMount>,
])[];
