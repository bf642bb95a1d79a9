/**
 * Particles that come one by one: single hits, and the sources they are drawn from.
 * @module
 */
import type { Random } from "../numerics/random.js";
import type { Provenance } from "../provenance.js";

/** A place on the die, from its lower left corner [m]. */
export interface HitPlace {
  /** From the left edge, along the width [m]. */
  readonly x: number;
  /** From the lower edge, along the length [m]. */
  readonly y: number;
}

/** One particle. */
export interface Hit {
  /** Since the one before it of its source [s]. */
  readonly wait: number;
  /** Left in the die [J]; greater than 0. */
  readonly energy: number;
  /** Middle of its way through the die; absent for what is not a die. */
  readonly place?: HitPlace;
  /** Name of its source. */
  readonly source: string;
  /** Length of its way through the die, where it has one [m]. */
  readonly path?: number;
}

/** One particle at its time. */
export interface TimedHit extends Hit {
  /** Since the start [s]. */
  readonly time: number;
}

/** Particles of one kind, which come one by one and know nothing of each other. */
export interface ParticleSource {
  readonly name: string;
  /** Mean number [1/s]; `rate` × `energy` is the power of the load of the same options. */
  readonly rate: number;
  /** Mean energy of a hit [J]. */
  readonly energy: number;
  /** The next hit; the waits are those of a Poisson process. */
  draw(random: Random): Hit;
  /** The numbers it was made of. */
  readonly provenance: readonly Provenance[];
}
