/**
 * How the first phonons of a hit are followed.
 * @module
 */
import { type SuperconductorOptions, superconductorFields } from "../../device/superconductor.js";
import * as read from "../../units/fields.js";
import type { Frequency, Length, Time } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";

/** Film of the pixels, spread evenly over the front. */
export interface PixelFilm {
  /** Name in the catalogue, or its numbers. */
  readonly superconductor: string | SuperconductorOptions;
  /** Of the film [m]. */
  readonly thickness: Uncertain<Length>;
  /** Share of the front that it covers, above 0 to 1. */
  readonly coverage: Uncertain<number>;
  /** Pixels along x. */
  readonly columns: number;
  /** Pixels along y. */
  readonly rows: number;
  /** Share of the phonons that pass into it; by diffuse mismatch when absent. */
  readonly transmission?: Uncertain<number>;
  /** Time in which a phonon of 2Δ breaks a pair [s]; the catalogue's when absent. */
  readonly pairBreakingTime?: Uncertain<Time>;
}

/** How the first phonons are followed. */
export interface BurstOptions {
  /** A superconducting film with pixels on the front; none when absent. */
  readonly film?: PixelFilm;
  /** For how long [s]; 1 ms when absent, and 2 µs where a sheet follows. */
  readonly until?: Uncertain<Time>;
  /** Packets, 4096 when absent. */
  readonly packets?: number;
  /** Of the random numbers, 1 when absent. */
  readonly seed?: number;
  /** Depth of the hit above the back [m]; all along a track through the die when absent. */
  readonly height?: Uncertain<Length>;
  /** Frequency at the start [Hz]; 3 THz when absent. */
  readonly frequency?: Uncertain<Frequency>;
  /** Share of these phonons that faces reflect like a mirror, 0 to 1; 0.02 when absent. */
  readonly mirrorShare?: Uncertain<number>;
}

const share = (least: number) =>
  read.number(`a share ${least > 0 ? "above 0" : "from 0"} to 1`, (x) => x <= 1 && x >= least);

export const burstFields = read.object<BurstOptions>({
  film: read.optional(
    read.object<PixelFilm>({
      superconductor: superconductorFields,
      thickness: read.quantity("length"),
      coverage: share(Number.MIN_VALUE),
      columns: read.count,
      rows: read.count,
      transmission: read.optional(share(Number.MIN_VALUE)),
      pairBreakingTime: read.optional(read.quantity("time")),
    }),
  ),
  until: read.optional(read.quantity("time")),
  packets: read.optional(read.count),
  seed: read.optional(read.count),
  height: read.optional(read.quantityFromZero("length")),
  frequency: read.optional(read.quantity("frequency")),
  mirrorShare: read.optional(share(0)),
});
