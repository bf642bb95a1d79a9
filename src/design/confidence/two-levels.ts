/**
 * The chance that a mount with a 2-D die meets its limit, from many samples of the two-node model of its die
 * and few of the 2-D one: no bias of the two-node model is left, and the error is told.
 *
 * A fit to some solves of both makes the rise of the two-node model that of the 2-D die but for a thousandth
 * or so, ln(rise/two-node rise) = a + Σ bᵢzᵢ with zᵢ the unknowns in standard deviations. So corrected it
 * says in almost every sample on which side of the limit the 2-D die is. Samples are then drawn, near the
 * limit more than elsewhere, and solved with the 2-D die; what these correct is added, each by the inverse
 * of its chance to be drawn (numerics/two-phase.ts). However poor the fit is, that has no bias.
 * @module
 */

import type { Catalogue } from "../../materials/types.js";
import { normalQuantile, normalShare } from "../../numerics/distributions.js";
import { random } from "../../numerics/random.js";
import { drawAlong, drawChances } from "../../numerics/two-phase.js";
import { rangeKey } from "../../ranges.js";
import { type Correction, factorOf, fitCorrection, noCorrection, scoresOf } from "./correction.js";
import { bitsOf, type SampledRange } from "./sampled-ranges.js";
import {
  chunksOf,
  compiledOnce,
  forPoints,
  joined,
  meanAndError,
  perSample,
  type RunOptions,
  type SampleChunk,
  type SampleJob,
  type SampleRunner,
} from "./samples.js";
import { inputKey, type UncertainInput } from "./uncertain-inputs.js";

/** Arrangement of the sequence from which the fit is made; those of the samples are below. */
const pilot = 64;
/** Streams of random numbers from here on say which samples are drawn. */
const drawing = 128;
/** Samples of a chunk, by the two-node model and by the 2-D die. */
const longest = { quick: 2048, own: 16 };
/** Share of the drawn that is drawn without regard to the limit. */
const anywhere = 0.4;
/** By how much the scatter of the fit is taken wider where it says what may lie beyond the limit. */
const caution = 2;
/** Least and largest number drawn. */
const toDraw = { least: 32, most: 16_384 };

/** A sample that was drawn: chip and limit as corrected, and of the 2-D die [K]. */
interface DrawnSample {
  readonly weight: number;
  readonly quick: readonly [chip: number, limit: number];
  readonly own: readonly [chip: number, limit: number];
}

/** What the 2-D die says of samples that the two-node model answers for. */
export interface Drawn {
  /** By replicate. */
  readonly drawn: readonly (readonly DrawnSample[])[];
  /** Solves of the 2-D die, those of the fit among them. */
  readonly expensive: number;
  /** Standard error of the corrected rise, in parts of it. */
  readonly relative: number;
  /** Standard error of the chance that is left by what was not drawn, as the fit's scatter has it. */
  readonly leftOut: number;
}

/** Samples with the corrected rise, and what the 2-D die says of some. */
export type Levelled = Awaited<ReturnType<typeof drawnFrom>>;

export type Levels = ReturnType<typeof levelsOf>;

/** A mount, whose own model is compiled, by the 2-D die and by the two-node model of it. */
export function levelsOf(
  own: SampleJob,
  inputs: readonly UncertainInput[],
  ranges: readonly SampledRange[],
  catalogue: Catalogue,
) {
  const die = "two nodes";
  const compiled = compiledOnce(own.mount, { catalogue, rows: own.recipe.rows, die });
  const place = new Map(inputs.map((input, i) => [inputKey(input), i]));
  const at = compiled.inputs.map((input) => place.get(inputKey(input))!);
  const quick: SampleJob = {
    ...own,
    recipe: compiled.recipe,
    quick: { die, inputs: inputs.length, at },
  };
  const bit = new Map(ranges.map(({ name, range }, k) => [rangeKey(name, range), k]));
  const bits = compiled.ranges.map(({ name, range }) => bit.get(rangeKey(name, range)));
  const known = new Map<number, number>();
  /** Bits of the 2-D die's ranges from those of the two-node model's. */
  const translated = (left: number) => {
    const found = known.get(left) ?? bitsOf(left, bits);
    known.set(left, found);
    return found;
  };
  return { own, quick, inputs, translated };
}

/** Solves of the 2-D die that a correction takes. */
export function pilotSolves({ inputs }: Pick<Levels, "inputs">): number {
  return Math.max(24, 2 * (inputs.length + 4));
}

/**
 * Fits the correction.
 * @param bonds - the numbers of bonds to fit it for, the middle one about which; the job's own when empty
 */
export async function correctionOf(
  { own, quick, inputs }: Levels,
  bonds: readonly number[],
  runner: SampleRunner,
  options: RunOptions,
): Promise<Correction> {
  const groups = bonds.length > 0 ? bonds : [own.bonds];
  const each = Math.ceil(pilotSolves({ inputs }) / groups.length);
  const about = bonds.length > 1 ? bonds[Math.floor(bonds.length / 2)]! : undefined;
  const rows: Float64Array[] = [];
  const values: number[] = [];
  for (const [g, count] of groups.entries()) {
    const with_ = (job: SampleJob) => (count === undefined ? job : { ...job, bonds: count });
    const from = g * each;
    const chunks = chunksOf(1, each, longest.own).map((chunk) => ({
      ...chunk,
      replicate: pilot,
      from: from + chunk.from,
    }));
    const [expensive, cheap] = [
      joined(await runner(with_(own), chunks, options)),
      joined(await runner(with_(quick), chunks, { ...options, progress: () => {} })),
    ];
    const whole = { replicate: pilot, from, count: each };
    forPoints(own.seed, whole, inputs.length, (point, k) => {
      const ratio = Math.log(riseOf(expensive, k) / riseOf(cheap, k));
      if (!Number.isFinite(ratio)) return;
      rows.push(deviations(point, inputs.length, about && Math.log(count! / about)));
      values.push(ratio);
    });
  }
  const expensive = each * groups.length;
  const needed = (rows[0]?.length ?? 0) + 8;
  // Where hardly any sample has a steady state there is nothing to fit, and all is left to the drawn.
  return values.length > needed
    ? { ...fitCorrection(rows, values), expensive, about }
    : { ...noCorrection, expensive, about };
}

/** The unknowns in standard deviations, and ln of the number of bonds behind them. */
function deviations(point: ArrayLike<number>, inputs: number, bonds: number | undefined) {
  const row = new Float64Array(inputs + (bonds === undefined ? 0 : 1));
  for (let i = 0; i < inputs; i++) row[i] = normalQuantile(point[i]!);
  if (bonds !== undefined) row[inputs] = bonds;
  return row;
}

/** Rise of the chip above the stage in sample k [K]. */
function riseOf(samples: Float64Array, k: number): number {
  return samples[perSample * k]! - samples[perSample * k + 1]!;
}

/** Scores of all samples about the middle number of bonds, two numbers of each, by replicate. */
const knownScores = new WeakMap<Correction, Map<number, readonly Float64Array[]>>();

function scoresOfAll(
  correction: Correction,
  { quick, inputs }: Pick<Levels, "quick" | "inputs">,
  { replicates, each }: { readonly replicates: number; readonly each: number },
): readonly Float64Array[] {
  const known = knownScores.get(correction) ?? new Map<number, readonly Float64Array[]>();
  knownScores.set(correction, known);
  const found = known.get(each);
  if (found) return found;
  const shift = correction.about === undefined ? undefined : 0;
  const made = Array.from({ length: replicates }, (_, replicate) => {
    const all = new Float64Array(2 * each);
    forPoints(quick.seed, { replicate, from: 0, count: each }, inputs.length, (point, k) => {
      all.set(scoresOf(correction, deviations(point, inputs.length, shift)), 2 * k);
    });
    return all;
  });
  known.set(each, made);
  return made;
}

/** Samples of the two-node model, by replicate, with the chip as the correction has it. */
export async function correctedSamples(
  levels: Pick<Levels, "quick" | "inputs" | "translated">,
  correction: Correction,
  { replicates, each, bonds }: { replicates: number; each: number; bonds: number | undefined },
  runner: SampleRunner,
  options: RunOptions,
): Promise<readonly Float64Array[]> {
  const { quick, inputs, translated } = levels;
  const job = bonds === undefined ? quick : { ...quick, bonds };
  const parts = await runner(job, chunksOf(replicates, each, longest.quick), options);
  const all = joined(parts);
  const { about, linear, bent } = correction;
  const shift = about === undefined ? 0 : Math.log(bonds! / about);
  const [more, moreRest] = [linear, bent].map(({ slopes }) =>
    about === undefined ? 0 : shift * slopes[inputs.length]!,
  );
  const scores =
    bent.slopes.length > 0 ? scoresOfAll(correction, levels, { replicates, each }) : [];
  return Array.from({ length: replicates }, (_, replicate) => {
    const own = all.slice(replicate * each * perSample, (replicate + 1) * each * perSample);
    const its = scores[replicate];
    for (let k = 0, at = 0; k < each; k++, at += perSample) {
      const stage = own[at + 1]!;
      const factor = its
        ? factorOf(correction, [its[2 * k]! + more!, its[2 * k + 1]! + moreRest!])
        : 1;
      own[at] = stage + (own[at]! - stage) * factor || own[at]!;
      own[at + 3] = translated(own[at + 3]!);
    }
    return own;
  });
}

/** Share of all samples at or below their limit, and its standard error. */
export function shareBelow(replicates: readonly Float64Array[]): readonly [number, number] {
  const each = replicates.map((own) => {
    let below = 0;
    for (let at = 0; at < own.length; at += perSample) if (own[at]! <= own[at + 2]!) below++;
    return (below * perSample) / own.length;
  });
  return meanAndError(each);
}

/** Which samples are drawn, and with what chances. */
export interface Draw {
  readonly chances: Float64Array;
  /** By replicate, rising. */
  readonly points: readonly (readonly number[])[];
}

/**
 * Draws samples and solves them with the 2-D die.
 * @param within - standard error of the chance that the draw may bring
 * @param draw - made for a number of bonds near by: the same samples, so that both are off alike
 */
export async function drawnFrom(
  { own }: Pick<Levels, "own">,
  { bent, expensive }: Correction,
  replicates: readonly Float64Array[],
  { bonds, within, draw }: { bonds: number | undefined; within: number; draw?: Draw | undefined },
  runner: SampleRunner,
  options: RunOptions,
) {
  const each = replicates[0]!.length / perSample;
  const all = replicates.length * each;
  const beyond = beyondLimit(replicates, bent.scatter);
  const [careful, likely] = [beyond(caution), beyond(1)];
  const sum = careful.reduce((total, chance) => total + Math.sqrt(chance), 0);
  const weights = careful.map(
    (chance) => anywhere / all + (sum > 0 ? ((1 - anywhere) * Math.sqrt(chance)) / sum : 0),
  );
  const leaves = (chances: Float64Array, by: Float64Array) =>
    Math.sqrt(chances.reduce((total, p, k) => total + (1 / p - 1) * by[k]!, 0)) / all;
  const taken = (): Draw => {
    let count = toDraw.least;
    let chances = drawChances(weights, count);
    while (leaves(chances, likely) > within && count < Math.min(toDraw.most, all)) {
      count *= 2;
      chances = drawChances(weights, Math.min(count, all));
    }
    const points = replicates.map((samples, replicate) => {
      const order = Array.from({ length: each }, (_, k) => k);
      const above = order.map((k) => Math.log(nearness(samples, k)) || 0);
      order.sort((a, b) => above[a]! - above[b]!);
      const chance = chances.subarray(replicate * each, (replicate + 1) * each);
      const mine = drawAlong(order, chance, random(own.seed, drawing + replicate));
      return mine.sort((a, b) => a - b);
    });
    return { chances, points };
  };
  const fits = draw?.chances.length === all && leaves(draw.chances, likely) <= within;
  const now = fits ? draw! : taken();
  const { chances } = now;
  const chunks: SampleChunk[] = [];
  now.points.forEach((points, replicate) => {
    for (let from = 0; from < points.length; from += longest.own) {
      const some = points.slice(from, from + longest.own);
      chunks.push({ replicate, from: 0, count: some.length, points: some });
    }
  });
  const job = bonds === undefined ? own : { ...own, bonds };
  const results = await runner(job, chunks, options);
  const drawnSamples = replicates.map((): DrawnSample[] => []);
  /** The ranges that the 2-D die left in each drawn sample, those that the two-node model left, its weight. */
  const lefts: (readonly [own: number, quick: number, weight: number])[] = [];
  chunks.forEach(({ replicate, points }, c) => {
    points!.forEach((k, i) => {
      const weight = 1 / chances[replicate * each + k]!;
      const [quick, by] = [replicates[replicate]!, results[c]!];
      const [q, o] = [perSample * k, perSample * i];
      drawnSamples[replicate]!.push({
        weight,
        quick: [quick[q]!, quick[q + 2]!],
        own: [by[o]!, by[o + 2]!],
      });
      lefts.push([by[o + 3]!, quick[q + 3]!, weight]);
    });
  });
  const drawn: Drawn = {
    drawn: drawnSamples,
    expensive: expensive + lefts.length,
    relative: bent.error,
    leftOut: leaves(chances, likely),
  };
  return { ...drawn, lefts, draw: now };
}

/** The limit's rise over that of the chip; above 1 where the limit is met. NaN where there is none. */
function nearness(samples: Float64Array, k: number): number {
  const at = perSample * k;
  const stage = samples[at + 1]!;
  return (samples[at + 2]! - stage) / (samples[at]! - stage);
}

/** For each sample the chance that the 2-D die is on the other side of its limit. */
function beyondLimit(replicates: readonly Float64Array[], scatter: number) {
  return (times: number) => {
    const each = replicates[0]!.length / perSample;
    const chances = new Float64Array(replicates.length * each);
    replicates.forEach((samples, r) => {
      for (let k = 0; k < each; k++) {
        const chip = samples[perSample * k]!;
        const limit = samples[perSample * k + 2]!;
        const away = Math.abs(Math.log(nearness(samples, k)));
        // Without a steady state by the two-node model, or a rise, nothing is known of the other.
        const known = Number.isFinite(chip) && !Number.isNaN(away);
        // Far out it is rounding, which may be below 0.
        const share = known ? Math.max(0, normalShare(-away / (times * scatter + 1e-9))) : 0.25;
        chances[r * each + k] = Number.isNaN(limit) && known ? 0 : share;
      }
    });
    return chances;
  };
}
