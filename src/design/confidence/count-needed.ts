/**
 * How many of something, such as bonds, are needed to be sure enough.
 * @module
 */
import type { Mount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import { random } from "../../numerics/random.js";
import { share, wholeNumber } from "../../units/checks.js";
import { formatShare } from "../../units/format.js";
import { fewestThat, roomToCount } from "../sizing/size.js";
import { leavesRefused, type RangeTally } from "./sampled-ranges.js";
import { draws } from "./samples.js";
import type { Evaluated, UncertainMount } from "./uncertain-mount.js";
import type { UncertainModel } from "./variance-indices.js";

/** How sure, and how to count. */
export interface CountOptions {
  /** 0.95 by default. */
  readonly probability?: number;
  /** Points for each count, 256 by default. */
  readonly samples?: number;
  /** Seed of the points; 1 by default. */
  readonly seed?: number;
}

/**
 * A question for `measurementValues`: the smallest number of something, such as bonds, that hold with a
 * probability. Halving takes it that more never hold worse.
 * @param modelOf - the model with so many of them; its inputs are those of the model asked about
 * @param holds - whether a result is as it should be
 * @throws RangeError when even the most do not hold often enough
 * @example countNeeded((count) => model.withBonds(count), ({ margin }) => margin >= 0, { most: 300 })
 */
export function countNeeded<Result>(
  modelOf: (count: number) => Pick<UncertainModel<Result>, "evaluate">,
  holds: (result: Result) => boolean,
  options: CountOptions & {
    /** More than these do not fit. */
    readonly most: number;
  },
): (model: UncertainModel<Result>, replicate: number) => number {
  const { most, probability = 0.95, samples = 256, seed = 1 } = options;
  wholeNumber("most", most);
  share("probability", probability, "a probability");
  const models = new Map<number, Pick<UncertainModel<Result>, "evaluate">>();
  const modelWith = (count: number) => {
    const model = models.get(count) ?? modelOf(count);
    models.set(count, model);
    return model;
  };
  return (asked, replicate) => {
    const failures = (count: number, until: number) => {
      const model = modelWith(count);
      let failed = 0;
      for (const values of draws(asked, samples, random(seed, replicate))) {
        if (!holds(model.evaluate(values)) && ++failed > until) break;
      }
      return failed;
    };
    // With more failures than these it is too few, whatever the remaining points would say.
    const allowed = Math.floor(samples * (1 - probability) + 1e-9);
    const enough = (count: number) => failures(count, allowed) <= allowed;
    const found = fewestThat(enough, most, Math.ceil(most / 2));
    if (found !== undefined) return found;
    const best = 1 - failures(most, samples) / samples;
    throw new RangeError(
      `countNeeded: even ${most} hold with a probability of ${formatShare(best)} only, ` +
        `${formatShare(probability)} is asked for.`,
    );
  };
}

/**
 * The question how many bonds hold a mount's limit with a probability. A sample in which a law is refused
 * does not hold it.
 * @param tally - counts the samples of every number of bonds that is tried
 * @param compiled - the mount; narrowed inputs move it as they stand in the model that is asked about
 * @throws FieldError for a mount without bonds or limit, or on which no bond fits
 */
export function bondsNeeded(
  mount: Mount,
  compiled: UncertainMount,
  options: CountOptions,
  tally: RangeTally,
): (model: UncertainModel<Evaluated>, replicate: number) => number {
  const most = roomToCount(readMount(mount));
  const holds = ({ margin, left }: Evaluated) => {
    tally.count(left);
    return margin >= 0 && !leavesRefused(left, compiled.ranges);
  };
  return countNeeded((count) => compiled.withBonds(count), holds, { ...options, most });
}
