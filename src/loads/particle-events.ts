/**
 * Particles as single hits over a time.
 * @module
 */
import { type Random, random } from "../numerics/random.js";
import { anObject, positive, wholeNumber } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { formatQuantity } from "../units/format.js";
import type { Time } from "../units/quantity.js";
import type { ParticleSource, TimedHit } from "./particle-source.js";

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
    throw new FieldError(
      `${field}.duration`,
      `at most ${formatQuantity(limit / rate, "s")}, in which ${limit} hits come on average (raise \`most\` for more)`,
      duration,
    );
  }
  const hits = sources.flatMap((source, i) => hitsOf(source, time, random(seed, i)));
  return hits.sort((a, b) => a.time - b.time);
}

function hitsOf(source: ParticleSource, duration: number, stream: Random): TimedHit[] {
  const hits: TimedHit[] = [];
  let time = 0;
  for (;;) {
    const hit = source.draw(stream);
    time += hit.wait;
    if (!(time <= duration)) return hits;
    hits.push({ ...hit, time });
  }
}
