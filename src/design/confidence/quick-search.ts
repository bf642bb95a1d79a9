/**
 * Where to search for a number of bonds on a 2-D die: by the two-node model of it, corrected for numbers about
 * the one that it finds itself.
 * @module
 */
import { leastThatHolds } from "../sizing/size.js";
import { type Correction, noCorrection } from "./correction.js";
import { defaultRunner } from "./pool.js";
import type { RunOptions, SampleRunner } from "./samples.js";
import {
  correctedSamples,
  correctionOf,
  type Draw,
  type Levels,
  shareBelow,
} from "./two-levels.js";

/** The smallest number of bonds with a chance; undefined where all that fit have less. */
export async function fewestWith(
  probability: number,
  room: number,
  start: number,
  chanceOf: (bonds: number) => Promise<number>,
): Promise<number | undefined> {
  const search = leastThatHolds(room, start);
  let step = search.next();
  while (!step.done) step = search.next((await chanceOf(step.value)) >= probability);
  return step.value;
}

export type QuickSearch = Awaited<ReturnType<typeof searchedQuickly>>;

/**
 * What the two-node model of the die says of numbers of bonds, corrected for those about a guess.
 * @param room - most bonds @param begin - a number to begin with
 */
export async function searchedQuickly(
  levels: Levels,
  { replicates, each }: { readonly replicates: number; readonly each: number },
  probability: number,
  room: number,
  begin: number,
  options: Pick<RunOptions, "signal"> & { readonly runner?: SampleRunner },
) {
  const { runner = defaultRunner } = options;
  const still = { ...(options.signal && { signal: options.signal }) };
  const fewest = async (chanceOf: (bonds: number) => Promise<number>, start: number) =>
    (await fewestWith(probability, room, start, chanceOf)) ?? room;
  const roughly = (correction: Correction, few: number) => async (bonds: number) => {
    const of = { replicates, each: Math.min(each, few), bonds };
    return shareBelow(await correctedSamples(levels, correction, of, runner, still))[0];
  };
  const quick = await fewest(roughly(noCorrection, 64), begin);
  const about = [quick / 1.25, quick, Math.min(room, 1.25 * quick)].map(Math.round);
  const bonds = [...new Set(about)].filter((count) => count >= 1);
  const correction = await correctionOf(levels, bonds, runner, still);
  const known = new Map<number, readonly Float64Array[]>();
  const samples = async (count: number) => {
    const of = { replicates, each, bonds: count };
    const made =
      known.get(count) ?? (await correctedSamples(levels, correction, of, runner, still));
    known.set(count, made);
    return made;
  };
  const chanceOf = async (count: number) => shareBelow(await samples(count))[0];
  return {
    guess: await fewest(chanceOf, await fewest(roughly(correction, 256), quick)),
    correction,
    /** The samples that are solved with the 2-D die for every number. */
    draw: undefined as Draw | undefined,
    samples,
    /** The smallest number, from one near by and the chance that was found for it. */
    async fewest(start: number, found: number) {
      const off = found - (await chanceOf(start));
      return fewest(async (count) => (await chanceOf(count)) + off, start);
    },
  };
}
