/**
 * What every fit to measurements gives: parameters with uncertainties, how good the fit is, points and
 * curves to draw, and its print.
 * @module
 */
import { FieldError } from "../../units/errors.js";
import { formatInterval, formatNumber, formatUncertain } from "../../units/format.js";
import { Result, type ResultBasis, type ResultRow } from "../../units/result.js";
import { ninety } from "../../units/spread.js";
import type { Table } from "../../units/table.js";
import type { FitCurve, FitPoint } from "./fit-points.js";

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
    const half = ninety * uncertainty;
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
type Goodness = Pick<Fit, "chiSquared" | "degreesOfFreedom" | "probability">;

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
