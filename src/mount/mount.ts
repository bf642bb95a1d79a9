/**
 * What a user writes down: how a chip is held, wired and loaded.
 *
 * Lengths, powers, forces and temperatures are plain numbers in SI or strings with a unit
 * (`"25 um"`, `"-95 dBm"`), or a spread of such: `spread("20 nm", "40 nm")`. Names of materials are those
 * of data/materials.
 * @module
 */
import type { Plain } from "../units/fields.js";
import type { Back } from "./things/back.js";
import type { Bonds } from "./things/bonds.js";
import type { Box } from "./things/box.js";
import type { Clamp } from "./things/clamps.js";
import type { Die } from "./things/die.js";
import type { Glue } from "./things/glue.js";
import type { StageJoint } from "./things/joint.js";
import type { Ledge } from "./things/ledge.js";
import type { Limit } from "./things/limit.js";
import type { MountLoad } from "./things/load.js";
import type { Pads } from "./things/pads.js";
import type { Ring } from "./things/ring.js";
import type { Stage } from "./things/stage.js";

/** A chip in its box on its stage. */
export interface Mount {
  /** Its name, over the budget and the figures. */
  readonly name: string;
  /** The chip itself. */
  readonly die: Die;
  /** Bonds stand on pads or on a ring. */
  readonly pads?: Pads;
  /** A closed band of metal that takes the place of pads. */
  readonly ring?: Ring;
  /** Wire bonds from the die to the ledge; none when absent. */
  readonly bonds?: Bonds;
  /** Where the bonds end; bare metal of the box when absent. */
  readonly ledge?: Ledge;
  /** Clamps that press on the die; none when absent. */
  readonly clamps?: readonly Clamp[];
  /** Glue under the die; none when absent. */
  readonly glue?: Glue;
  /** Metal on the back of the die, pressed on the box; none when absent. */
  readonly back?: Back;
  /** The metal between the ledge and the stage. */
  readonly box: Box;
  /** The bolted joint between box and stage. */
  readonly joint: StageJoint;
  /** Temperature of the stage, or how it is cooled. */
  readonly stage: Stage;
  /** All that brings heat. */
  readonly loads: readonly MountLoad[];
  /** How warm the chip may become; nothing is judged when absent. */
  readonly limit?: Limit;
}

/** A mount in SI: the same fields, plain numbers; spreads have become their medians. */
export type PlainMount = Plain<Mount>;
