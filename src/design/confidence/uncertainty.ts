/**
 * How warm the chip gets when not everything is known: its median, its band, and the chance that it
 * stays under its limit; and how many bonds it takes to be as sure as one wants to be.
 *
 * Samples are points of a scrambled Sobol' sequence, in several independent arrangements; how much these
 * differ among each other says how far each quoted number may be off for being sampled (A. B. Owen,
 * Scrambled net variance for integrals of smooth functions, Ann. Statist. 25, 1541 (1997)).
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { CatalogueChoice } from "../../materials/types.js";
import type { Mount } from "../../mount/description.js";
import { isSheet } from "../../mount/part.js";
import { readMount } from "../../mount/read.js";
import { FieldError } from "../../units/errors.js";
import { formatQuantity, formatShare } from "../../units/format.js";
import { escapeHtml, tableHtml } from "../../units/table.js";
import { roomToCount } from "../sizing/bonds-to-count.js";
import { fewestThat } from "../sizing/size.js";
import { defaultRunner } from "./pool.js";
import {
  chunksOf,
  keepCompiled,
  perSample,
  type RunOptions,
  type SampleJob,
  type SampleRunner,
} from "./samples.js";
import type { UncertainInput } from "./uncertain-inputs.js";
import { type UncertainRows, uncertainMount } from "./uncertain-mount.js";

/** A number that was sampled, with the standard error of that. */
export interface Estimate {
  /** Best estimate, in the unit of what is estimated. */
  readonly value: number;
  /** Standard error, in the same unit. */
  readonly error: number;
}

/** How to sample. */
export interface ConfidenceOptions extends RunOptions, CatalogueChoice {
  /** Uncertain rows of the catalogue: all that move the result when absent. */
  readonly rows?: UncertainRows;
  /** In all; rounded up to a power of two for each arrangement. 16,384, or 1024 for a sheet. */
  readonly samples?: number;
  /** Independent arrangements, 4 to 64; 16, or 8 for a sheet. */
  readonly replicates?: number;
  /** A whole number; one seed, one result. 1 when absent. */
  readonly seed?: number;
  /** Who solves the samples; all processors when absent, where there are workers. */
  readonly runner?: SampleRunner;
}

/** The chip's temperature over what is not known exactly. */
export class Confidence {
  /** Sampled temperatures of the chip, rising [K]; infinite where there was no steady state. */
  readonly temperatures: Float64Array;
  /** That the samples were drawn with. */
  readonly seed: number;
  /** Whether the mount has a limit. */
  readonly limited: boolean;
  readonly #replicates: readonly Float64Array[];

  constructor(
    /** The mount's name. */
    readonly name: string,
    /** What is uncertain. */
    readonly inputs: readonly UncertainInput[],
    /** One array for each arrangement: chip, stage and limit of each sample [K]. */
    replicates: readonly Float64Array[],
    { seed, limited }: Pick<Confidence, "seed" | "limited">,
  ) {
    this.seed = seed;
    this.limited = limited;
    this.#replicates = replicates;
    this.temperatures = Float64Array.from(
      replicates.flatMap((each) => [...column(each, 0)]),
    ).sort();
  }

  /** How many samples. */
  get samples(): number {
    return this.temperatures.length;
  }

  /** How many independent arrangements of them. */
  get replicates(): number {
    return this.#replicates.length;
  }

  /** Samples without a steady state. */
  get unsettled(): number {
    return this.temperatures.filter((T) => T === Number.POSITIVE_INFINITY).length;
  }

  /**
   * The chip's temperature that a share of all samples lies below [K].
   * @param share - between 0 and 1
   */
  percentile(share: number): Estimate {
    const value = quantileOf(this.temperatures, share);
    const each = this.#replicates.map((own) => quantileOf(column(own, 0).sort(), share));
    return { value, error: standardError(each) };
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
    return this.#mean((own) => meanOf(column(own, 0)));
  }

  /** [K²] */
  get variance(): Estimate {
    const { value: mean } = this.mean;
    return this.#mean((own) => meanOf(column(own, 0).map((T) => (T - mean) ** 2)));
  }

  /** The chance that the chip stays at or below its limit; undefined for a mount without a limit. */
  get chance(): Estimate | undefined {
    if (!this.limited) return undefined;
    const { value, error } = this.#mean((own) => {
      const [chip, limit] = [column(own, 0), column(own, 2)];
      return meanOf(chip.map((T, k) => (T <= limit[k]! ? 1 : 0)));
    });
    // All alike: what is rarer than one sample in three is not ruled out (95 %).
    return { value, error: value === 0 || value === 1 ? 3 / this.samples : error };
  }

  /** The highest limit of the samples, and the lowest [K]; undefined for a mount without a limit. */
  get limits(): readonly [low: number, high: number] | undefined {
    if (!this.limited) return undefined;
    const all = this.#replicates.flatMap((own) => [...column(own, 2)]).filter(Number.isFinite);
    return all.length === 0
      ? undefined
      : [all.reduce((a, b) => Math.min(a, b)), all.reduce((a, b) => Math.max(a, b))];
  }

  /** The answer in two or three sentences. */
  get summary(): string {
    const [low, high] = this.band;
    const { chance } = this;
    const band =
      `The chip is at ${kelvin(this.median.value)}, and with 90 % confidence between ` +
      `${kelvin(low.value)} and ${kelvin(high.value)}.`;
    return chance === undefined
      ? band
      : `${band} It stays under its limit with ${percent(chance)}.`;
  }

  /** How the numbers were made, and how far they may be off for it. */
  get convergence(): string {
    const { error } = this.band[1];
    const lost = this.unsettled;
    return (
      `${this.samples} samples of ${this.inputs.length} inputs in ${this.replicates} arrangements, ` +
      `seed ${this.seed}; the upper end of the band is sampled to ± ${formatQuantity(error, "K", 2)}` +
      `${lost > 0 ? `; ${lost} samples have no steady state and count as too warm` : ""}.`
    );
  }

  /** For a terminal. */
  toText(): string {
    const width = Math.max(...this.#rows().map(([name]) => name!.length));
    return [
      this.summary,
      ...this.#rows().map(
        ([name, value, error]) => `  ${name!.padEnd(width)}  ${value} ± ${error}`,
      ),
      this.convergence,
    ].join("\n");
  }

  /** For a notebook. */
  toMarkdown(): string {
    const rows = this.#rows().map((row) => `| ${row.join(" | ")} |`);
    return [
      `**${this.summary}**`,
      ["| | value | sampled to ± |", "| --- | ---: | ---: |", ...rows].join("\n"),
      this.convergence,
    ].join("\n\n");
  }

  /** For a page. */
  toHtml(): string {
    const table = tableHtml({
      title: this.name,
      columns: ["", "value", "sampled to ±"],
      numbersFrom: 1,
      rows: this.#rows(),
    });
    return `<p><strong>${escapeHtml(this.summary)}</strong></p>${table}<p>${this.convergence}</p>`;
  }

  #rows(): (readonly [string, string, string])[] {
    const [low, high] = this.band;
    const row = (name: string, { value, error }: Estimate) =>
      [name, kelvin(value), formatQuantity(error, "K", 2)] as const;
    const { chance } = this;
    return [
      row("chip, median", this.median),
      row("chip, 5 % are colder", low),
      row("chip, 5 % are warmer", high),
      ...(chance
        ? [
            [
              "chance to stay under the limit",
              formatChance(chance),
              formatShare(chance.error),
            ] as const,
          ]
        : []),
    ];
  }

  #mean(of: (replicate: Float64Array) => number): Estimate {
    const each = this.#replicates.map(of);
    return { value: meanOf(each), error: standardError(each) };
  }
}

/**
 * Samples a mount over its spreads and the uncertain rows of the catalogue.
 * @throws FieldError or UnknownNameError as `thermalBudget`; the signal's reason when it is aborted:
 * a part of the samples is never returned for the whole
 * @example (await confidence(mount)).summary
 */
export async function confidence(
  mount: Mount,
  options: ConfidenceOptions = {},
): Promise<Confidence> {
  return sampled(samplingOf(mount, options), options, undefined, options.progress);
}

/** The answer to: how many bonds, to be this sure? */
export class ConfidentSizing {
  constructor(
    /** Wanted chance to stay under the limit. */
    readonly probability: number,
    /** Fewest bonds with that chance; undefined when even as many as have room do not reach it. */
    readonly count: number | undefined,
    /** Bonds that have room. */
    readonly room: number,
    /** With that number of bonds, or as many as have room. */
    readonly confidence: Confidence,
    /** Every number that was tried, fewest first. */
    readonly tried: readonly {
      /** Bonds tried. */
      readonly count: number;
      /** Chance that so many hold the limit, with its standard error. */
      readonly chance: Estimate;
    }[],
  ) {}

  /** The answer in a sentence or two. */
  get summary(): string {
    const { count, room, probability } = this;
    const chance = this.confidence.chance!;
    const wanted = formatShare(probability);
    return count === undefined
      ? `The ${room} bonds that have room hold the limit with ${percent(chance)}, less than ${wanted}.`
      : `${count === 1 ? "1 bond holds" : `${count} bonds hold`} the limit with ${percent(chance)} ` +
          `(${wanted} were wanted), of ${room} that have room.`;
  }

  /** For a terminal. */
  toText(): string {
    const lines = this.tried.map(
      ({ count, chance }) => `  ${String(count).padStart(5)} bonds  ${percent(chance)}`,
    );
    return [this.summary, ...lines, this.confidence.convergence].join("\n");
  }

  /** For a notebook. */
  toMarkdown(): string {
    const rows = this.tried.map(
      ({ count, chance }) =>
        `| ${count} | ${formatChance(chance)} | ${formatShare(chance.error)} |`,
    );
    return [
      `**${this.summary}**`,
      [
        "| bonds | chance to hold the limit | sampled to ± |",
        "| ---: | ---: | ---: |",
        ...rows,
      ].join("\n"),
      this.confidence.convergence,
    ].join("\n\n");
  }
}

/**
 * The fewest bonds with which the chip stays at or below its limit with a wanted chance. All numbers of
 * bonds are tried on the same samples, so that they differ by the bonds alone. More bonds are taken
 * never to warm the chip.
 * @param options - probability: between 0 and 1, 0.95 when absent
 * @throws FieldError when the mount has no bonds or no limit; and as `confidence`
 */
export async function sizeWithConfidence(
  mount: Mount,
  options: ConfidenceOptions & { readonly probability?: number } = {},
): Promise<ConfidentSizing> {
  const { probability = 0.95 } = options;
  if (!(probability > 0 && probability < 1)) {
    throw new FieldError("probability", "a number between 0 and 1", probability);
  }
  const plain = readMount(mount);
  const room = roomToCount(plain);
  const sampling = samplingOf(mount, options);
  const found = new Map<number, Confidence>();
  const at = async (count: number) => {
    const known = found.get(count);
    if (known) return known;
    const tried = found.size;
    const made = await sampled(sampling, options, count, (done, total) =>
      // How many more are to be tried is not known; halving takes about this many.
      options.progress?.(tried * total + done, Math.max(tried + 1, expectedTries(room)) * total),
    );
    found.set(count, made);
    return made;
  };
  const count = await fewestThatAsync(
    async (bonds) => (await at(bonds)).chance!.value >= probability,
    room,
    plain.bonds!.count,
  );
  const shown = await at(count ?? room);
  // Fewer tries than were foreseen: nothing is left to do.
  options.progress?.(1, 1);
  const tried = [...found]
    .map(([bonds, { chance }]) => ({ count: bonds, chance: chance! }))
    .sort((a, b) => a.count - b.count);
  return new ConfidentSizing(probability, count, room, shown, tried);
}

function expectedTries(room: number): number {
  return Math.ceil(Math.log2(room)) + 2;
}

/** What is sampled, and how. */
export interface Sampling {
  readonly job: SampleJob;
  readonly inputs: readonly UncertainInput[];
  readonly replicates: number;
  /** Samples of each replicate. */
  readonly each: number;
  /** Most samples of a chunk. */
  readonly longest: number;
  readonly limited: boolean;
}

/**
 * Everything for a run but the number of bonds.
 * @throws FieldError as `confidence`
 */
export function samplingOf(mount: Mount, options: ConfidenceOptions): Sampling {
  const sheet = isSheet(readMount(mount));
  const { seed = 1, replicates = sheet ? 8 : 16, samples = sheet ? 1024 : 16_384 } = options;
  if (!(Number.isInteger(replicates) && replicates >= 4 && replicates <= 64)) {
    throw new FieldError("replicates", "a whole number from 4 to 64", replicates);
  }
  if (!(Number.isInteger(samples) && samples >= replicates && samples <= 1e8)) {
    throw new FieldError("samples", `a whole number from ${replicates} to 100000000`, samples);
  }
  const catalogue = options.catalogue ?? standardCatalogue();
  const compiled = uncertainMount(mount, { catalogue, rows: options.rows ?? "all" });
  const { inputs, recipe } = compiled;
  const job: SampleJob = { mount, catalogue: catalogue.origin, recipe, seed };
  keepCompiled(job, compiled);
  const each = 2 ** Math.ceil(Math.log2(samples / replicates));
  const limited = mount.limit !== undefined;
  return { job, inputs, replicates, each, longest: sheet ? 16 : 2048, limited };
}

/**
 * Samples from one up to another, counted through all replicates: chip, stage and limit of each [K].
 * @throws the signal's reason when it is aborted
 */
export async function solveSamples(
  { job, replicates, each, longest }: Sampling,
  from: number,
  to: number,
  { runner = defaultRunner, signal, progress }: Pick<ConfidenceOptions, "runner"> & RunOptions,
): Promise<Float64Array> {
  signal?.throwIfAborted();
  const chunks = chunksOf(replicates, each, longest).flatMap((chunk) => {
    const start = chunk.replicate * each + chunk.from;
    const [first, end] = [Math.max(start, from), Math.min(start + chunk.count, to)];
    return first < end ? [{ ...chunk, from: chunk.from + first - start, count: end - first }] : [];
  });
  const results = await runner(job, chunks, {
    ...(signal && { signal }),
    ...(progress && { progress }),
  });
  signal?.throwIfAborted();
  const whole =
    results.length === chunks.length &&
    results.every((own, k) => own.length === perSample * chunks[k]!.count);
  if (!whole) throw new Error("confidence: the runner did not return every sample.");
  const values = new Float64Array(perSample * (to - from));
  let at = 0;
  for (const own of results) {
    values.set(own, at);
    at += own.length;
  }
  return values;
}

/** @param values - of all samples, replicate by replicate */
export function confidenceOf(sampling: Sampling, values: Float64Array): Confidence {
  const { job, inputs, replicates, each, limited } = sampling;
  const parts = Array.from({ length: replicates }, (_, r) =>
    values.slice(r * each * perSample, (r + 1) * each * perSample),
  );
  return new Confidence(job.mount.name, inputs, parts, { seed: job.seed, limited });
}

async function sampled(
  sampling: Sampling,
  { runner, signal }: ConfidenceOptions,
  bonds: number | undefined,
  progress: RunOptions["progress"],
): Promise<Confidence> {
  const { job, replicates, each } = sampling;
  const own = bonds === undefined ? sampling : { ...sampling, job: { ...job, bonds } };
  const values = await solveSamples(own, 0, replicates * each, {
    ...(runner && { runner }),
    ...(signal && { signal }),
    ...(progress && { progress }),
  });
  return confidenceOf(sampling, values);
}

/** `fewestThat` for a question that takes its time: asked again until all its answers are known. */
async function fewestThatAsync(
  holds: (count: number) => Promise<boolean>,
  most: number,
  guess: number,
): Promise<number | undefined> {
  const known = new Map<number, boolean>();
  for (;;) {
    let asked: number | undefined;
    const answer = fewestThat(
      (count) => {
        const found = known.get(count);
        if (found !== undefined) return found;
        asked ??= count;
        return true;
      },
      most,
      guess,
    );
    if (asked === undefined) return answer;
    known.set(asked, await holds(asked));
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
  const mean = meanOf(values);
  if (!Number.isFinite(mean)) return Number.POSITIVE_INFINITY;
  const square = values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (values.length - 1);
  return Math.sqrt(square / values.length);
}

/** Between the two values nearest to a share of all. @param sorted - rising */
function quantileOf(sorted: Float64Array, share: number): number {
  const at = Math.min(Math.max(share * sorted.length - 0.5, 0), sorted.length - 1);
  const [below, above] = [sorted[Math.floor(at)]!, sorted[Math.ceil(at)]!];
  return below === above ? below : below + (at - Math.floor(at)) * (above - below);
}

function kelvin(temperature: number): string {
  return formatQuantity(temperature, "K", 4);
}

/** A chance with the digits that its error leaves, two at most; 100 % of the samples are not all there is. */
export function formatChance({ value, error }: Estimate): string {
  if (value === 0) return `<${(100 * error).toFixed(2)} %`;
  if (value === 1) return `>${(100 * (1 - error)).toFixed(2)} %`;
  const rare = Math.min(value, 1 - value) < 5e-3;
  const places = error > 5e-3 ? 0 : rare ? 2 : 1;
  return `${(100 * value).toFixed(places)} %`;
}

function percent(chance: Estimate): string {
  return `${formatChance(chance)} confidence`;
}
