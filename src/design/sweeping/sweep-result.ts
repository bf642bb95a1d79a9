/**
 * The temperatures of a mount over the points of a sweep.
 * @module
 */
import { formatGiven, formatRise, formatTemperature } from "../../units/format.js";
import { Result, type ResultContent, type ResultRow } from "../../units/result.js";
import type { Table } from "../../units/table.js";

/** A field and the values that it takes. */
export interface SweptField {
  /** Field of the mount. */
  readonly field: string;
  /** Values of the field [SI]. */
  readonly values: Float64Array;
}

/** Most points that a printed table shows. */
const mostRows = 20;

/** Temperatures over the points of a sweep. */
export class Sweep extends Result {
  /** The mount's name. */
  declare readonly name: string;
  /** One or two: the field and its values in SI. */
  declare readonly axes: readonly SweptField[];
  /** Places of the mount, hot to cold. */
  declare readonly places: readonly string[];
  /** The hottest point on the die. */
  declare readonly chip: string;
  /** Temperatures [K]; point by point, the last axis fastest, and at each point every place. */
  declare readonly temperatures: Float64Array;

  /** @internal Made by `sweep`. */
  constructor(content: ResultContent<Sweep, "temperature" | "rise">) {
    super(content);
  }

  /**
   * Temperature of a place [K]
   * @param i - index on the first axis
   * @param j - index on the second axis, 0 when there is none
   */
  temperature(i: number, j = 0, name = this.chip): number {
    const row = i * (this.axes[1]?.values.length ?? 1) + j;
    return this.temperatures[row * this.places.length + this.places.indexOf(name)]!;
  }

  /** Chip above the stage [K]. */
  rise(i: number, j = 0): number {
    return this.temperature(i, j) - this.temperature(i, j, this.places.at(-1));
  }

  /** Every point by its indices on the two axes. */
  *#points(): Generator<readonly [i: number, j: number]> {
    const [first, second] = this.axes;
    for (let i = 0; i < first!.values.length; i++) {
      for (let j = 0; j < (second?.values.length ?? 1); j++) yield [i, j];
    }
  }

  /** In words: `bonds.count = 80, bonds.length = 0.0015`. */
  #where(at: readonly [number, number]): string {
    return this.axes
      .map(({ field, values }, axis) => `${field} = ${formatGiven(values[at[axis]!]!, "")}`)
      .join(", ");
  }

  protected get answer(): string {
    const points = Array.from(this.#points(), (at) => ({ at, rise: this.rise(...at) }));
    const [coldest, warmest] = [1, -1].map((sign) => {
      const { at, rise } = points.reduce((a, b) => (sign * b.rise < sign * a.rise ? b : a));
      return `${formatRise(rise)} above the stage at ${this.#where(at)}`;
    });
    return `${points.length} points. The chip is coldest, ${coldest}; and warmest, ${warmest}.`;
  }

  protected tables(): readonly Table[] {
    const points = [...this.#points()];
    const count = Math.min(points.length, mostRows);
    // Evenly among all, the first and the last included.
    const step = (points.length - 1) / Math.max(1, count - 1);
    return [
      {
        title:
          count < points.length
            ? `Temperature of the chip, ${count} of ${points.length} points`
            : "Temperature of the chip",
        columns: [...this.axes.map(({ field }) => field), "chip", "above the stage"],
        numbersFrom: 0,
        rows: Array.from({ length: count }, (_, k) => {
          const at = points[Math.round(k * step)]!;
          return [
            ...this.axes.map(({ values }, axis) => formatGiven(values[at[axis]!]!, "")),
            formatTemperature(this.temperature(...at)),
            formatRise(this.rise(...at)),
          ];
        }),
      },
    ];
  }

  protected override notes(): readonly string[] {
    return ["Values of fields are in SI units without prefixes."];
  }

  /** A section for each point: its fields, then its temperatures. */
  protected override *csvRows(): Generator<ResultRow> {
    let point = 0;
    for (const at of this.#points()) {
      const section = `point ${++point}`;
      for (const [axis, { field, values }] of this.axes.entries()) {
        yield [section, field, "swept value", values[at[axis]!], ""];
      }
      for (const name of this.places) {
        yield [section, name, "temperature", this.temperature(...at, name), "K"];
      }
    }
  }
}
