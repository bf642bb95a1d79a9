/**
 * Further dies: each with films, pads, bonds, clamps, glue and loads of its own, like the mount's own die.
 * @module
 */
import { FieldError } from "../../units/errors.js";
import * as read from "../../units/fields.js";
import type { Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { drawnOn, nameOn, ofDie, ownDie, partsOn, seenFrom } from "../on-die.js";
import type { DrawnPart, Thing } from "../thing.js";
import { type Back, back } from "./back.js";
import { bodies, type StoringBody } from "./bodies.js";
import { type BondGroup, bondGroups } from "./bond-groups.js";
import { type Bonds, bonds } from "./bonds.js";
import { type Clamp, clamps } from "./clamps.js";
import { drawnWires } from "./conduction.js";
import { type Die, die, dieFields } from "./die.js";
import { type Glue, glue } from "./glue.js";
import { checkLoads, loads, type MountLoad } from "./load.js";
import { type PadGroup, padGroups } from "./pad-groups.js";
import { type Pads, pads } from "./pads.js";
import { type MetalPatch, patches } from "./patches.js";
import { type Ring, ring } from "./ring.js";
import { checkStack, faceOfDie, moved, type WithStack } from "./stack.js";

/** A plate of the same model as the mount's own die. */
export type FurtherPlate = Omit<Die, "model">;

/** How far the middle of a die lies from another's. */
export interface DieOffset {
  /** Along the width; to the left when negative [m]. */
  readonly x: Uncertain<Length>;
  /** Along the length; downwards when negative [m]. */
  readonly y: Uncertain<Length>;
}

/**
 * A die beside, over or under the mount's own. All that belongs to it is written as for that one, with places
 * from its own lower left corner, seen from above: a die that lies face down is not mirrored.
 */
export interface FurtherDie {
  /** The die itself. */
  readonly die: FurtherPlate;
  /** Its middle, from that of the mount's own die; middle over middle when absent. */
  readonly offset?: DieOffset;
  /** Bonds stand on pads or on a ring. */
  readonly pads?: Pads;
  /** Pads in groups. */
  readonly padGroups?: readonly PadGroup[];
  /** A closed band of metal that takes the place of pads. */
  readonly ring?: Ring;
  /** Wire bonds from this die to the ledge. */
  readonly bonds?: Bonds;
  /** Bonds on groups of pads, from this die to the ledge. */
  readonly bondGroups?: readonly BondGroup[];
  /** Clamps that press on it. */
  readonly clamps?: readonly Clamp[];
  /** Glue between it and the box. */
  readonly glue?: Glue;
  /** Metal on its back, pressed on the box. */
  readonly back?: Back;
  /** Films over rectangles of its front and back. */
  readonly patches?: readonly MetalPatch[];
  /** What hangs on it and only stores heat. */
  readonly bodies?: readonly StoringBody[];
  /** What brings heat to it. */
  readonly loads?: readonly MountLoad[];
}

/** Things around a further die: the same as around the mount's own. */
const dieThings = {
  die,
  pads,
  padGroups,
  ring,
  bonds,
  bondGroups,
  clamps,
  glue,
  back,
  patches,
  bodies,
  loads: { field: loads, rules: checkLoads, drawn: drawnWires },
};

const { model: _, ...plateFields } = dieFields;
const fieldOf = <V>({ field }: { readonly field: read.Field<V> | read.Maybe<V> }): read.Maybe<V> =>
  "optional" in field ? field : read.optional(field);

const fields: read.FieldsOf<FurtherDie> = {
  die: read.object<FurtherPlate>(plateFields),
  offset: read.optional(
    read.object<DieOffset>({ x: read.signedQuantity("length"), y: read.signedQuantity("length") }),
  ),
  pads: fieldOf(pads),
  padGroups: fieldOf(padGroups),
  ring: fieldOf(ring),
  bonds: fieldOf(bonds),
  bondGroups: fieldOf(bondGroups),
  clamps: fieldOf(clamps),
  glue: fieldOf(glue),
  back: fieldOf(back),
  patches: fieldOf(patches),
  bodies: fieldOf(bodies),
  loads: read.optional(loads),
};

interface WithDies extends WithStack {
  readonly dies?: Readonly<Record<string, read.Plain<FurtherDie>>>;
  readonly bodies?: readonly { readonly name: string }[];
  readonly path?: readonly { readonly name: string }[];
}

const namesIn = ({ dies = {} }: WithDies) => Object.keys(dies);
const all = Object.values(dieThings) as unknown as readonly Thing<unknown, WithDies>[];

/** @throws FieldError for a name that a die cannot have */
function checkName(name: string, { bodies: hung = [], path = [] }: WithDies): void {
  const places = [name, ...["centre", "edge"].map((end) => `${name} ${end}`)];
  const isTaken =
    [ownDie, "chip", "box", "stage", "mount"].includes(name) ||
    ["box by the ", "end of ", "die "].some((start) => name.startsWith(start)) ||
    hung.some((body) => places.includes(body.name)) ||
    path.some((piece) => piece.name === name);
  if (isTaken) throw new FieldError("dies", "names of dies that no other place has", name);
}

/** The things around each further die read it as the mount's own: see on-die.ts. */
export const dies: Thing<Readonly<Record<string, FurtherDie>>, WithDies> = {
  field: read.optional(
    read.byName(read.object<FurtherDie>(fields), "an object with further dies by their names"),
  ),
  rules(mount) {
    for (const name of namesIn(mount)) {
      checkName(name, mount);
      ofDie(mount, name, (seen) => {
        for (const thing of all) thing.rules?.(seen);
      });
    }
    if (mount.dies) checkStack(mount);
  },
  parts(mount) {
    const parts = namesIn(mount).flatMap((name) =>
      all.map((thing) => partsOn(name, thing.parts?.(seenFrom(mount, name)) ?? {})),
    );
    return {
      contacts: parts.flatMap(({ contacts }) => contacts),
      paths: parts.flatMap(({ paths }) => paths),
      stores: parts.flatMap(({ stores }) => stores),
    };
  },
  warnings: (mount, catalogue) =>
    namesIn(mount).flatMap((name) =>
      ofDie(mount, name, (seen) =>
        all
          .flatMap(({ warnings }) => warnings?.(seen, catalogue) ?? [])
          .map((text) => nameOn(name, text)),
      ),
    ),
  drawn: (mount) =>
    namesIn(mount).flatMap((name): readonly DrawnPart[] => {
      const face = faceOfDie(mount, name);
      return ofDie(mount, name, (seen) => all.flatMap(({ drawn }) => drawn?.(seen) ?? [])).map(
        (part) => ({
          ...drawnOn(name, part),
          places: part.places.map((place) => moved(place, face, 1)),
        }),
      );
    }),
};
