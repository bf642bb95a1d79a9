/**
 * A column of readings that are turned into temperatures.
 * @module
 */

/** Where a reading stands, for errors. */
export interface ReadingPlace {
  /** File, line and column. */
  readonly field: string;
  /** As it was written, with its unit. */
  readonly written: string;
}

/** A column as temperatures. */
export interface ScaledColumn {
  /** [K] */
  readonly temperatures: Float64Array;
  /** Change of each temperature with what was read [K over the column's SI unit]. */
  readonly slopes: Float64Array;
  /** Heat of the excitation, line by line [W]. */
  readonly heats?: Float64Array;
  /** Standard uncertainties that all lines share: a share of the temperature, or kelvins. */
  readonly errors: readonly { readonly gain?: number; readonly offset?: number }[];
  /** Where the scale is at the end of what it is good for. */
  readonly warnings: readonly string[];
}

/** What a column is turned by. */
export interface ColumnScale {
  /** SI unit of the column. */
  readonly unit: string;
  /** What it holds, in words: `a resistance greater than 0`. */
  readonly words: string;
  /** @throws FieldError naming line and value of a reading outside of the scale */
  convert(values: Float64Array, places: readonly ReadingPlace[]): ScaledColumn;
}

/** Root of the mean square. */
export function meanSquare(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}
