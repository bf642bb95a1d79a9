/**
 * The chip's temperature when not everything is known: its median, its band, and the chance that it
 * stays under its limit.
 * @module
 */
import { twoPhaseMean } from "../../numerics/two-phase.js";
import { formatQuantity, formatShare, formatTemperature } from "../../units/format.js";
import { Result, type ResultBasis } from "../../units/result.js";
import { type NumberCell, shareCell, type Table, temperatureCell } from "../../units/table.js";
import { type CorrelatedPair, togetherWords } from "./correlated.js";
import { type OutsideOptions, RangeTally } from "./sampled-ranges.js";
import { meanAndError, perSample } from "./samples.js";
import type { Drawn } from "./two-levels.js";
import type { UncertainInput } from "./uncertain-inputs.js";

/** A number that was sampled, with the standard error of that. */
export interface Estimate {
  /** Best estimate, in the unit of what is estimated. */
  readonly value: number;
  /** Standard error, in the same unit. */
  readonly error: number;
}

/** The chip's temperature over what is not known exactly. */
export class Confidence extends Result {
  /**
   * Sampled temperatures of the chip, rising [K]; infinite where there was no steady state. Of a 2-D die
   * they are those of the two-node model of it, corrected.
   */
  readonly temperatures: Float64Array;
  /** That the samples were drawn with. */
  declare readonly seed: number;
  /** Whether the mount has a limit. */
  declare readonly limited: boolean;
  /** Inputs that were drawn together, as the mount says. */
  declare readonly pairs: readonly CorrelatedPair[];
  readonly #replicates: readonly Float64Array[];
  readonly #tally: RangeTally;
  readonly #drawn: Drawn | undefined;
  readonly #flown: number;

  /** @internal Made by `confidence`. */
  constructor(
    /** The mount's name. */
    readonly name: string,
    /** What is uncertain. */
    readonly inputs: readonly UncertainInput[],
    /** One array for each arrangement: chip, stage and limit of each sample [K], and ranges it left. */
    replicates: readonly Float64Array[],
    content: ResultBasis & Pick<Confidence, "seed" | "limited" | "pairs">,
    tally = new RangeTally([]),
    /** What the mount's own model of the die says of samples that the two-node model answers for. */
    drawn?: Drawn,
    /** Standard error of the rise that all samples share, in parts of it, by the chance of their flights. */
    flown = 0,
  ) {
    super(content);
    this.#drawn = drawn;
    this.#flown = flown;
    this.#replicates = replicates;
    this.#tally = tally;
    this.temperatures = Float64Array.from(
      replicates.flatMap((each) => [...column(each, 0)]),
    ).sort();
  }

  /** How many samples. */
  get samples(): number {
    return this.temperatures.length;
  }

  /** How many were solved by the mount's own model of the die; the others by the two-node one, corrected. */
  get expensive(): number {
    return this.#drawn?.expensive ?? this.samples;
  }

  /** How many replicates of them. */
  get replicates(): number {
    return this.#replicates.length;
  }

  /** Samples without a steady state. */
  get unsettled(): number {
    return this.temperatures.filter((T) => T === Number.POSITIVE_INFINITY).length;
  }

  /** Share of the samples that left a range beyond which a law is refused. */
  get outside(): number {
    return this.#tally.share;
  }

  /**
   * Demands that no more of the samples did so than an answer may rest on.
   * @throws RangeError where more did, unless that is accepted
   */
  demandBacked(options: OutsideOptions): void {
    this.#tally.warnings("samples", options);
  }

  /**
   * The chip's temperature that a share of all samples lies below [K].
   * @param share - between 0 and 1
   */
  percentile(share: number): Estimate {
    const value = quantileOf(this.temperatures, share);
    const each = this.#replicates.map((own) => quantileOf(column(own, 0).sort(), share));
    const sampling = standardError(each);
    const shared = Math.hypot(this.#drawn?.relative ?? 0, this.#flown);
    if (shared === 0 || !Number.isFinite(sampling)) return { value, error: sampling };
    return { value, error: Math.hypot(sampling, shared * (value - this.#stage)) };
  }

  /** In the mean [K]. */
  get #stage(): number {
    return meanOf(this.#replicates.map((own) => meanOf(column(own, 1).filter(Number.isFinite))));
  }

  /** [K] */
  get median(): Estimate {
    return this.percentile(0.5);
  }

  /** Of all samples 90 % lie between these [K]. */
  get band(): readonly [low: Estimate, high: Estimate] {
    return [this.percentile(0.05), this.percentile(0.95)];
  }

  /** [K] */
  get mean(): Estimate {
    return this.#mean((T) => T);
  }

  /** [K²] */
  get variance(): Estimate {
    const { value: mean } = this.mean;
    return this.#mean((T) => (T - mean) ** 2);
  }

  /** The chance that the chip stays at or below its limit; undefined for a mount without a limit. */
  get chance(): Estimate | undefined {
    if (!this.limited) return undefined;
    const sampled = this.#mean((T, limit) => (T <= limit ? 1 : 0));
    const value = Math.min(1, Math.max(0, sampled.value));
    // All alike: what is rarer than one sample in three is not ruled out (95 %).
    const least = value === 0 || value === 1 ? 3 / this.samples : 0;
    const error = Math.max(sampled.error, least, this.#drawn?.leftOut ?? 0);
    if (this.#flown === 0) return { value, error };
    // All rises of one seed are off together: so far to either side of the limit they move the chance.
    const stage = this.#stage;
    const [cooler, warmer] = [-this.#flown, this.#flown].map(
      (part) => this.#mean((T, limit) => (T + part * (T - stage) <= limit ? 1 : 0)).value,
    );
    return { value, error: Math.hypot(error, (cooler! - warmer!) / 2) };
  }

  /** The highest limit of the samples, and the lowest [K]; undefined for a mount without a limit. */
  get limits(): readonly [low: number, high: number] | undefined {
    if (!this.limited) return undefined;
    const all = this.#replicates.flatMap((own) => [...column(own, 2)]).filter(Number.isFinite);
    return all.length === 0
      ? undefined
      : [all.reduce((a, b) => Math.min(a, b)), all.reduce((a, b) => Math.max(a, b))];
  }

  protected get answer(): string {
    const [low, high] = this.band;
    const { chance } = this;
    const band =
      `The chip is at ${formatTemperature(this.median.value)}, and with 90 % confidence between ` +
      `${formatTemperature(low.value)} and ${formatTemperature(high.value)}.`;
    return chance === undefined
      ? band
      : `${band} It stays under its limit with ${confidenceWords(chance)}${outsideWords(this)}.`;
  }

  /** How the numbers were made, and how far they may be off for it. */
  get convergence(): string {
    const { error } = this.band[1];
    const { unsettled } = this;
    const lost =
      unsettled === 1
        ? "; 1 sample has no steady state and counts as too warm"
        : `; ${unsettled} samples have no steady state and count as too warm`;
    const levels = this.#drawn
      ? ` by the two-node model of the die, corrected by ${this.expensive} of the mount's own`
      : "";
    return (
      `${this.samples} samples of ${this.inputs.length} inputs in ${this.replicates} replicates${levels}, ` +
      `seed ${this.seed}; the upper end of the band is sampled to ± ${formatQuantity(error, "K", 2)}` +
      `${unsettled === 0 ? "" : lost}.`
    );
  }

  protected tables(): readonly Table[] {
    const [low, high] = this.band;
    const row = (name: string, { value, error }: Estimate) => [
      name,
      { ...temperatureCell(value), error },
      formatQuantity(error, "K", 2),
    ];
    const { chance } = this;
    return [
      {
        title: "What the samples say",
        columns: ["", "value", "sampled to ±"],
        numbersFrom: 1,
        rows: [
          row("chip, median", this.median),
          row("chip, 5 % are colder", low),
          row("chip, 5 % are warmer", high),
          ...(chance
            ? [["chance to stay under the limit", chanceCell(chance), formatShare(chance.error)]]
            : []),
          ...(this.outside > 0
            ? [["samples where a law is refused", shareCell(this.outside), ""]]
            : []),
        ],
      },
    ];
  }

  protected override notes(): readonly string[] {
    return [this.convergence, ...togetherWords(this.pairs)];
  }

  /** Mean of a number of each sample's chip and limit. */
  #mean(of: (chip: number, limit: number) => number): Estimate {
    const each = this.#replicates.map((own, r) => {
      const limits = column(own, 2);
      const cheap = column(own, 0).map((T, k) => of(T, limits[k]!));
      const drawn = this.#drawn?.drawn[r] ?? [];
      return twoPhaseMean(
        cheap,
        drawn.map(({ weight, quick, own }) => ({ weight, difference: of(...own) - of(...quick) })),
      );
    });
    return { value: meanOf(each), error: standardError(each) };
  }
}

function column(samples: Float64Array, at: number): Float64Array {
  return Float64Array.from(
    { length: samples.length / perSample },
    (_, k) => samples[perSample * k + at]!,
  );
}

function meanOf(values: ArrayLike<number>): number {
  let sum = 0;
  for (let k = 0; k < values.length; k++) sum += values[k]!;
  return sum / values.length;
}

/** Of the mean of numbers that are independent of each other. */
function standardError(values: readonly number[]): number {
  const [mean, error] = meanAndError(values);
  return Number.isFinite(mean) ? error : Number.POSITIVE_INFINITY;
}

/** Between the two values nearest to a share of all. @param sorted - rising */
export function quantileOf(sorted: ArrayLike<number>, share: number): number {
  const at = Math.min(Math.max(share * sorted.length - 0.5, 0), sorted.length - 1);
  const [below, above] = [sorted[Math.floor(at)]!, sorted[Math.ceil(at)]!];
  return below === above ? below : below + (at - Math.floor(at)) * (above - below);
}

/**
 * A chance with the digits that its error leaves, two at most; 100 % of the samples are not all there is.
 * @param wanted - a chance beside which it stands: as many digits as show on which side of that it is
 */
export function formatChance({ value, error }: Estimate, wanted?: number): string {
  if (value === 0) return `<${(100 * error).toFixed(2)} %`;
  if (value === 1) return `>${(100 * (1 - error)).toFixed(2)} %`;
  const rare = Math.min(value, 1 - value) < 5e-3;
  const places = error > 5e-3 ? 0 : rare ? 2 : 1;
  const percent = (digits: number) => (100 * value).toFixed(digits);
  const misleads = (text: string) =>
    wanted !== undefined && value < wanted && Number(text) >= 100 * wanted;
  let digits = places;
  while (digits < 9 && misleads(percent(digits))) digits++;
  return `${percent(digits)} %`;
}

/** A chance as a cell. @param wanted - as in `formatChance` */
export function chanceCell(chance: Estimate, wanted?: number): NumberCell {
  return { ...chance, unit: "", text: formatChance(chance, wanted) };
}

/** `, while a law is refused in 0.4 % of the samples`; empty where it is in none. */
export function outsideWords({ outside }: Pick<Confidence, "outside">): string {
  return outside > 0 ? `, while a law is refused in ${formatShare(outside)} of the samples` : "";
}

/** In words: `95 % confidence`. @param wanted - as in `formatChance` */
export function confidenceWords(chance: Estimate, wanted?: number): string {
  return `${formatChance(chance, wanted)} confidence`;
}
