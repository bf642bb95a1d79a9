/**
 * What the particles of a span of time did to a chip.
 * @module
 */
import type { ParticleSource, TimedHit } from "../../loads/particle-source.js";
import { elementaryCharge } from "../../units/constants.js";
import { FieldError } from "../../units/errors.js";
import {
  formatNumber,
  formatQuantity,
  formatShare,
  formatTemperature,
} from "../../units/format.js";
import { Result, type ResultContent, type ResultRow } from "../../units/result.js";
import { countCell, quantityCell, type Table } from "../../units/table.js";

/** A hit and what it did. */
export interface RecordedHit extends TimedHit {
  /** Of the chip above what it was just before [K]. */
  readonly height: number;
}

/** What the hits of a span of time did to a chip. */
export class HitSimulation extends Result {
  /** The mount's name. */
  declare readonly name: string;
  /** What the hits were drawn from. */
  declare readonly sources: readonly ParticleSource[];
  /** The hits, in the order of their times. */
  declare readonly hits: readonly RecordedHit[];
  /** Time followed [s]. */
  declare readonly duration: number;
  /** That the hits were drawn with. */
  declare readonly seed: number;
  /** The chip in the steady state without hits [K]. */
  declare readonly baseline: number;
  /** Above which the chip is counted as dead [K]; undefined when none is known. */
  declare readonly threshold: number | undefined;
  /** How long the chip was above it [s]. */
  declare readonly deadTime: number;
  /** How often it went above it. */
  declare readonly excursions: number;
  /** Rises above the baseline [K], and how long the chip was above each [s]. */
  declare readonly distribution: {
    /** Rises [K]. */
    readonly rises: Float64Array;
    /** For how long the chip was above each [s]. */
    readonly times: Float64Array;
  };
  /** Mean rise of the chip above the baseline [K]. */
  declare readonly meanRise: number;

  /** @internal Made by `simulateHits`. */
  constructor(
    content: ResultContent<HitSimulation, "rate" | "power" | "deadFraction" | "shareAbove">,
  ) {
    super(content);
  }

  /** Hits a second. */
  get rate(): number {
    return this.hits.length / this.duration;
  }

  /** Mean heat of the hits [W]. */
  get power(): number {
    return this.hits.reduce((sum, { energy }) => sum + energy, 0) / this.duration;
  }

  /** Share of the time in which the chip was above the threshold; undefined without one. */
  get deadFraction(): number | undefined {
    return this.threshold === undefined ? undefined : this.deadTime / this.duration;
  }

  /** Share of the time in which the chip was more than so far above the baseline. @param rise - [K] */
  shareAbove(rise: number): number {
    const { rises, times } = this.distribution;
    if (!(rise > 0)) throw new FieldError("rise", "a rise above 0 in K", rise);
    if (rise <= rises[0]!) return times[0]! / this.duration;
    const i = rises.findIndex((level) => level >= rise);
    if (i < 0) return 0;
    const s = Math.log(rise / rises[i - 1]!) / Math.log(rises[i]! / rises[i - 1]!);
    return (times[i - 1]! + s * (times[i]! - times[i - 1]!)) / this.duration;
  }

  protected get answer(): string {
    const { hits, duration, threshold, baseline, deadFraction } = this;
    const time = duration >= 3600 ? `${duration / 3600} h` : formatQuantity(duration, "s");
    const largest = hits.reduce((most, { height }) => Math.max(most, height), 0);
    const came =
      hits.length === 0
        ? `No hit came in ${time}.`
        : `${hits.length} hits in ${time}, ${formatNumber(this.rate)} a second, which bring ` +
          `${formatQuantity(this.power / elementaryCharge, "eV")} a second; the largest warms the chip by ` +
          `${formatQuantity(largest, "K")} from ${formatTemperature(baseline)}.`;
    if (threshold === undefined) return came;
    const above = `above ${formatTemperature(threshold)}`;
    if (baseline > threshold) return `${came} The chip is ${above} without any hit.`;
    return deadFraction! > 0
      ? `${came} The chip is ${above} for ${formatShare(deadFraction!)} of the time, in ` +
          `${this.excursions === 1 ? "1 stretch" : `${this.excursions} stretches`} of ` +
          `${formatQuantity(this.deadTime / this.excursions, "s")}${this.excursions === 1 ? "" : " on average"}.`
      : `${came} The chip never goes ${above}.`;
  }

  protected tables(): readonly Table[] {
    return [
      {
        title: "Hits by source",
        columns: ["source", "hits", "expected", "mean energy"],
        numbersFrom: 1,
        rows: this.sources.map(({ name, rate, energy }) => [
          name,
          countCell(this.hits.filter(({ source }) => source === name).length),
          quantityCell(rate * this.duration, ""),
          quantityCell(energy, "J", formatQuantity(energy / elementaryCharge, "eV")),
        ]),
      },
    ];
  }

  protected override *csvRows(): Generator<ResultRow> {
    yield ["run", "all", "duration", this.duration, "s"];
    yield ["run", "chip", "temperature without hits", this.baseline, "K"];
    yield ["run", "chip", "mean rise", this.meanRise, "K"];
    yield ["run", "chip", "share of time above the threshold", this.deadFraction, ""];
    yield* super.csvRows();
    for (const [i, { time, source, energy, height }] of this.hits.entries()) {
      yield [`hit ${i + 1}`, source, "time", time, "s"];
      yield [`hit ${i + 1}`, source, "energy", energy, "J"];
      yield [`hit ${i + 1}`, source, "height", height, "K"];
    }
  }
}
