/**
 * What measurements of single inputs would buy.
 * @module
 */
import { formatQuantity, formatShare } from "../../units/format.js";
import { Result, type ResultContent } from "../../units/result.js";
import { quantityCell, shareCell, type Table } from "../../units/table.js";

/** How well an input would be known, with 90 % confidence: `"10 %"`, `"x1.5"` (a factor either way). */
export type Accuracy = `${number} %` | `x${number}`;

/** What one measurement would buy. */
export interface Measurement {
  /** The input measured. */
  readonly name: string;
  /** How well the input would then be known, with 90 % confidence. */
  readonly accuracy: Accuracy;
  /** Spread of the input after the measurement over that before, in standard deviations. */
  readonly remaining: number;
  /** The answer before. */
  readonly before: number;
  /** The answer expected after. */
  readonly after: number;
  /** `before` less `after`, with its standard error. */
  readonly saved: number;
  /** Standard error of `saved`. */
  readonly savedError: number;
}

/** Measurements that could be made, ready to print. */
export class Measurements extends Result {
  /** The mount's name; empty for another model. */
  declare readonly name: string;
  /** What saves most comes first. */
  declare readonly all: readonly Measurement[];
  /** Unit of the answers. */
  declare readonly unit: string;

  /** Solves of a 2-D die to which a two-node model of it was fitted; 0 where none was needed. */
  declare readonly expensive: number;
  /** Standard deviation of what that fit leaves, in parts of the rise. */
  declare readonly scatter: number;

  /** @internal Made by `measurementValues`. */
  constructor(content: ResultContent<Measurements, "best">) {
    super(content);
  }

  /** The one that saves the most. */
  get best(): Measurement {
    return this.all[0]!;
  }

  protected get answer(): string {
    const { name, accuracy, before, after, saved, savedError } = this.best;
    const { unit } = this;
    if (!(saved > 2 * savedError))
      return "No single measurement would buy what can be told from 0.";
    return (
      `Knowing ${name} to ${inWords(accuracy)} would buy the most: ` +
      `${formatQuantity(before, unit)} would become ${formatQuantity(after, unit)}.`
    );
  }

  protected override notes(): readonly string[] {
    const { expensive, scatter } = this;
    if (expensive === 0) return [];
    return [
      `The two-node model of the die answers, fitted to ${expensive} solves of the 2-D one; its rise is off ` +
        `by ${formatShare(scatter)} of itself, as likely up as down.`,
    ];
  }

  protected tables(): readonly Table[] {
    const { unit } = this;
    return [
      {
        title: "What a measurement would buy",
        columns: ["measured", "to", "before", "after", "saved", "share"],
        numbersFrom: 1,
        rows: this.all.map(({ name, accuracy, before, after, saved, savedError }) => {
          // What stands out of the scatter of the points, and of rounding.
          const told = saved > 2 * savedError && saved > 1e-9 * Math.abs(before);
          return [
            name,
            inWords(accuracy),
            quantityCell(before, unit),
            quantityCell(after, unit),
            {
              value: saved,
              error: savedError,
              unit,
              text: told
                ? formatQuantity(saved, unit, saved > 20 * savedError ? 3 : 2)
                : "not significant",
            },
            told ? shareCell(saved / before) : "",
          ];
        }),
      },
    ];
  }
}

function inWords(accuracy: Accuracy): string {
  return accuracy.startsWith("x") ? `a factor ${accuracy.slice(1)}` : `± ${accuracy}`;
}
