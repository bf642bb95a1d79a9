/**
 * A mount in its steady state, with all that led to it. Apart from what solves it, so that who reads the type
 * of a result does not read all of the solver.
 * @module
 */
import type { CondensedDie } from "../chip/condensed-die.js";
import type { CondensedBody, Conductor } from "../conductor.js";
import type { Catalogue } from "../materials/types.js";
import type { NetworkDescription } from "../network/description.js";
import type { SteadySolution } from "../network/solution.js";
import type { Chips, ContactGroup, MountHeat, Structure } from "./assemble.js";
import type { PlainMount } from "./mount.js";
import type { Reading } from "./reading.js";
import type { StageModel } from "./things/stage.js";

/** A resolved die, condensed to its contacts, and under its loads. */
export interface DescribedDie {
  readonly condensed: CondensedDie;
  readonly body: CondensedBody;
}

/** A point on a die, from its lower left corner [m]. */
export interface DiePoint {
  /** Name of a further die; the mount's own when absent. */
  readonly die?: string;
  /** Along the width [m]. */
  readonly x: number;
  /** Along the length [m]. */
  readonly y: number;
}

/** A mount in its steady state. */
export interface OperatingPoint {
  readonly mount: PlainMount;
  readonly catalogue: Catalogue;
  readonly structure: Structure;
  /** The network that was solved. */
  readonly network: NetworkDescription;
  /** Temperatures and flows of its nodes and links. */
  readonly solution: SteadySolution;
  /** The same by the mount's own places. */
  readonly reading: Reading;
  /** The loads; those that depend on the chip's temperature are taken there. */
  readonly loads: readonly MountHeat[];
  /** By path and wire; the 2-D die's and its films' squares and the cooling of the stage by their names. */
  readonly conductors: ReadonlyMap<string, Conductor>;
  /** How the stage is held or cooled. */
  readonly cooling: StageModel;
  /** The mount's own die where it is resolved, condensed and under its loads. */
  readonly die?: DescribedDie;
  /** All dies that are resolved, by their names. */
  readonly dies: ReadonlyMap<string, DescribedDie>;
  /** Groups of contacts of the mount's own 2-D die, laid out. */
  readonly contacts: readonly ContactGroup[];
  /** The same of a further die. */
  contactsOn(die: string): readonly ContactGroup[];
  /** Temperature of the chip's hottest point [K]. */
  readonly chip: number;
  /** The same of every die. */
  readonly chips: Chips;
  /** Temperature of the stage [K]. */
  readonly stage: number;
  /** Where a place came out below the coldest that cools the die: by what share of the span of Θ. */
  readonly tooColdBy?: number;
}
