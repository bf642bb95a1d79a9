/**
 * What a kind of load is: the fields its user writes, and the heat it brings. A load is added by one file
 * with such a constant, and its line in the list of kinds.
 * @module
 */
import type { Catalogue } from "../materials/types.js";
import type { Random } from "../numerics/random.js";
import type { Field, Plain } from "../units/fields.js";
import type { HeatLoad } from "./heat-load.js";
import type { LoadMap } from "./load-map.js";
import type { HitPlace, ParticleSource } from "./particle-source.js";
import type { ReadoutLaw } from "./readout.js";

/** What a load may know of the mount around it. */
export interface LoadContext {
  /** Under which the budget shows it. */
  readonly name: string;
  /** Its path in the mount, for errors: `loads[0]`. */
  readonly field: string;
  /** What it falls on: the die, the box, or a piece of the path to the stage by its name. */
  readonly on: string;
  /** Whether its user says where on the die it falls. */
  readonly isMapped?: boolean;
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

/** Whether a load falls on the die or, when its user says so, elsewhere; or always on the die. */
export type Falls = "by map" | "on the die";

/** A part of a load that lands in a place of its own. */
export interface Landing<Options> {
  /** Of the part, behind the load's own name. */
  readonly name: string;
  /** Of a load that is this part alone. */
  readonly options: Plain<Options>;
  /** What it falls on; as the load does when absent. */
  readonly on?: string;
  /** Where on the die; as the load does when absent. */
  readonly map?: Plain<LoadMap>;
}

/** A kind of load. */
export interface LoadKind<Options, F extends Falls = "by map"> {
  /** Reads the options; `kind`, `on` and `map` are the mount's and not among them. */
  readonly fields: Field<Options>;
  /** Type only: the options as a user writes them, which takes a compiler less than to infer them. */
  readonly written?: Options;
  /** Where it may fall; by map when absent. */
  readonly falls?: F;
  /** Where it falls on the die when its user gives no map; evenly when absent. */
  map?(options: Plain<Options>): Plain<LoadMap> | undefined;
  /** Its parts by where they land; the whole of it lands as the load says when absent, or of one part. */
  landings?(options: Plain<Options>): readonly Landing<Options>[];
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
