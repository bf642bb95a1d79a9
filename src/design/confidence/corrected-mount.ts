/**
 * A mount with a 2-D die that answers in microseconds: the two-node model of the die, its rise corrected to
 * that of the 2-D one by a fit (two-levels.ts). For questions that ask for ten thousands of solves; what
 * the fit leaves is told, or taken out by a few solves of the 2-D die.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import { dieModel } from "../../mount/assemble.js";
import type { Mount } from "../../mount/mount.js";
import { provenanceLater } from "../../mount/numbers.js";
import { readMount } from "../../mount/read.js";
import { isResolved } from "../../mount/things/die.js";
import { normalQuantile } from "../../numerics/distributions.js";
import { random } from "../../numerics/random.js";
import { rangeKey } from "../../ranges.js";
import { type Correction, correctionAt, fitCorrection } from "./correction.js";
import { evaluated, unsettled } from "./evaluated.js";
import { bitsOf, type OutsideOptions } from "./sampled-ranges.js";
import { draws } from "./samples.js";
import { pilotSolves } from "./two-levels.js";
import { inputKey, type UncertainInput } from "./uncertain-inputs.js";
import {
  tallied,
  type UncertainMount,
  type UncertainMountOptions,
  uncertainMount,
} from "./uncertain-mount.js";

/** By what factors around the mount's own number of bonds the fit is made, where they are to be counted. */
const counts = [0.5, 0.75, 1, 1.4, 2];

/**
 * Compiles a mount for many solves.
 * @param options - counting: numbers of bonds from half to twice the mount's own will be asked for
 * @returns the model that answers; of a 2-D die that die's own, how many solves of it the fit took, and the
 * standard deviation of what the fit leaves, in parts of the rise
 * @throws as `uncertainMount`
 */
export function quickMount(
  mount: Mount,
  options: Pick<UncertainMountOptions, "catalogue" | "rows"> & {
    readonly counting?: { readonly most: number };
    readonly seed?: number;
  } = {},
) {
  const { catalogue = standardCatalogue(), rows = "all", counting, seed = 1 } = options;
  const own = uncertainMount(mount, { catalogue, rows });
  const plain = readMount(mount);
  if (!isResolved(dieModel(plain))) return { model: own, own: undefined, expensive: 0, scatter: 0 };
  const die = "two nodes";
  const quick = uncertainMount(mount, { catalogue, rows: own.recipe.rows, die });
  const place = new Map(own.inputs.map((input, i) => [inputKey(input), i]));
  const at = quick.inputs.map((input) => place.get(inputKey(input))!);
  const bit = new Map(own.ranges.map(({ name, range }, k) => [rangeKey(name, range), k]));
  const bits = quick.ranges.map(({ name, range }) => bit.get(rangeKey(name, range)));
  const see = own.inputs.map(deviationOf);
  const gathered = (values: Float64Array) => Float64Array.from(at, (i) => values[i]!);

  const about = plain.bonds?.count;
  const groups: readonly (number | undefined)[] =
    counting && about !== undefined
      ? [...new Set(counts.map((c) => Math.max(1, Math.min(counting.most, Math.round(c * about)))))]
      : [undefined];
  const isCounted = groups.length > 1;
  const rowOf = (values: Float64Array, bonds: number | undefined) => {
    const row = new Float64Array(see.length + (isCounted ? 1 : 0));
    for (let i = 0; i < see.length; i++) row[i] = see[i]!(values[i]!);
    if (isCounted) row[see.length] = Math.log((bonds ?? about!) / about!);
    return row;
  };
  const fitRows: Float64Array[] = [];
  const ratios: number[] = [];
  // Twice what samples take, since here nothing else corrects what the fit leaves.
  const each = Math.ceil((2 * pilotSolves(own)) / groups.length);
  for (const [g, bonds] of groups.entries()) {
    const [expensive, cheap] = [own, quick].map((m) =>
      bonds === undefined ? m : m.withBonds(bonds),
    );
    for (const values of draws(own, each, random(seed, 1024 + g))) {
      const [found, guess] = [expensive!.evaluate(values), cheap!.evaluate(gathered(values))];
      const ratio = Math.log((found.chip - found.stage) / (guess.chip - guess.stage));
      if (!Number.isFinite(ratio)) continue;
      fitRows.push(rowOf(values, bonds));
      ratios.push(ratio);
    }
  }
  const fit: Correction = { ...fitCorrection(fitRows, ratios), expensive: each * groups.length };
  const { name, inputs, medians, ranges, together, pairs } = own;
  const corrected = (by: UncertainMount, bonds?: number): UncertainMount => ({
    name,
    inputs,
    medians,
    ranges,
    together,
    pairs,
    get warnings() {
      return own.warnings;
    },
    recipe: own.recipe,
    evaluate(values) {
      const { chip, stage, limit, left } = by.evaluate(gathered(values));
      if (!Number.isFinite(chip)) return unsettled;
      const rise = (chip - stage) * correctionAt(fit, rowOf(values, bonds));
      return evaluated(stage + rise, stage, limit, bitsOf(left, bits));
    },
    withBonds: (count) => corrected(by.withBonds(count), count),
  });
  return { model: corrected(quick), own, expensive: fit.expensive, scatter: fit.bent.scatter };
}

/**
 * A mount for many solves, a count of the samples that leave ranges of all that is asked of it, and what is told
 * of the answer.
 * @throws RangeError by `about`, where more samples left a range than are accepted
 */
export function talliedQuick(
  mount: Mount,
  options: NonNullable<Parameters<typeof quickMount>[1]>,
  accepted: OutsideOptions,
) {
  const quick = quickMount(mount, options);
  const { model, tally } = tallied(quick.model);
  const about = () => ({
    name: mount.name,
    warnings: [...tally.warnings("samples", accepted), ...model.warnings],
    provenance: provenanceLater(mount, options.catalogue),
  });
  return { quick, model, tally, about };
}

/** An input's value in standard deviations about its median, as if it were normal or log-normal. */
function deviationOf({ low, high, median }: UncertainInput): (value: number) => number {
  const within = 2 * normalQuantile(0.95);
  if (low > 0) {
    const sigma = Math.log(high / low) / within || 1;
    return (value) => Math.log(value / median) / sigma;
  }
  const sigma = (high - low) / within || 1;
  return (value) => (value - median) / sigma;
}
