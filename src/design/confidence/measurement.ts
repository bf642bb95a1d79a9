/**
 * What a measurement of one uncertain input would buy: how much narrower the band of a result becomes.
 *
 * An input is x = q(Φ(z)) with its quantile function q and z of the standard normal distribution, of
 * variance 1. A measurement whose error is normal in z with variance m² leaves z normal about μ with
 * variance s² = m²/(1 + m²), and μ, where it will turn out, is normal about 0 with variance 1 − s²:
 * what is known before and what is measured are combined, and over all outcomes nothing is gained or
 * lost (H. Raiffa and R. Schlaifer, Applied Statistical Decision Theory (1961), chapter 11, for the
 * normal process of known variance). For a log-normal input and an error in percent this is exact.
 *
 * The expected band after the measurement is the mean over μ, by the Gauss-Hermite rule of five points,
 * of the band with the input so narrowed; each on the same points, so that their scatter cancels.
 * @module
 */
import { asFactor, parseUncertainty } from "../../materials/uncertainty.js";
import type { Mount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import { normalQuantile, normalShare } from "../../numerics/distributions.js";
import { type Random, random } from "../../numerics/random.js";
import { wholeNumber } from "../../units/checks.js";
import { FieldError } from "../../units/errors.js";
import { formatNumber } from "../../units/format.js";
import type { ResultBasis } from "../../units/result.js";
import { roomToCount } from "../sizing/size.js";
import { quantileOf } from "./confidence.js";
import { talliedQuick } from "./corrected-mount.js";
import { type CorrelatedInputs, narrowedTogether } from "./correlated.js";
import { bondsNeeded } from "./count-needed.js";
import { type Accuracy, type Measurement, Measurements } from "./measurements.js";
import type { OutsideOptions } from "./sampled-ranges.js";
import { draws, meanAndError } from "./samples.js";
import { inputNamed } from "./uncertain-inputs.js";
import type { Evaluated, UncertainMountOptions } from "./uncertain-mount.js";
import {
  isModel,
  numberOf,
  type UncertainModel,
  type UncertainModelInput,
} from "./variance-indices.js";

/** What is asked of a model, before and after. */
export interface MeasurementOptions<Result = number> {
  /** The number of the result whose band is asked about; the result itself when it is a number. */
  readonly quantity?: (result: Result) => number;
  /**
   * Another question with a number for an answer, such as how many bonds are needed; the width of the
   * band, between 5 % and 95 % of the results, by default. It is asked for each replicate, and must
   * give the same answer to the same model and replicate.
   */
  readonly question?: (model: UncertainModel<Result>, replicate: number) => number;
  /** Unit of the answer; `K` by default. */
  readonly unit?: string;
  /** Points for a band, 128 by default. */
  readonly samples?: number;
  /** Independent sets of points, at least 2; 4 by default. An input takes 5 · sets · points evaluations. */
  readonly replicates?: number;
  /** Seed of the points; 1 by default. */
  readonly seed?: number;
}

/** Gauss-Hermite rule of five points for a standard normal variable. */
const root = Math.sqrt(10);
const outcomes = [
  [-Math.sqrt(5 + root), (7 - 2 * root) / 60],
  [-Math.sqrt(5 - root), (7 + 2 * root) / 60],
  [0, 8 / 15],
  [Math.sqrt(5 - root), (7 + 2 * root) / 60],
  [Math.sqrt(5 + root), (7 - 2 * root) / 60],
] as const;

/** What is asked of a mount, before and after. */
export type MountMeasurementOptions = Omit<MeasurementOptions<Evaluated>, "question"> &
  OutsideOptions &
  Pick<UncertainMountOptions, "catalogue" | "rows"> & {
    /**
     * `bonds needed`: the smallest number of bonds that meet the limit with `probability`. Or another question; the
     * width of the chip's band by default.
     */
    readonly question?: "bonds needed" | MeasurementOptions<Evaluated>["question"];
    /** With which the bonds asked for meet the limit; 0.95 by default. */
    readonly probability?: number;
  };

/**
 * What measurements of single inputs of a mount would buy.
 * @param accuracies - of each input that could be measured, by its name, field or row
 * @throws FieldError as `uncertainMount`, for an unknown input, an accuracy that is none, or an answer
 * that is not finite; RangeError when even all the bonds that fit do not meet the limit, or more
 * than 1 % of the samples leave a range beyond which a law is refused
 * @example measurementValues(mount, { "pads.thickness": "5 %" }, { question: "bonds needed" })
 */
export function measurementValues(
  mount: Mount,
  accuracies: Readonly<Record<string, Accuracy>>,
  options?: MountMeasurementOptions,
): Measurements;
/**
 * What measurements of single inputs of a model would buy.
 * @param accuracies - of each input that could be measured, by its name
 * @throws FieldError for an unknown input, an accuracy that is none, or an answer that is not finite
 * @example measurementValues(model, { "gold: electron-phonon coupling, coefficient": "20 %" },
 *   { quantity: ({ chip }) => chip })
 */
export function measurementValues<Result = number>(
  model: UncertainModel<Result>,
  accuracies: Readonly<Record<string, Accuracy>>,
  options?: MeasurementOptions<Result>,
): Measurements;
export function measurementValues<Result>(
  of: Mount | UncertainModel<Result>,
  accuracies: Readonly<Record<string, Accuracy>>,
  options: MountMeasurementOptions | MeasurementOptions<Result> = {},
): Measurements {
  if (isModel(of)) return valuesOf(of, accuracies, options as MeasurementOptions<Result>);
  const { question, ...own } = options as MountMeasurementOptions;
  const isCounting = question === "bonds needed";
  const counting = isCounting ? { counting: { most: roomToCount(readMount(of)) } } : {};
  // Where bonds are counted, samples of too few of them are no part of the answer.
  const accepted = isCounting ? { acceptOutside: true } : own;
  const { quick, model, tally, about: told } = talliedQuick(of, { ...own, ...counting }, accepted);
  const { expensive, scatter } = quick;
  const about = () => ({ ...told(), expensive, scatter });
  const ofChip = { quantity: ({ chip }: Evaluated) => chip, ...own };
  if (question !== "bonds needed") {
    return valuesOf(model, accuracies, { ...ofChip, ...(question && { question }) }, about);
  }
  const bonds = { question: bondsNeeded(of, quick.model, own, tally), unit: "" };
  return valuesOf(model, accuracies, { ...bonds, ...ofChip }, about);
}

function valuesOf<Result>(
  model: UncertainModel<Result>,
  accuracies: Readonly<Record<string, Accuracy>>,
  options: MeasurementOptions<Result>,
  about: () => ResultBasis & Pick<Measurements, "name" | "expensive" | "scatter"> = () => ({
    name: "",
    expensive: 0,
    scatter: 0,
  }),
): Measurements {
  const { samples = 128, replicates = 4, seed = 1, unit = "K" } = options;
  wholeNumber("samples", samples);
  if (wholeNumber("replicates", replicates) < 2) {
    throw new FieldError("replicates", "at least 2, to tell errors", replicates);
  }
  const names = Object.keys(accuracies);
  if (names.length === 0) throw new FieldError("accuracies", "at least one input", accuracies);
  const question =
    options.question ??
    ((asked: UncertainModel<Result>, replicate: number) =>
      bandWidth(asked, options.quantity, samples, random(seed, replicate)));
  const ask = (asked: UncertainModel<Result>, replicate: number, when: string) => {
    try {
      const answer = question(asked, replicate);
      if (Number.isFinite(answer)) return answer;
      throw new FieldError(`${when}: answer`, "a finite number", answer);
    } catch (error) {
      if (error instanceof RangeError) throw new RangeError(`${when}: ${error.message}`);
      throw error;
    }
  };
  const replicate = Array.from({ length: replicates }, (_, r) => r);
  const before = replicate.map((r) => ask(model, r, "before any measurement"));
  const all = names.map((asked): Measurement => {
    const accuracy = accuracies[asked]!;
    const input = inputNamed(model.inputs, asked, "measurement");
    const { name } = input;
    const remaining = remainingSpread(input, accuracy);
    const after = replicate.map((r) =>
      outcomes.reduce((sum, [place, weight]) => {
        const median = place * Math.sqrt(1 - remaining ** 2);
        const found = formatNumber(input.quantile(normalShare(median)), 2);
        const when = `${name}, if it is found to be ${found}${input.unit ? ` ${input.unit}` : ""}`;
        return sum + weight * ask(narrowed(model, name, { median, remaining }), r, when);
      }, 0),
    );
    const [saved, savedError] = meanAndError(before.map((answer, r) => answer - after[r]!));
    return {
      name,
      accuracy,
      remaining,
      before: meanAndError(before)[0],
      after: meanAndError(after)[0],
      saved,
      savedError,
    };
  });
  return new Measurements({ ...about(), all: all.sort((a, b) => b.saved - a.saved), unit });
}

/**
 * The model with one input known better, and with it those that vary together with it.
 * @param name - or field, or row, of the input
 * @param to - where its median lies and how far it still spreads, both in standard deviations of what
 * was known before
 * @throws FieldError for a name that is no input's
 */
export function narrowed<Result>(
  model: UncertainModel<Result>,
  name: string,
  to: { readonly median: number; readonly remaining: number },
): UncertainModel<Result> {
  const input = inputNamed(model.inputs, name, "measurement");
  const evaluate = (values: Float64Array) => model.evaluate(values);
  const index = model.inputs.indexOf(input);
  const { inputs, together = [] } = model;
  const isWith = ({ inputs }: CorrelatedInputs) => inputs.includes(index);
  if (together.some(isWith)) {
    const narrower = together.map((own) => (isWith(own) ? narrowedTogether(own, index, to) : own));
    return { inputs, together: narrower, evaluate };
  }
  const quantile = (u: number) =>
    input.quantile(normalShare(to.median + to.remaining * normalQuantile(u)));
  const narrower = inputs.map((each) => (each === input ? { ...each, quantile } : each));
  return { inputs: narrower, together, evaluate };
}

/** s: standard deviations left of one, once what was known and the measurement are combined. */
function remainingSpread(input: UncertainModelInput, accuracy: Accuracy): number {
  const field = `accuracy of ${input.name}`;
  const wanted = '"10 %" or "x1.5" (a factor either way), more than nothing';
  const read = /^x|%$/.test(String(accuracy).trim()) ? uncertaintyIn(accuracy) : undefined;
  if (!read || !(asFactor(read, 1) > 1)) throw new FieldError(field, wanted, accuracy);
  const [low, middle, high] = [0.05, 0.5, 0.95].map((u) => input.quantile(u)) as [
    number,
    number,
    number,
  ];
  const half = Math.log(asFactor(read, middle));
  // In ratios where the input is positive; in differences where it may be of either sign.
  const known = low > 0 ? Math.log(high / low) / 2 : (high - low) / 2;
  const measured = low > 0 ? half : Math.expm1(half) * Math.abs(middle);
  if (!(known > 0) || !(measured > 0)) return 0;
  return measured / Math.hypot(measured, known);
}

function uncertaintyIn(accuracy: Accuracy) {
  try {
    return parseUncertainty(accuracy);
  } catch {
    return undefined;
  }
}

/** Between 5 % and 95 % of the results. */
function bandWidth<Result>(
  model: UncertainModel<Result>,
  quantity: ((result: Result) => number) | undefined,
  samples: number,
  scrambling: Random,
): number {
  const results: number[] = [];
  for (const values of draws(model, samples, scrambling)) {
    results.push(numberOf(model, values, quantity));
  }
  results.sort((a, b) => a - b);
  return quantileOf(results, 0.95) - quantileOf(results, 0.05);
}
