/**
 * What share of a result's variance each uncertain input brings, alone and together with others.
 *
 * Inputs that vary together count as one. For f of independent inputs x₁ … x_k with variance V (I. M. Sobol', Global sensitivity indices for
 * nonlinear mathematical models, Math. Comput. Simul. 55, 271 (2001)):
 *   first-order index  Sᵢ = V[E(f | xᵢ)]/V     what would go if xᵢ were known
 *   total index        Tᵢ = E[V(f | all but xᵢ)]/V   what would stay if all but xᵢ were known
 * Tᵢ − Sᵢ is the interaction of xᵢ with the others. Two independent sets of points A and B, and for each input A with
 * that input from B (Aᵢ), give
 *   Sᵢ = mean f(B)·(f(Aᵢ) − f(A)) / V          (A. Saltelli et al., Comput. Phys. Commun. 181, 259
 *                                               (2010), table 2 b)
 *      = 1 − mean (f(B) − f(Aᵢ))²/2 / V    which scatters less where Sᵢ is more than a half (Jansen)
 *   Tᵢ = mean (f(A) − f(Aᵢ))²/2 / V            (M. J. W. Jansen, Comput. Phys. Commun. 117, 35 (1999))
 * on points of a scrambled Sobol' sequence. Several scramblings, independent of each other, give the
 * standard error of each index.
 * @module
 */

import type { Mount } from "../../mount/mount.js";
import { random } from "../../numerics/random.js";
import { mostDimensions, Sobol } from "../../numerics/sobol.js";
import { wholeNumber } from "../../units/checks.js";
import { FieldError } from "../../units/errors.js";
import { formatNumber } from "../../units/format.js";
import { Result, type ResultBasis, type ResultContent } from "../../units/result.js";
import type { Table } from "../../units/table.js";
import { talliedQuick } from "./corrected-mount.js";
import { type CorrelatedInputs, correlate } from "./correlated.js";
import type { OutsideOptions } from "./sampled-ranges.js";
import { meanAndError } from "./samples.js";
import { inputNamed, type Named } from "./uncertain-inputs.js";
import type { Evaluated, UncertainMountOptions } from "./uncertain-mount.js";

/** Indices of one input, or of several that vary together; each with its standard error. */
export interface VarianceIndex {
  /** The input. */
  readonly name: string;
  /** Share of the variance that would go if it were known; rounding may leave it below 0. */
  readonly first: number;
  /** Standard error of `first`. */
  readonly firstError: number;
  /** Share of the variance that would stay if all else were known. */
  readonly total: number;
  /** Standard error of `total`. */
  readonly totalError: number;
}

/** Indices of a model's inputs, ready to print. */
export class VarianceIndices extends Result {
  /** The mount's name; empty for another model. */
  declare readonly name: string;
  /** Largest total index first. */
  declare readonly indices: readonly VarianceIndex[];
  /** Of the result, in its unit. */
  declare readonly mean: number;
  /** Of the result, in its unit squared. */
  declare readonly variance: number;
  /** How often the model was evaluated. */
  declare readonly evaluations: number;
  /** How often of these a 2-D die; the others by a two-node model of it, corrected. */
  declare readonly expensive: number;

  /** @internal Made by `varianceIndices`. */
  constructor(content: ResultContent<VarianceIndices, "of" | "interactions">) {
    super(content);
  }

  /** The index of an input. @throws FieldError for a name that has none */
  of(name: string): VarianceIndex {
    return inputNamed(this.indices, name, "variance indices");
  }

  /** Share of the variance that no input brings alone. */
  get interactions(): number {
    return 1 - this.indices.reduce((sum, { first }) => sum + first, 0);
  }

  protected get answer(): string {
    const { name, total, totalError } = this.indices[0]!;
    return total === 0
      ? "The result does not vary."
      : `The input with the largest total-effect index is ${name}, ${withError(total, totalError)}.`;
  }

  protected tables(): readonly Table[] {
    return [
      {
        title: "Shares of the variance, with their standard errors",
        columns: ["input", "alone", "alone and with others"],
        numbersFrom: 1,
        rows: this.indices.map(({ name, first, firstError, total, totalError }) => [
          name,
          { value: first, error: firstError, unit: "", text: withError(first, firstError) },
          { value: total, error: totalError, unit: "", text: withError(total, totalError) },
        ]),
      },
    ];
  }
}

/** A share and its standard error, with as many digits as that leaves, two at most: `(31.4 ± 0.2) %`. */
function withError(share: number, error: number): string {
  const [value, off] = [100 * share, 100 * error];
  if (off < 5e-3) return Math.abs(value) < 5e-3 ? "<0.01 %" : `${value.toFixed(2)} %`;
  const places = Math.min(2, Math.max(0, -Math.floor(Math.log10(off))));
  return `(${value.toFixed(places).replace("-", "−")} ± ${off.toFixed(places)}) %`;
}

/** A model of uncertain inputs. */
export interface UncertainModel<Result = number> {
  /** The uncertain inputs, in the order of their values. */
  readonly inputs: readonly UncertainModelInput[];
  /** Those of them that vary together; each by itself when absent. */
  readonly together?: readonly CorrelatedInputs[];
  /** The result for a value of each input, in their order. */
  evaluate(values: Float64Array): Result;
}

/** An input as a model has it: its name, and the value that a share u of all values lies below. */
export interface UncertainModelInput extends Named {
  /** Of its values, for messages; a pure number when absent or empty. */
  readonly unit?: string;
  /** The value that a share u of all values lies below, 0 < u < 1. */
  quantile(u: number): number;
}

/** How to estimate. */
export interface VarianceOptions<Result = number> {
  /** The number of the result that is asked about; the result itself when it is a number. */
  readonly quantity?: (result: Result) => number;
  /** Points of each of A and B in each scrambling, a power of two; 256 by default. */
  readonly samples?: number;
  /** Scramblings, at least 2; 8 by default. Evaluations: scramblings · points · (inputs + 2). */
  readonly replicates?: number;
  /** Seed of the scramblings; 1 by default. */
  readonly seed?: number;
  /** Inputs to tell apart, by name, field or row; all by default. What is left out varies as one, together. */
  readonly apart?: readonly string[];
  /** Told after each scrambling how many are done, of how many. */
  readonly progress?: (done: number, total: number) => void;
}

/** Name of the inputs that are not told apart. */
export const allOthers = "all others together";

/** How to estimate for a mount. */
export type MountVarianceOptions = VarianceOptions<Evaluated> &
  OutsideOptions &
  Pick<UncertainMountOptions, "catalogue" | "rows">;

/**
 * Estimates the indices of a mount's chip temperature, or of another number of it.
 * @throws FieldError as `uncertainMount`, for wrong options, or where a chip has no steady state;
 * RangeError where more than 1 % of the samples leave a range beyond which a law is refused
 * @example varianceIndices(mount, { quantity: ({ margin }) => margin })
 */
export function varianceIndices(mount: Mount, options?: MountVarianceOptions): VarianceIndices;
/**
 * Estimates the indices of a model. One whose result does not vary has none: all are 0.
 * @throws FieldError for wrong options, or a result that is not a finite number
 * @example varianceIndices({ inputs: [{ name: "x", quantile: (u) => u }], evaluate: ([x]) => x! ** 2 })
 */
export function varianceIndices<Result = number>(
  model: UncertainModel<Result>,
  options?: VarianceOptions<Result>,
): VarianceIndices;
export function varianceIndices<Result>(
  of: Mount | UncertainModel<Result>,
  options: MountVarianceOptions | VarianceOptions<Result> = {},
): VarianceIndices {
  if (isModel(of)) return indicesOf(of, options as VarianceOptions<Result>);
  const own = options as MountVarianceOptions;
  const { quick, model, about } = talliedQuick(of, own, own);
  const asked = { quantity: ({ chip }: Evaluated) => chip, ...own };
  return indicesOf(model, asked, about, quick.own && { model: quick.own, before: quick.expensive });
}

/** Points and scramblings on which the 2-D die takes the place of the two-node model. */
const differences = { samples: 4, replicates: 4 };

/** Whether it is a model of its own and no mount. */
export function isModel<Result>(of: Mount | UncertainModel<Result>): of is UncertainModel<Result> {
  return typeof of === "object" && of !== null && "evaluate" in of;
}

/** A number of a model's result; the result itself when no other is asked for. */
export function numberOf<Result>(
  model: UncertainModel<Result>,
  values: Float64Array,
  quantity = (result: Result) => result as unknown as number,
): number {
  return quantity(model.evaluate(values));
}

function indicesOf<Result>(
  model: UncertainModel<Result>,
  options: VarianceOptions<Result>,
  about: () => ResultBasis & { readonly name: string } = () => ({ name: "" }),
  expensive?: { readonly model: UncertainModel<Result>; readonly before: number },
): VarianceIndices {
  const { samples = 256, replicates = 8, seed = 1 } = options;
  if (!Number.isInteger(Math.log2(wholeNumber("samples", samples)))) {
    throw new FieldError("samples", "a power of two", samples);
  }
  if (wholeNumber("replicates", replicates) < 2) {
    throw new FieldError("replicates", "at least 2, to tell errors", replicates);
  }
  const groups = groupsOf(model, options.apart);
  const evaluatedBy = (of: UncertainModel<Result>) => (values: Float64Array) => {
    const value = numberOf(of, values, options.quantity);
    if (Number.isFinite(value)) return value;
    const at = model.inputs.map(({ name }, i) => `${name} ${formatNumber(values[i]!)}`).join(", ");
    throw new FieldError(`result at ${at}`, "a finite number (a variance is asked for)", value);
  };
  const estimates = Array.from({ length: replicates }, (_, r) => {
    const estimate = estimateOf(model, groups, evaluatedBy(model), samples, random(seed, r));
    options.progress?.(r + 1, replicates);
    return estimate;
  });
  // What the 2-D die changes, on few points: the difference of two models that are alike scatters little.
  const changes = expensive
    ? Array.from({ length: differences.replicates }, (_, r) =>
        [expensive.model, model].map((of) =>
          estimateOf(
            model,
            groups,
            evaluatedBy(of),
            differences.samples,
            random(seed, replicates + r),
          ),
        ),
      )
    : [];
  const [variance] = meanAndError(estimates.map((e) => e.variance));
  const change = (of: (e: Estimates) => number) =>
    changes.length === 0
      ? ([0, 0] as const)
      : meanAndError(changes.map(([own, quick]) => of(own!) - of(quick!)));
  const [more] = change((e) => e.variance);
  const [mean] = meanAndError(estimates.map((e) => e.mean));
  const shareOf = (of: (e: Estimates) => number): readonly [number, number] => {
    const [share, error] = meanAndError(estimates.map(of));
    // Of share·V, less what V itself brings.
    const [by, byError] = change((e) => (of(e) - share) * e.variance);
    if (!(variance + more > 0)) return [share, error];
    return [share + by / (variance + more), Math.hypot(error, byError / (variance + more))];
  };
  const indices = groups.map(({ name }, g): VarianceIndex => {
    const large = shareOf((e) => e.firstOfLarge[g]!);
    const [first, firstError] = large[0] > 0.5 ? large : shareOf((e) => e.first[g]!);
    const [total, totalError] = shareOf((e) => e.total[g]!);
    return { name, first, firstError, total, totalError };
  });
  const each = groups.length + 2;
  const own = expensive ? differences.replicates * differences.samples * each : 0;
  return new VarianceIndices({
    ...about(),
    indices: indices.sort((a, b) => b.total - a.total),
    mean: mean + change((e) => e.mean)[0],
    variance: variance + more,
    evaluations: replicates * samples * each + 2 * own,
    expensive: expensive ? own + expensive.before : 0,
  });
}

/** Everything from one scrambling. */
type Estimates = ReturnType<typeof estimateOf>;

/** Inputs that are exchanged together. */
interface Group {
  readonly name: string;
  readonly members: readonly number[];
}

/** Inputs that vary together have indices together: shares of a variance are of what is independent. */
function groupsOf(
  { inputs, together = [] }: Pick<UncertainModel, "inputs" | "together">,
  apart?: readonly string[],
): Group[] {
  if (inputs.length === 0 || 2 * inputs.length > mostDimensions) {
    throw new FieldError("inputs", `1 to ${Math.floor(mostDimensions / 2)} inputs`, inputs.length);
  }
  const alone = inputs.flatMap(({ name }, i): Group[] => {
    const members = together.find((group) => group.inputs.includes(i))?.inputs ?? [i];
    if (i !== Math.min(...members)) return [];
    return [
      {
        name: members.length > 1 ? members.map((k) => inputs[k]!.name).join(" with ") : name,
        members,
      },
    ];
  });
  if (!apart) return alone;
  const chosen = apart.map((name) => inputs.indexOf(inputNamed(inputs, name, "apart")));
  const isTold = ({ members }: Group) => members.some((i) => chosen.includes(i));
  const told = alone.filter(isTold);
  const others = alone.filter((group) => !isTold(group)).flatMap(({ members }) => members);
  return others.length === 0 ? told : [...told, { name: allOthers, members: others }];
}

/** All indices from one scrambling. */
function estimateOf(
  { inputs, together }: Pick<UncertainModel, "inputs" | "together">,
  groups: readonly Group[],
  evaluate: (values: Float64Array) => number,
  samples: number,
  scrambling: ReturnType<typeof random>,
) {
  const k = inputs.length;
  const sequence = new Sobol(2 * k, scrambling);
  const point = new Float64Array(2 * k);
  const values = new Float64Array(k);
  const [fromA, fromB] = [new Float64Array(samples), new Float64Array(samples)];
  const exchanged = groups.map(() => new Float64Array(samples));
  for (let n = 0; n < samples; n++) {
    sequence.next(point);
    const [a, b] = [point.slice(0, k), point.slice(k)];
    correlate(a, together);
    correlate(b, together);
    const put = (i: number, u: number) => {
      values[i] = inputs[i]!.quantile(u);
    };
    for (let i = 0; i < k; i++) put(i, b[i]!);
    fromB[n] = evaluate(values);
    for (let i = 0; i < k; i++) put(i, a[i]!);
    fromA[n] = evaluate(values);
    // What varies together is exchanged together, so correlating each point once is enough.
    groups.forEach(({ members }, g) => {
      for (const i of members) put(i, b[i]!);
      exchanged[g]![n] = evaluate(values);
      for (const i of members) put(i, a[i]!);
    });
  }
  const average = (term: (n: number) => number) => {
    let sum = 0;
    for (let n = 0; n < samples; n++) sum += term(n) / samples;
    return sum;
  };
  const mean = average((n) => (fromA[n]! + fromB[n]!) / 2);
  const variance = average((n) => ((fromA[n]! - mean) ** 2 + (fromB[n]! - mean) ** 2) / 2);
  // What does not vary within rounding has no shares.
  const varies = variance > (1e-13 * mean) ** 2;
  const share = (term: (n: number) => number) => (varies ? average(term) / variance : 0);
  return {
    mean,
    variance,
    // About the mean, which leaves the estimate as it is and spares it most of its scatter.
    first: exchanged.map((f) => share((n) => (fromB[n]! - mean) * (f[n]! - fromA[n]!))),
    firstOfLarge: exchanged.map((f) => Number(varies) - share((n) => (fromB[n]! - f[n]!) ** 2 / 2)),
    total: exchanged.map((f) => share((n) => (fromA[n]! - f[n]!) ** 2 / 2)),
  };
}
