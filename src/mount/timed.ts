/**
 * A mount ready for a run in time. Apart from what makes it, so that who reads the type of a result in time
 * does not read all of the assembly.
 * @module
 */
import type { Grid } from "../chip/grid.js";
import type { Catalogue } from "../materials/types.js";
import type { NetworkDescription } from "../network/description.js";
import type { PlacedLaw } from "../ranges.js";
import type { MountHeat, Structure } from "./assemble.js";
import type { NodalShare } from "./links.js";
import type { PlainMount } from "./mount.js";
import type { Point } from "./things/spots.js";
import type { StageModel } from "./things/stage.js";

/** A load of the mount in time, by the nodes it falls on. */
export interface LoadInTime extends MountHeat {
  readonly name: string;
  readonly nodes: readonly NodalShare[];
}

/** A mount ready for a run in time. */
export interface InTime {
  readonly mount: PlainMount;
  readonly catalogue: Catalogue;
  readonly structure: Structure;
  /** How the stage is held or cooled. */
  readonly cooling: StageModel;
  /** Its nodes store heat and bear no load: loads come with the run. */
  readonly network: NetworkDescription;
  readonly loads: readonly LoadInTime[];
  /** The laws of its paths and stores, and the nodes that they are used between. */
  readonly laws: readonly PlacedLaw[];
  /** Nodes of each place, in the order of the heat; the die's cells for the die. */
  readonly nodes: ReadonlyMap<string, readonly string[]>;
  /** The cells of the mount's own die, where it is resolved. */
  readonly grid: Grid | undefined;
  /**
   * Where the heat of a hit enters.
   * @param die - by its name
   * @throws FieldError for a place off the die
   */
  hit(at: Point | undefined, field: string, die?: string): readonly NodalShare[];
  readonly warnings: readonly string[];
}
