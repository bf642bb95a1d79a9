/**
 * Fits the law of a heat path to heater power and two thermometers.
 * @module
 */
import { FieldError } from "../../units/errors.js";
import { formatQuantity } from "../../units/format.js";
import { ConductorFit } from "./conductor-fit.js";
import { ConductorModel } from "./conductor-model.js";
import { fittedParameters } from "./fit.js";
import { type FoundFit, fitModel } from "./fit-model.js";
import { drawn } from "./fit-points.js";
import { measuredKey } from "./saved-fit.js";
import { type Thermometry, thermometer } from "./thermometry.js";
import { UndeterminedError } from "./undetermined.js";

/** Between what, and how. */
export interface ConductorFitOptions {
  /** Thermometer at the end where the heater is, by its column. */
  readonly from: string;
  /** Thermometer at the cold end. */
  readonly to: string;
  /** Fit heat that flows with the heater off, too; false when absent. */
  readonly background?: boolean;
  /** What was measured, in words; `from to to` when absent. */
  readonly name?: string;
  /** When, such as `"2026-03-14"`; needed to save the fit. */
  readonly date?: string;
}

/**
 * Fits P = a(T₁ⁿ − T₂ⁿ) − P₀ between two thermometers, by least squares.
 *
 * The variance of each residual counts the uncertainties of the power and of both thermometers, through
 * the law's own slopes, and is computed anew from each fit (effective variance: J. Orear, Least squares
 * when both variables have uncertainties, Am. J. Phys. 50, 912 (1982)). Data without uncertainties are
 * weighted alike in power, and their scatter gives the parameters' uncertainty.
 * @throws FieldError naming what is wrong with data or options; UndeterminedError when the temperatures
 * are too near to each other to tell a from n
 */
export function fitConductor(data: Thermometry, options: ConductorFitOptions): ConductorFit {
  const { from, to, background = false, name = `${from} to ${to}`, date } = options;
  const [hot, cold] = [thermometer(data, from, "from"), thermometer(data, to, "to")];
  if (from === to) throw new FieldError("to", "another thermometer than from", to);
  if (date !== undefined) measuredKey(date);
  const model = new ConductorModel(data, hot, cold, { from, background });
  const found = fitModel(model, ({ together }) => {
    const all = [...hot.values, ...cold.values];
    const [low, high] = [Math.min(...all), Math.max(...all)].map((T) => formatQuantity(T, "K"));
    return new UndeterminedError(
      `fit: readings of ${from} and ${to} from ${low} to ${high} leave open ${together.join(" and ")}.`,
      together,
      "Heat until the warm end is at twice the cold one, measure at another stage temperature, or " +
        "measure more finely.",
    );
  });
  const law = lawOf(found, model.middle);
  return new ConductorFit({ ...drawn(model, found, found.weighting), ...law, name, date });
}

/** a, n and the background, from G = a n Tⁿ⁻¹ at a temperature. */
function lawOf({ values, covariance: known }: FoundFit, at: number) {
  const [conductance, n] = values;
  const a = conductance! / n! / at ** (n! - 1);
  // ln a = ln G − ln n − (n − 1) ln T, and so changes with n by this slope.
  const slope = -1 / n! - Math.log(at);
  const turned = (row: ArrayLike<number>, by: ArrayLike<number>) =>
    Float64Array.from(row, (value, j) => value + slope * by[j]!);
  const rows = known.map((row, i) => (i === 0 ? turned(row, known[1]!) : row));
  const covariance = rows.map((row) => turned(row, [row[1]!, 0, 0]));
  const names = [
    { name: "coefficient", unit: `W/K^${Number(n!.toPrecision(6))}`, logarithmic: true },
    { name: "exponent", unit: "", logarithmic: false },
    { name: "background", unit: "W", logarithmic: false },
  ].slice(0, values.length);
  return { parameters: fittedParameters(names, [a, ...values.slice(1)], covariance), covariance };
}
