/**
 * Least squares of readings less model, with weights, priors and errors that readings share.
 * @module
 */

import type { Correlations } from "../../mount/things/correlations.js";
import { whitening } from "../../numerics/cholesky.js";
import { determination, FitError } from "../../numerics/jacobian.js";
import { type LeastSquaresFit, leastSquares } from "../../numerics/least-squares.js";
import { huberVariance, huberWeights, medianScale } from "../../numerics/robust.js";
import { FieldError } from "../../units/errors.js";
import type { ReadingErrors } from "./fit-inputs.js";
import { type FittedModel, type Parameter, valuesOf } from "./fitted-model.js";
import { leftOpen, type RefusedFit, type UndeterminedError } from "./undetermined.js";

/** Covariance of the deviations of each line, row by row. */
export type Covariances = readonly (readonly (readonly number[])[])[];

/** Best parameters of a model. */
export type FoundFit = ReturnType<typeof fitModel>;

/** What is known of the fit beside the model. */
export interface FitOptions {
  /** Parameters whose priors vary together, by name. */
  readonly correlated?: Pick<Correlations, "names" | "matrix"> | undefined;
  /** How the readings scatter. */
  readonly errors?: ReadingErrors | undefined;
  /** Values in SI to begin with, nearer than the parameters' own start. */
  readonly near?: readonly number[] | undefined;
}

/** Passes over the weights before the fit gives up. */
const mostPasses = 60;

/**
 * Finds the parameters with the smallest sum of squares.
 *
 * The weights depend on the model's slopes and so on the parameters; they are computed anew from each fit
 * until the parameters stay (effective variance: J. Orear, Am. J. Phys. 50, 912 (1982)). The covariance
 * is (JᵀJ)⁻¹ at the best parameters, times the variance of the residuals where the data state no
 * uncertainties. Shared errors have a prior, which counts as a reading, so they leave the degrees of
 * freedom as they are.
 * @param refusal - the error for parameters that the data do not determine
 * @throws FieldError for fewer readings than parameters; what `refusal` makes; FitError when no best
 * parameters are found
 */
export function fitModel(
  model: FittedModel,
  refusal: (refused: RefusedFit) => UndeterminedError,
  { correlated, errors = "normal", near }: FitOptions = {},
) {
  const { data, parameters, precision } = model;
  const priors = priorsOf(parameters, correlated);
  const names = parameters.filter(({ shared }) => !shared).map(({ name }) => name);
  const readings = data.places.length * model.thermometers.length;
  const count = readings + priors.at.length;
  const degreesOfFreedom = count - parameters.length;
  if (degreesOfFreedom < 0) {
    const wanted = `at least ${names.length} readings for ${names.length} parameters`;
    throw new FieldError(data.file, wanted, degreesOfFreedom + names.length);
  }
  const { weighted } = model;
  const scalesAt = (at: Float64Array) => parameters.map(({ scale }, j) => scale?.(at[j]!) ?? 1);

  const isRobust = errors === "huber";
  let robust: Float64Array = new Float64Array(readings).fill(1);
  let at: Float64Array = Float64Array.from(parameters, ({ start }) => start);
  const scales = scalesAt(at).map((scale) => precision.reach * scale);
  if (near) at = Float64Array.from(near, (x, j) => (parameters[j]!.logarithmic ? Math.log(x) : x));
  const deviations = deviationsOf(model);
  const isNear = (pass: number) => near !== undefined || pass > 0;
  for (let pass = 0; pass <= mostPasses; pass++) {
    const values = valuesOf(parameters, at);
    const weighting = covariancesOf(model, values, deviations(values));
    const weights = weighting.map(whitening);
    /** Deviations of all lines and of the priors, weighted. */
    const weigh = (
      lines: readonly (readonly number[])[],
      there: Float64Array,
      into: Float64Array,
    ) => {
      let next = 0;
      for (const [line, off] of lines.entries()) {
        for (const weight of weights[line]!) {
          const by = Math.sqrt(robust[next]!);
          into[next++] = by * off.reduce((sum, value, k) => sum + weight[k]! * value, 0);
        }
      }
      for (const row of priors.weights) {
        into[next++] = priors.at.reduce(
          (sum, j, k) => sum + row[k]! * (parameters[j]!.prior!.value - there[j]!),
          0,
        );
      }
    };
    const fit = leastSquares({
      count,
      start: [...at],
      scales,
      tolerance: precision.tolerance,
      damping: precision.damping[isNear(pass) ? 1 : 0],
      sparing: precision.sparing && isNear(pass),
      residuals(there, into) {
        const lines = deviations(valuesOf(parameters, there));
        if (lines) weigh(lines, there, into);
        return lines !== undefined;
      },
    });
    const whole = unweighted(fit, robust);
    const determined = determination(whole.jacobian);
    const scale = weighted ? 1 : medianScale(whole.residuals);
    const plain = weighted ? 1 : fit.sumOfSquares / Math.max(1, readings - names.length);
    const variance = isRobust ? huberVariance(whole.residuals, scale, names.length) : plain;
    if (isRobust) robust = huberWeights(whole.residuals, scale);
    const refused = { ...fit, scales: scalesAt(fit.parameters), variance };
    const together = leftOpen(names, determined, refused.scales, variance);
    if (together.length > 0) throw refusal({ ...refused, together });
    const moved = fit.parameters.some((value, j) => {
      const uncertainty = Math.sqrt(variance * determined.covariance[j]![j]!);
      return Math.abs(value - at[j]!) > precision.unmoved * uncertainty + 1e-12 * Math.abs(value);
    });
    at = fit.parameters;
    if ((weighted || isRobust) && moved) continue;
    return {
      /** Of all parameters, in SI. */
      values: valuesOf(parameters, at),
      /** Of the parameters to report, as they are fitted; row by row. */
      covariance: determined.covariance
        .slice(0, names.length)
        .map((row) => row.slice(0, names.length).map((value) => variance * value)),
      chiSquared: fit.sumOfSquares,
      degreesOfFreedom,
      /** Of the residuals: 1 where the data are weighted. */
      variance: isRobust ? scale ** 2 : variance,
      /** What the deviations were weighted with. */
      weighting,
      /** Readings that count for less than in full; undefined where all do. */
      downweighted: isRobust ? robust.filter((weight) => weight < 1).length : undefined,
    };
  }
  throw new FitError(
    `fit: the weights of ${data.file} did not settle; are its uncertainties right?`,
  );
}

/** The residuals of the readings, and all rows of the derivatives, as if all counted in full. */
function unweighted({ residuals, jacobian }: LeastSquaresFit, robust: Float64Array) {
  return {
    residuals: robust.map((weight, i) => residuals[i]! / Math.sqrt(weight)),
    jacobian: jacobian.map((row, i) => {
      const weight = robust[i] ?? 1;
      return weight === 1 ? row : row.map((value) => value / Math.sqrt(weight));
    }),
  };
}

/** Parameters whose deviations are kept: those that differences were taken of, for one pass and the next. */
const mostKept = 40;

/**
 * Deviations by line, for values in SI; undefined where the model is not valid. They are kept, since each pass
 * over the weights begins where the one before it ended.
 */
function deviationsOf(model: FittedModel) {
  const known = new Map<string, readonly (readonly number[])[]>();
  return (values: readonly number[]): readonly (readonly number[])[] | undefined => {
    const key = values.join();
    const found = known.get(key);
    if (found) return found;
    if (!model.set(values)) return undefined;
    const lines: (readonly number[])[] = [];
    for (let line = 0; line < model.data.places.length; line++) {
      const off = model.deviations(line);
      if (!off) return undefined;
      lines.push(off);
    }
    known.set(key, lines);
    if (known.size > mostKept) known.delete(known.keys().next().value!);
    return lines;
  };
}

/** Parameters of which something was known before, by index, and L⁻¹ of their covariance, by rows. */
function priorsOf(
  parameters: readonly Parameter[],
  correlated: Pick<Correlations, "names" | "matrix"> = { names: [], matrix: [] },
) {
  const at = parameters.flatMap(({ prior }, j) => (prior ? [j] : []));
  const place = at.map((j) => correlated.names.indexOf(parameters[j]!.name));
  const covariance = at.map((i, k) =>
    at.map((j, l) => {
      const by = i === j ? 1 : (correlated.matrix[place[k]!]?.[place[l]!] ?? 0);
      return by * parameters[i]!.prior!.uncertainty * parameters[j]!.prior!.uncertainty;
    }),
  );
  try {
    return { at, weights: whitening(covariance) };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const wanted = "inputs that do not follow from each other (a correlation of 1 or -1)";
    throw new FieldError("inputs", wanted, at.map((j) => parameters[j]!.name).join(", "));
  }
}

/**
 * Covariances at values of the parameters; 1 each where the data state no uncertainties.
 * @param deviations - there, by line, where they are known
 */
export function covariancesOf(
  model: FittedModel,
  values: readonly number[],
  deviations?: readonly (readonly number[])[],
): Covariances {
  const { data, thermometers, weighted } = model;
  model.set(values);
  return data.places.map((_, line) => {
    const influences = weighted ? model.influences(line, deviations?.[line]) : [];
    return thermometers.map((_, i) =>
      thermometers.map((_, j) =>
        influences.reduce(
          (sum, { uncertainty, slopes }) => sum + slopes[i]! * slopes[j]! * uncertainty ** 2,
          weighted || i !== j ? 0 : 1,
        ),
      ),
    );
  });
}
