/**
 * What fits to measurements have in common: parameters with uncertainties, how good the fit is, the
 * points and curves to draw, and the refusal where the data can't tell parameters apart.
 * @module
 */
import { chiSquaredProbability } from "../../numerics/incomplete-gamma.js";
import { type Determination, FitError } from "../../numerics/jacobian.js";
import { FieldError } from "../../units/errors.js";
import { formatNumber, formatUncertain } from "../../units/format.js";
import { ninety } from "../../units/spread.js";

/** A parameter that was fitted. */
export interface FittedParameter {
  /** A field of the mount, or what it is in words. */
  readonly name: string;
  /** SI unit; empty for a pure number. */
  readonly unit: string;
  /** In the unit. */
  readonly value: number;
  /** Standard uncertainty, in the unit; of the logarithm where `logarithmic`. */
  readonly uncertainty: number;
  /** Fitted as a logarithm: the uncertainty is a share of the value, and the interval one of factors. */
  readonly logarithmic: boolean;
  /** Lower end of the middle 90 %, in the unit. */
  readonly low: number;
  /** Upper end of the middle 90 %, in the unit. */
  readonly high: number;
}

/** How well the fit meets the data. */
export interface Goodness {
  /** Σ of the squared normalised residuals; in K² or W² where the data state no uncertainties. */
  readonly chiSquared: number;
  /** Readings less fitted numbers. */
  readonly degreesOfFreedom: number;
  /**
   * How probable so large a χ² is if model and uncertainties are right; undefined without uncertainties
   * or without degrees of freedom.
   */
  readonly probability?: number | undefined;
}

/** A reading beside what the fit says. */
export interface FitPoint {
  /** File and line. */
  readonly place: string;
  /** Thermometer, by its name in the readings. */
  readonly thermometer: string;
  /** Heater power [W] */
  readonly power: number;
  /** Of the stage, as the fit has it [K] */
  readonly stage: number;
  /** Temperature read [K]. */
  readonly measured: number;
  /** Standard uncertainty of the reading [K]; 0 where none is stated. */
  readonly uncertainty: number;
  /** Temperature as the fit has it [K]. */
  readonly fitted: number;
  /** Reading less fit, in standard uncertainties with all that enters; in those of the scatter where
   * the data state none. */
  readonly normalised: number;
}

/** What the fit says of one thermometer along the heater power, the stage held. */
export interface FitCurve {
  /** Thermometer, by its name in the readings. */
  readonly thermometer: string;
  /** Temperature of the stage [K]. */
  readonly stage: number;
  /** Heater powers [W]. */
  readonly powers: readonly number[];
  /** Temperature at each power [K]. */
  readonly temperatures: readonly number[];
}

/** A fit that can be drawn. */
export interface DrawnFit extends Goodness {
  /** Its name, as results and messages show it. */
  readonly name: string;
  /** What was fitted, with its uncertainty. */
  readonly parameters: readonly FittedParameter[];
  /** Readings beside what the fit says. */
  readonly points: readonly FitPoint[];
  /** Lines to draw over the points. */
  curves(): readonly FitCurve[];
}

/** A parameter fitted as it is. */
export function linear(
  name: string,
  unit: string,
  value: number,
  uncertainty: number,
): FittedParameter {
  const half = ninety * uncertainty;
  return {
    name,
    unit,
    value,
    uncertainty,
    logarithmic: false,
    low: value - half,
    high: value + half,
  };
}

/** A parameter fitted as its logarithm; the uncertainty is that of the logarithm. */
export function logarithmic(
  name: string,
  unit: string,
  value: number,
  uncertainty: number,
): FittedParameter {
  const by = Math.exp(ninety * uncertainty);
  return { name, unit, value, uncertainty, logarithmic: true, low: value / by, high: value * by };
}

/** χ², degrees of freedom and probability. */
export function goodness(chiSquared: number, count: number, fitted: number, weighted: boolean) {
  const degreesOfFreedom = count - fitted;
  return {
    chiSquared,
    degreesOfFreedom,
    ...(weighted &&
      degreesOfFreedom > 0 && {
        probability: chiSquaredProbability(chiSquared, degreesOfFreedom),
      }),
  };
}

/** @throws FieldError when there are fewer readings than parameters */
export function demandEnough(file: string, readings: number, parameters: number): void {
  if (readings >= parameters) return;
  const wanted = `at least ${parameters} readings for ${parameters} parameters`;
  throw new FieldError(file, wanted, readings);
}

/** Parameters that the data can't tell apart, or not at all. */
export class UndeterminedError extends FitError {
  constructor(
    message: string,
    /** Those that move together; one alone where nothing hangs on it. */
    readonly together: readonly string[],
    /** What would tell, in words. */
    readonly advice: string,
  ) {
    super(`${message} ${advice}`);
  }
}

/** Below this, parameters do the same to within the noise of the derivatives. */
const smallest = 1e-7;
/** A direction in which the data leave a factor of e at one standard uncertainty is not measured. */
const widest = 1;
/** Parameters that take at least this share in a direction, of the largest share, move in it. */
const partOf = 0.2;

/**
 * Which of the first `names.length` parameters the data leave open: those of the direction in which the
 * readings change least, when it is that of parameters that do the same, or when it leaves any of them
 * wider than a factor of e.
 * @param scales - what a parameter's spread is held against: 1 for a logarithm
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
  // The direction that makes the widest parameter wide, among all singular values.
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

/** `a`, `a and b`, `a, b and c`. */
export function inWords(names: readonly string[]): string {
  return names.length < 2
    ? (names[0] ?? "")
    : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;
}

/** `31.2 ± 1.4`, with the unit: the standard uncertainty, of a logarithm as that of the value. */
export function formatFitted({ value, uncertainty, logarithmic, unit }: FittedParameter): string {
  return formatUncertain(value, logarithmic ? Math.abs(value) * uncertainty : uncertainty, unit);
}

/** The fit's quality in a sentence. */
export function goodnessWords({ chiSquared, degreesOfFreedom, probability }: Goodness): string {
  if (probability === undefined) {
    return degreesOfFreedom > 0
      ? "The data state no uncertainties: those of the parameters are from the scatter."
      : "As many parameters as readings: the fit meets them whatever they say.";
  }
  const quality = `χ² = ${formatNumber(chiSquared)} for ${degreesOfFreedom} degrees of freedom`;
  const share = probability < 1e-6 ? "below 1e-6" : `of ${formatNumber(probability, 2)}`;
  const chance = `a right model would have so much with a probability ${share}`;
  return probability < 0.01
    ? `${quality}: ${chance}. Model or uncertainties are wrong.`
    : probability > 0.99
      ? `${quality}: ${chance}. The uncertainties are likely stated too large.`
      : `${quality}; ${chance}.`;
}

/** Rows whose stage is at about the same temperature, coldest first: [K] of each group. */
export function stageGroups(stages: readonly number[]): readonly number[] {
  const groups: number[][] = [];
  for (const stage of [...stages].sort((a, b) => a - b)) {
    const last = groups.at(-1);
    if (last && stage <= last[0]! * 1.03) last.push(stage);
    else groups.push([stage]);
  }
  return groups.map((group) => group.reduce((sum, T) => sum + T, 0) / group.length);
}

/** The group that a stage temperature is nearest to. */
export function groupOf(groups: readonly number[], stage: number): number {
  return groups.reduce((best, T) =>
    Math.abs(Math.log(T / stage)) < Math.abs(Math.log(best / stage)) ? T : best,
  );
}

/** Powers from the least to the most, evenly, with a few more near the least. */
export function powersAlong(powers: readonly number[], count = 61): readonly number[] {
  const [low, high] = [Math.min(...powers), Math.max(...powers)];
  return Array.from({ length: count }, (_, i) => low + (high - low) * (i / (count - 1)) ** 2);
}
