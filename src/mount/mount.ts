/**
 * A mount: what a user writes down of how a chip is held, wired and loaded, and the things it is made of.
 *
 * Lengths, powers, forces and temperatures are plain numbers in SI or strings with a unit
 * (`"25 um"`, `"-95 dBm"`), or a spread of such: `spread("20 nm", "40 nm")`. Names of materials are those
 * of data/materials. Things stand in the order of the heat and of the budget:
 *
 *   die → pad phonons → pad electrons → pad foot → ledge foot
 *    ↓ clamps, glue, pressed back                      ↓ ledge
 *    └─────────────────────────────────────────→ box by the die → box by the bolts → stage
 * @module
 */
import type { Plain } from "../units/fields.js";
import type { DrawnPart, Thing } from "./thing.js";
import { type Back, back } from "./things/back.js";
import { between } from "./things/between.js";
import { bodies, type StoringBody } from "./things/bodies.js";
import { type BondGroup, bondGroups } from "./things/bond-groups.js";
import { type Bonds, bonds } from "./things/bonds.js";
import { type Box, box } from "./things/box.js";
import { type Clamp, clamps } from "./things/clamps.js";
import { drawnWires } from "./things/conduction.js";
import { type Correlation, correlations } from "./things/correlations.js";
import { type Die, type DieModel, die } from "./things/die.js";
import type { DieJoint } from "./things/die-joints.js";
import { dies, type FurtherDie } from "./things/dies.js";
import { type Glue, glue } from "./things/glue.js";
import { joint, type StageJoint } from "./things/joint.js";
import { type Ledge, ledge } from "./things/ledge.js";
import { type Limit, limit } from "./things/limit.js";
import { checkLoads, loads, type MountLoad } from "./things/load.js";
import { type PadGroup, padGroups } from "./things/pad-groups.js";
import { type Pads, pads } from "./things/pads.js";
import { type MetalPatch, patches } from "./things/patches.js";
import { type PathPiece, path } from "./things/path.js";
import { type Ring, ring } from "./things/ring.js";
import { type Stage, stage } from "./things/stage.js";

/** A chip in its box on its stage. */
export interface Mount {
  /** Its name, over the budget and the figures. */
  readonly name: string;
  /** The chip itself. */
  readonly die: Die;
  /** Bonds stand on pads or on a ring. */
  readonly pads?: Pads;
  /** Pads in groups, beside those that are all alike or in place of them. */
  readonly padGroups?: readonly PadGroup[];
  /** A closed band of metal that takes the place of pads. */
  readonly ring?: Ring;
  /** Wire bonds from the die to the ledge; none when absent. */
  readonly bonds?: Bonds;
  /** Bonds on groups of pads, from the die to the ledge. */
  readonly bondGroups?: readonly BondGroup[];
  /** Where the bonds end; bare metal of the box when absent. */
  readonly ledge?: Ledge;
  /** Clamps that press on the die; none when absent. */
  readonly clamps?: readonly Clamp[];
  /** Glue under the die; none when absent. */
  readonly glue?: Glue;
  /** Metal on the back of the die, pressed on the box; none when absent. */
  readonly back?: Back;
  /** Films over rectangles of front and back, which spread heat or are pressed on the box. */
  readonly patches?: readonly MetalPatch[];
  /** Bumps, glue or joints between two dies that lie over each other. */
  readonly between?: readonly DieJoint[];
  /** Further dies by their names, each with what belongs to it; none when absent. */
  readonly dies?: Readonly<Record<string, FurtherDie>>;
  /** The metal between the ledge and the stage. */
  readonly box: Box;
  /** What lies between the box and the joint to the stage: fingers, straps, plates and their joints. */
  readonly path?: readonly PathPiece[];
  /** The joint to the stage, of the box or of what `path` ends with. */
  readonly joint: StageJoint;
  /** What hangs on die, box or stage and only stores heat; none when absent. */
  readonly bodies?: readonly StoringBody[];
  /** Temperature of the stage [K], or how it is cooled. */
  readonly stage: Stage;
  /** All that brings heat. */
  readonly loads: readonly MountLoad[];
  /** How warm the chip may become; nothing is judged when absent. */
  readonly limit?: Limit;
  /**
   * Which of the spreads vary together. Alike spreads of one film or one spool of wire do, unless they are
   * named here; of all others each by itself when absent.
   */
  readonly correlations?: readonly Correlation[];
}

/** A mount in SI: the same fields, plain numbers; spreads have become their medians, and the die has its model. */
export type PlainMount = Plain<Mount> & { readonly die: { readonly model: DieModel } };

/** A thing for every key of a mount but its name: one that is missing does not compile. */
export const things: {
  readonly [K in Exclude<keyof Mount, "name">]-?: Thing<NonNullable<Mount[K]>, PlainMount>;
} = {
  die,
  pads,
  padGroups,
  ring,
  bonds,
  bondGroups,
  ledge,
  clamps,
  glue,
  back,
  patches,
  between,
  dies,
  box,
  path,
  joint,
  bodies,
  stage,
  loads: { field: loads, rules: checkLoads, drawn: drawnWires },
  limit,
  correlations,
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
