/**
 * Particles that come one by one: the sources they are drawn from, and all hits of a time.
 * @module
 */
import { type Random, random } from "../numerics/random.js";
import type { Provenance } from "../provenance.js";
import { anObject, positive, wholeNumber } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { formatQuantity } from "../units/format.js";
import type { Time } from "../units/quantity.js";

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

/** What to draw. */
export interface HitChoice {
  readonly duration: Time;
  /** Whole number; the same one gives the same hits. */
  readonly seed: number;
  /** Refuse more than so many hits on average, 100 000 by default. */
  readonly most?: number;
}

/**
 * All hits of several sources over a time, in its order. Each source has a stream of random numbers of
 * its own, by its place in the list, so that one more at the end leaves the others' hits as they were.
 * @throws FieldError when more hits are to be expected than `most`, or for a bad duration or seed
 * @example particleHits([muonHits({ material: "silicon", width: "10 mm", length: "10 mm",
 *   thickness: "0.5 mm" })], { duration: "1 h", seed: 1 })
 */
export function particleHits(
  sources: readonly ParticleSource[],
  choice: HitChoice,
  field = "hits",
): readonly TimedHit[] {
  const { duration, seed, most = 100_000 } = anObject(field, choice);
  const time = positive(`${field}.duration`, duration, "time");
  const limit = wholeNumber(`${field}.most`, most);
  const rate = sources.reduce((sum, source) => sum + source.rate, 0);
  if (rate * time > limit) {
    const longest = formatQuantity(limit / rate, "s");
    const wanted = `at most ${longest}, in which ${limit} hits come on average (raise \`most\` for more)`;
    throw new FieldError(`${field}.duration`, wanted, duration);
  }
  return sources
    .flatMap((source, i) => hitsOf(source, time, random(seed, i)))
    .sort((a, b) => a.time - b.time);
}

function hitsOf(source: ParticleSource, duration: number, stream: Random): TimedHit[] {
  const hits: TimedHit[] = [];
  let time = 0;
  for (;;) {
    const hit = source.draw(stream);
    time += hit.wait;
    if (!(time <= duration)) return hits;
    hits.push({ time, ...hit });
  }
}
