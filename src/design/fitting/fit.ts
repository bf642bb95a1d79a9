/**
 * What every fit to measurements gives: parameters with uncertainties, how good the fit is, readings beside
 * what it predicts, curves to draw over them, and its print.
 * @module
 */

import { chiSquaredProbability } from "../../numerics/distributions.js";
import { FieldError } from "../../units/errors.js";
import { formatInterval, formatNumber, formatRise, formatUncertain } from "../../units/format.js";
import { Result, type ResultBasis, type ResultRow } from "../../units/result.js";
import { z95 } from "../../units/spread.js";
import type { Table } from "../../units/table.js";
import type { Covariances, FoundFit } from "./fit-model.js";
import type { FittedModel } from "./fitted-model.js";

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

/** Fitted parameters with their intervals. @param covariance - as they were fitted, row by row */
export function fittedParameters(
  of: readonly Pick<FittedParameter, "name" | "unit" | "logarithmic">[],
  values: readonly number[],
  covariance: readonly Float64Array[],
): readonly FittedParameter[] {
  return of.map(({ name, unit, logarithmic }, j) => {
    const [value, uncertainty] = [values[j]!, Math.sqrt(covariance[j]![j]!)];
    const half = z95 * uncertainty;
    const by = Math.exp(half);
    const [low, high] = logarithmic ? [value / by, value * by] : [value - half, value + half];
    return { name, unit, value, uncertainty, logarithmic, low, high };
  });
}

/** `31.2 ± 1.4`, with the unit: the standard uncertainty, of a logarithm as that of the value. */
export function formatFitted({ value, uncertainty, logarithmic, unit }: FittedParameter): string {
  return formatUncertain(value, logarithmic ? Math.abs(value) * uncertainty : uncertainty, unit);
}

/** How well a fit meets the data. */
type Goodness = Pick<Fit, "chiSquared" | "degreesOfFreedom" | "probability" | "downweighted">;

/** A fit that can be drawn. */
export type DrawnFit = Goodness & Pick<Fit, "name" | "parameters" | "points" | "curves">;

/** What a fit is made of. */
export type FitNumbers = DrawnFit & Pick<Fit, "file" | "covariance" | "date"> & ResultBasis;

/** A fit of a model to measurements. */
export abstract class Fit extends Result {
  /** Of the mount or the conductor, as results and messages show it. */
  declare readonly name: string;
  /** Name of the measurements' file. */
  declare readonly file: string;
  /** What was fitted, with its uncertainty. */
  declare readonly parameters: readonly FittedParameter[];
  /** Of the parameters, of the logarithm of those fitted so; row by row. */
  declare readonly covariance: readonly Float64Array[];
  /** Σ of the squared normalised residuals; in K² or W² where the data state no uncertainties. */
  declare readonly chiSquared: number;
  /** Readings less fitted numbers. */
  declare readonly degreesOfFreedom: number;
  /** How probable so large a χ² is if model and uncertainties are right; undefined without either. */
  declare readonly probability: number | undefined;
  /** Readings that a fit with Huber's errors counts for less than in full; absent in other fits. */
  declare readonly downweighted?: number;
  /** Readings beside what the fit says. */
  declare readonly points: readonly FitPoint[];
  /** The fit as lines over the points, to draw. */
  declare readonly curves: () => readonly FitCurve[];
  /** Day of the measurement, when given. */
  declare readonly date: string | undefined;

  /** @internal Made by `calibrate` and `fitConductor`. */
  constructor(numbers: FitNumbers) {
    super(numbers);
  }

  /** A fitted parameter. @throws FieldError for a name that was not fitted */
  of(name: string): FittedParameter {
    const found = this.parameters.find((parameter) => parameter.name === name);
    if (found) return found;
    const names = this.parameters.map((parameter) => parameter.name).join(", ");
    throw new FieldError("fit.of", `a fitted field: ${names}`, name);
  }

  /** How two parameters are correlated, −1 to 1. */
  correlation(a: string, b: string): number {
    const [i, j] = [a, b].map((name) => this.parameters.indexOf(this.of(name)));
    const c = this.covariance;
    return c[i!]![j!]! / Math.sqrt(c[i!]![i!]! * c[j!]![j!]!);
  }

  /** Lowest and highest temperature measured [K]. */
  get range(): { readonly from: number; readonly to: number } {
    const all = this.points.flatMap(({ measured, stage }) => [measured, stage]);
    return { from: Math.min(...all), to: Math.max(...all) };
  }

  protected tables(): readonly Table[] {
    const rows = this.parameters.map((parameter) => {
      const { name, value, low, high, unit, uncertainty, logarithmic } = parameter;
      const error = logarithmic ? Math.abs(value) * uncertainty : uncertainty;
      const cell = { text: formatFitted(parameter), value, unit, error };
      return [name, cell, formatInterval(low, high, unit)];
    });
    const columns = ["fitted input", "value and standard uncertainty", "90 %"];
    return [{ title: "", columns, numbersFrom: 1, rows }];
  }

  protected override *csvRows(): Generator<ResultRow> {
    yield* super.csvRows();
    yield ["fit", this.name, "chi squared", this.chiSquared, ""];
    yield ["fit", this.name, "degrees of freedom", this.degreesOfFreedom, ""];
    yield ["fit", this.name, "probability", this.probability, ""];
    for (const { thermometer, power, measured, uncertainty } of this.points) {
      const quantity = `temperature at ${power} W`;
      yield ["reading", thermometer, quantity, measured, "K", { uncertainty }];
    }
  }
}

/** How good a fit is, in a sentence. */
export function goodnessWords(fit: Goodness): string {
  const { chiSquared, degreesOfFreedom, probability, downweighted } = fit;
  if (downweighted !== undefined) {
    const count = downweighted === 1 ? "1 reading counts" : `${downweighted} readings count`;
    return `Huber's errors: ${count} for less than in full, so χ² has no probability.`;
  }
  if (probability === undefined) {
    return degreesOfFreedom > 0
      ? "The data state no uncertainties: those of the parameters are from the scatter."
      : "As many parameters as readings: the fit meets them whatever they say.";
  }
  const quality = `χ² = ${formatNumber(chiSquared)} for ${degreesOfFreedom} degrees of freedom`;
  const chance = probability < 1e-6 ? "p < 1e-6" : `p = ${formatNumber(probability, 2)}`;
  return probability < 0.01
    ? `${quality}: ${chance}. Model or uncertainties are wrong.`
    : probability > 0.99
      ? `${quality}: ${chance}. The uncertainties are likely stated too large.`
      : `${quality}; ${chance}.`;
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

/**
 * What a fit shows of the model: how good it is, its points and its curves.
 * @param covariances - of the deviations that the points show
 */
export function drawn(model: FittedModel, found: FoundFit, covariances: Covariances) {
  const { data, thermometers } = model;
  const { values, variance, chiSquared, degreesOfFreedom, downweighted } = found;
  model.set(values);
  const points = data.places.flatMap((place, line): FitPoint[] => {
    const power = data.power.values[line]!;
    const off = model.deviations(line)!;
    const { stage, temperatures } = model.predict(power, model.stageAt(line), line)!;
    return thermometers.map(({ name, readings }, k) => ({
      place,
      thermometer: name,
      power,
      stage,
      measured: readings.values[line]!,
      uncertainty: readings.uncertainties?.[line] ?? 0,
      fitted: temperatures[k]!,
      normalised: off[k]! / Math.sqrt((variance || 1) * covariances[line]![k]![k]!),
    }));
  });
  const probability =
    model.weighted && degreesOfFreedom > 0 && downweighted === undefined
      ? chiSquaredProbability(chiSquared, degreesOfFreedom)
      : undefined;
  const curves = () => curvesOf(model, values, points);
  const warnings = outlying(points, model.weighted);
  const goodness = { chiSquared, degreesOfFreedom, probability };
  const robust = downweighted === undefined ? {} : { downweighted };
  return { file: data.file, ...goodness, ...robust, points, curves, warnings };
}

/** A right model leaves one reading in sixteen thousand so many standard uncertainties off. */
const farOff = 4;

/**
 * Lines whose reading lies far from the fit, the worst ones, in words. Where the data state no
 * uncertainties the scatter is that of the others: 1.4826 times the median distance, as of a normal
 * distribution (P. J. Rousseeuw and C. Croux, J. Am. Stat. Assoc. 88, 1273 (1993)).
 */
function outlying(points: readonly FitPoint[], weighted: boolean): readonly string[] {
  const sizes = points.map(({ normalised }) => Math.abs(normalised)).sort((a, b) => a - b);
  const median = sizes[Math.floor(sizes.length / 2)] ?? 0;
  const scatter = weighted ? 1 : 1.4826 * median;
  const far = points
    .filter(({ normalised }) => scatter > 0 && Math.abs(normalised) > farOff * scatter)
    // A few readings scatter by chance; and what is smaller is none of the thermometer's, but the solver's.
    .filter(({ measured, fitted }) => Math.abs(measured - fitted) > 1e-6 * measured)
    .filter(() => weighted || points.length >= 8)
    .sort((a, b) => Math.abs(b.normalised) - Math.abs(a.normalised));
  const more = far.length > 3 ? [`${far.length - 3} more readings lie as far from the fit.`] : [];
  return [
    ...far.slice(0, 3).map(({ place, thermometer, measured, fitted, normalised }) => {
      const off = formatRise(Math.abs(measured - fitted));
      const by = `${formatNumber(Math.abs(normalised) / scatter, 2)} standard uncertainties`;
      const side = measured < fitted ? "below" : "above";
      return `${place}: ${thermometer} reads ${off} ${side} the fit, ${by}; is this line right?`;
    }),
    ...more,
  ];
}

/** A curve for each thermometer at each stage temperature of the points, over their powers. */
function curvesOf(
  model: FittedModel,
  values: readonly number[],
  points: readonly FitPoint[],
): readonly FitCurve[] {
  model.set(values);
  const groups = stageGroups(points.map(({ stage }) => stage));
  return groups.flatMap((stage) => {
    const here = points.filter((point) => groupOf(groups, point.stage) === stage);
    const powers = powersAlong(here.map(({ power }) => power));
    const rows = powers.map((power) => model.predict(power, stage)!.temperatures);
    return model.thermometers.map(({ name }, k) => ({
      thermometer: name,
      stage,
      powers,
      temperatures: rows.map((row) => row[k]!),
    }));
  });
}

/** Stage temperatures that lie within 3 % of each other as one, coldest first: [K] of each group. */
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

/** Powers from the lowest to the highest, closer to each other near the lowest. */
function powersAlong(powers: readonly number[]): readonly number[] {
  const [low, high] = [Math.min(...powers), Math.max(...powers)];
  return Array.from({ length: 61 }, (_, i) => low + (high - low) * (i / 60) ** 2);
}
