/**
 * What a kind of load is: the fields its user writes, and the heat it brings. A load is added by one file
 * with such a constant, and its line in the list of kinds.
 * @module
 */
import type { Catalogue } from "../materials/types.js";
import type { Random } from "../numerics/random.js";
import type { Field, Plain } from "../units/fields.js";
import type { HeatLoad } from "./heat-load.js";
import type { HitPlace, ParticleSource } from "./particle-source.js";
import type { ReadoutLaw } from "./readout.js";

/** What a load may know of the mount around it. */
export interface LoadContext {
  /** Under which the budget shows it. */
  readonly name: string;
  /** Its path in the mount, for errors: `loads[0]`. */
  readonly field: string;
  /** What it falls on. */
  readonly on: "die" | "box";
  /** Data of the materials. */
  readonly catalogue: Catalogue;
  /** The die it falls on; sides and thickness in metres. */
  readonly die: {
    readonly material: string;
    readonly width: number;
    readonly length: number;
    readonly thickness: number;
  };
}

/** Whether a load falls by a map on the die, or on the box; on die or box as a whole; or always on the die. */
export type Falls = "by map" | "on die or box" | "on the die";

/** A kind of load. */
export interface LoadKind<Options, F extends Falls = "by map"> {
  /** Reads the options; `kind`, `on` and `map` are the mount's and not among them. */
  readonly fields: Field<Options>;
  /** Where it may fall. */
  readonly falls: F;
  /** The heat [W], with its formula and sources. @throws FieldError */
  heat(options: Plain<Options>, context: LoadContext): HeatLoad;
  /** Temperature given for the coldest end of what brings the heat [K], which it should meet there. */
  coldEnd?(options: Plain<Options>): number;
  /**
   * How the heat depends on the chip's temperature; undefined, or absent, where it does not.
   * @throws FieldError
   */
  law?(options: Plain<Options>, context: LoadContext): ReadoutLaw | undefined;
  /**
   * The same as single hits, of loads that are particles.
   * @param place - draws where a hit falls; as the kind has it when absent
   * @throws FieldError
   */
  hits?(
    options: Plain<Options>,
    context: LoadContext,
    place?: (random: Random) => HitPlace,
  ): ParticleSource;
}
