/**
 * From the rise of the two-node model of a die to that of the 2-D one: a formula of the unknowns, fitted to
 * some solves of both.
 * @module
 */
import { fitLinear, fitted, type LinearFit } from "../../numerics/two-phase.js";

/**
 * How the two-node rise is corrected: ln(rise/two-node rise) by the unknowns in standard deviations and, where
 * several numbers of bonds were tried, the logarithm of that; first linear, then with square and cube of
 * the linear value, since a spot of heat or a die that conducts badly make it bend.
 */
export interface Correction {
  /** Linear in the unknowns; the share of it that varies is t. */
  readonly linear: LinearFit;
  /** In the unknowns, t² and t³. */
  readonly bent: LinearFit;
  /** Mean of the linear value, its standard deviation, and least and largest t of the fit. */
  readonly along: {
    readonly mean: number;
    readonly sigma: number;
    readonly ends: readonly [number, number];
  };
  /** Solves of the 2-D die that it took. */
  readonly expensive: number;
  /** Number of bonds about which the logarithm counts; undefined where one number was tried. */
  readonly about?: number | undefined;
}

/** Leaves the two-node rise as it is. */
export const noCorrection: Correction = {
  linear: { constant: 0, slopes: new Float64Array(0), scatter: 1, error: 1 },
  bent: { constant: 0, slopes: new Float64Array(0), scatter: 1, error: 1 },
  along: { mean: 0, sigma: 1, ends: [0, 0] },
  expensive: 0,
};

/** Fits a correction. @param rows - of the unknowns @param values - ln(rise/two-node rise) */
export function fitCorrection(
  rows: readonly Float64Array[],
  values: readonly number[],
): Pick<Correction, "linear" | "bent" | "along"> {
  const linear = fitLinear(rows, values);
  const all = rows.map((row) => fitted(linear, row));
  const mean = all.reduce((sum, value) => sum + value / all.length, 0);
  const sigma =
    Math.sqrt(all.reduce((sum, value) => sum + (value - mean) ** 2 / all.length, 0)) || 1;
  const t = all.map((value) => (value - mean) / sigma);
  const along = { mean, sigma, ends: [Math.min(...t), Math.max(...t)] as const };
  const bent = fitLinear(
    rows.map((row) => withBend(linear, along, row)),
    values,
  );
  return { linear, bent, along };
}

function withBend(linear: LinearFit, along: Correction["along"], row: Float64Array) {
  const t = bendOf(along, fitted(linear, row));
  const whole = new Float64Array(row.length + 2);
  whole.set(row);
  whole[row.length] = t ** 2;
  whole[row.length + 1] = t ** 3;
  return whole;
}

/** t; a cube beyond the points that it was fitted to would lead anywhere. */
function bendOf({ mean, sigma, ends }: Correction["along"], linear: number): number {
  return Math.min(ends[1], Math.max(ends[0], (linear - mean) / sigma));
}

/** By what the two-node rise is multiplied. @param scores - of the unknowns, `scoresOf` */
export function factorOf({ bent, along }: Correction, [linear, rest]: Scores): number {
  const n = bent.slopes.length;
  if (n === 0) return 1;
  const t = bendOf(along, linear);
  return Math.exp(rest + t * t * (bent.slopes[n - 2]! + t * bent.slopes[n - 1]!));
}

/** The linear value, and the bent one without its square and cube. */
export type Scores = readonly [linear: number, rest: number];

export function scoresOf({ linear, bent }: Correction, row: Float64Array): Scores {
  const { constant, slopes } = bent;
  return [fitted(linear, row), fitted({ constant, slopes: slopes.subarray(0, row.length) }, row)];
}

/** By what the two-node rise is multiplied. */
export function correctionAt(correction: Correction, row: Float64Array): number {
  return factorOf(correction, scoresOf(correction, row));
}
