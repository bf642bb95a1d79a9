/**
 * Refusal of a fit whose data do not determine its parameters.
 * @module
 */
import { type Determination, FitError } from "../../numerics/jacobian.js";

/** Parameters that the data can't tell apart, or not at all. */
export class UndeterminedError extends FitError {
  constructor(
    message: string,
    /** Those that move together; one alone where the readings are insensitive to it. */
    readonly together: readonly string[],
    /** What to measure instead, in words. */
    readonly advice: string,
  ) {
    super(`${message} ${advice}`);
  }
}

/** A fit to refuse. */
export interface RefusedFit {
  /** Best parameters, as they are fitted. */
  readonly parameters: Float64Array;
  /** What the uncertainty of each is compared with. */
  readonly scales: readonly number[];
  readonly jacobian: readonly Float64Array[];
  /** Of the residuals. */
  readonly variance: number;
  /** Names of the parameters that are not determined. */
  readonly together: readonly string[];
}

/** Singular values below this are within the noise of the derivatives. */
const smallest = 1e-7;
/** A parameter is not determined when its standard uncertainty is this many scales. */
const widest = 1;
/** Parameters with at least this part of a direction's largest component belong to it. */
const partOf = 0.2;

/**
 * Which of the first `names.length` parameters the data do not determine: those of the direction with the
 * smallest singular value, when it is 0 to within the noise or leaves a parameter uncertain by a scale.
 * @param scales - what a parameter's uncertainty is compared with: 1 for a logarithm
 * @param variance - of the residuals
 */
export function leftOpen(
  names: readonly string[],
  { norms, singularValues, directions, covariance }: Determination,
  scales: readonly number[],
  variance: number,
): readonly string[] {
  const largest = Math.max(...norms.subarray(0, names.length));
  const without = names.filter((_, j) => norms[j]! <= 1e-9 * largest || norms[j] === 0);
  if (without.length > 0) return without;
  const deviation = (j: number) => Math.sqrt(variance * covariance[j]![j]!) / scales[j]!;
  const wide = names.filter((_, j) => !(deviation(j) < widest));
  const last = singularValues.at(-1)!;
  if (last > smallest && wide.length === 0) return [];
  // The direction that contributes most to the widest parameter, among all singular values.
  const worst = names.reduce((w, _, j) => (deviation(j) > deviation(w) ? j : w), 0);
  const share = (k: number) => (directions[k]![worst]! / singularValues[k]!) ** 2;
  const k =
    last > smallest
      ? directions.reduce((best, _, at) => (share(at) > share(best) ? at : best), 0)
      : directions.length - 1;
  const moves = directions[k]!.slice(0, names.length).map(Math.abs);
  const most = Math.max(...moves);
  const together = names.filter((_, j) => moves[j]! >= partOf * most);
  return together.length > 0 ? together : wide;
}
