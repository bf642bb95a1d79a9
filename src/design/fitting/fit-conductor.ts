/**
 * Fits the law of a heat path to heater power and two thermometers.
 * @module
 */
import { powerConductor } from "../../conductor.js";
import { type Determination, determination, FitError } from "../../numerics/jacobian.js";
import { leastSquares } from "../../numerics/least-squares.js";
import type { Provenance } from "../../provenance.js";
import { FieldError } from "../../units/errors.js";
import { formatQuantity } from "../../units/format.js";
import { ConductorFit } from "./conductor-fit.js";
import {
  demandEnough,
  type FitPoint,
  type FittedParameter,
  goodness,
  leftOpen,
  linear,
  logarithmic,
  UndeterminedError,
} from "./fit.js";
import { measuredKey, uncertaintyText } from "./saved-fit.js";
import { type Readings, type Thermometry, thermometer } from "./thermometry.js";

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
 * the law's own slopes, and is taken anew as the law settles (effective variance: J. Orear, Least
 * squares when both variables have uncertainties, Am. J. Phys. 50, 912 (1982)). Data without
 * uncertainties are weighted alike in power, and their scatter gives the parameters' uncertainty.
 * @throws FieldError naming what is wrong with data or options; UndeterminedError when the temperatures
 * are too near to each other to tell a from n
 */
export function fitConductor(data: Thermometry, options: ConductorFitOptions): ConductorFit {
  const { file, power } = data;
  const [hot, cold] = [
    thermometer(data, options.from, "from"),
    thermometer(data, options.to, "to"),
  ];
  if (options.from === options.to) {
    throw new FieldError("to", "another thermometer than from", options.to);
  }
  const names = ["coefficient", "exponent", ...(options.background ? ["background"] : [])];
  const count = power.values.length;
  demandEnough(file, count, names.length);
  const weighted = [power, hot, cold].some(({ uncertainties }) => uncertainties);
  const law = new ScaledLaw(hot, cold, power);
  let parameters = law.start(options.background ?? false);
  let weights = law.variances(parameters, weighted);
  for (let pass = 0; ; pass++) {
    const fit = leastSquares({
      count,
      start: [...parameters],
      scales: [1, 1, law.powerScale],
      residuals: (p, into) => law.residuals(p, weights, into),
    });
    const known = determination(fit.jacobian);
    const variance = weighted ? 1 : fit.sumOfSquares / Math.max(1, count - names.length);
    refuse(options, law, known, variance, fit.parameters);
    const moved = fit.parameters.some((value, j) => {
      const spreadOfIt = Math.sqrt(variance * known.covariance[j]![j]!);
      return Math.abs(value - parameters[j]!) > 1e-4 * spreadOfIt + 1e-12 * Math.abs(value);
    });
    parameters = fit.parameters;
    if (!weighted || !moved) {
      return report(data, options, { law, parameters, weights, known, variance, weighted });
    }
    if (pass === 60) {
      throw new FitError(
        `fit: the weights of ${file} did not settle; are its uncertainties right?`,
      );
    }
    weights = law.variances(parameters, weighted);
  }
}

/**
 * The law in terms that are nearly independent: the logarithm of G at a temperature amid the readings,
 * and the exponent.
 */
class ScaledLaw {
  /** [K] */
  readonly middle: number;
  /** [W] */
  readonly powerScale: number;

  constructor(
    readonly hot: Readings,
    readonly cold: Readings,
    readonly power: Readings,
  ) {
    const logs = [...hot.values, ...cold.values].map(Math.log);
    this.middle = Math.exp(logs.reduce((sum, x) => sum + x, 0) / logs.length);
    this.powerScale = Math.max(...power.values.map(Math.abs));
    if (!(this.powerScale > 0)) {
      throw new FieldError("heater power", "a line with the heater on", 0);
    }
  }

  /** Heat of reading i for ln G = 0, by the exponent [W]. */
  heat(n: number, i: number): number {
    const { middle } = this;
    return (
      (middle / n) * ((this.hot.values[i]! / middle) ** n - (this.cold.values[i]! / middle) ** n)
    );
  }

  /** The best straight line for each of a few exponents, and of these the best. */
  start(background: boolean): Float64Array {
    const powers = this.power.values;
    let best: { readonly n: number; readonly g: number; readonly sum: number } | undefined;
    for (let n = 1.25; n <= 6; n += 0.25) {
      const heats = Array.from(powers, (_, i) => this.heat(n, i));
      const g =
        heats.reduce((sum, q, i) => sum + q * powers[i]!, 0) /
        heats.reduce((sum, q) => sum + q * q, 0);
      const sum = heats.reduce((total, q, i) => total + (powers[i]! - g * q) ** 2, 0);
      if (g > 0 && (!best || sum < best.sum)) best = { n, g, sum };
    }
    if (!best) {
      throw new FieldError(
        "from",
        "the thermometer that gets warmer with heater power",
        "it cools",
      );
    }
    return Float64Array.of(Math.log(best.g), best.n, ...(background ? [0] : []));
  }

  /** Variance of each residual [W²]. */
  variances(p: Float64Array, weighted: boolean): Float64Array {
    const { hot, cold, power, middle } = this;
    if (!weighted) return new Float64Array(power.values.length).fill(1);
    const slope = (T: number) => Math.exp(p[0]!) * (T / middle) ** (p[1]! - 1);
    return Float64Array.from(power.values, (_, i) => {
      const variance =
        (power.uncertainties?.[i] ?? 0) ** 2 +
        (slope(hot.values[i]!) * (hot.uncertainties?.[i] ?? 0)) ** 2 +
        (slope(cold.values[i]!) * (cold.uncertainties?.[i] ?? 0)) ** 2;
      return variance;
    });
  }

  residuals(p: Float64Array, variances: Float64Array, into: Float64Array): boolean {
    const [logG, n, background = 0] = p;
    if (!(n! > 0.05 && n! < 30)) return false;
    for (let i = 0; i < into.length; i++) {
      const model = Math.exp(logG!) * this.heat(n!, i) - background;
      into[i] = (this.power.values[i]! - model) / Math.sqrt(variances[i]!);
    }
    return true;
  }
}

/** @throws UndeterminedError */
function refuse(
  { from, to, background }: ConductorFitOptions,
  law: ScaledLaw,
  known: Determination,
  variance: number,
  parameters: Float64Array,
): void {
  const names = ["the conductance", "the exponent", ...(background ? ["the background"] : [])];
  const scales = [1, 1, Math.max(Math.abs(parameters[2] ?? 0), law.powerScale)];
  const together = leftOpen(names, known, scales, variance);
  if (together.length === 0) return;
  const all = [...law.hot.values, ...law.cold.values];
  const span = `${formatQuantity(Math.min(...all), "K")} to ${formatQuantity(Math.max(...all), "K")}`;
  throw new UndeterminedError(
    `fit: readings of ${from} and ${to} from ${span} leave open ${together.join(" and ")}.`,
    together,
    "Heat until the warm end is at twice the cold one, measure at another stage temperature, or " +
      "measure more finely.",
  );
}

function report(
  data: Thermometry,
  options: ConductorFitOptions,
  found: {
    readonly law: ScaledLaw;
    readonly parameters: Float64Array;
    readonly weights: Float64Array;
    readonly known: Determination;
    readonly variance: number;
    readonly weighted: boolean;
  },
): ConductorFit {
  const { law, parameters, weights, known, variance, weighted } = found;
  const [logG, n, background] = parameters;
  const log = Math.log(law.middle);
  // ln a = ln G − ln n − (n − 1) ln T: what its derivatives do to the covariance
  const turn = [
    [1, -1 / n! - log, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  const covariance = turned(known.covariance, turn, variance);
  const a = Math.exp(logG! - (n! - 1) * log) / n!;
  const deviation = (j: number) => Math.sqrt(covariance[j]![j]!);
  const fitted: FittedParameter[] = [
    logarithmic("coefficient", `W/K^${Number(n!.toPrecision(6))}`, a, deviation(0)),
    linear("exponent", "", n!, deviation(1)),
    ...(background === undefined ? [] : [linear("background", "W", background, deviation(2))]),
  ];
  const { name = `${options.from} to ${options.to}`, date } = options;
  if (date !== undefined) measuredKey(date);
  const all = [...law.hot.values, ...law.cold.values];
  const range = { from: Math.min(...all), to: Math.max(...all) };
  const source = date === undefined ? "measured" : `measured, ${date}`;
  const provenance = fitted.slice(0, 2).map(
    (parameter): Provenance => ({
      quantity: `${name}: ${parameter.name}`,
      value: parameter.value,
      unit: parameter.unit,
      uncertainty: uncertaintyText(parameter),
      source,
      where: data.file,
      note: `fitted to ${data.power.values.length} readings`,
    }),
  );
  const into = new Float64Array(data.power.values.length);
  law.residuals(parameters, weights, into);
  const sum = into.reduce((total, r) => total + r * r, 0);
  const quality = goodness(sum, into.length, parameters.length, weighted);
  const points = data.places.map((place, i): FitPoint => {
    const [stage, power] = [law.cold.values[i]!, data.power.values[i]!];
    const base = (power + (background ?? 0)) / a + stage ** n!;
    return {
      place,
      thermometer: options.from,
      power,
      stage,
      measured: law.hot.values[i]!,
      uncertainty: law.hot.uncertainties?.[i] ?? 0,
      fitted: Math.max(base, 0) ** (1 / n!),
      // More power than the law has at these readings is a warm end too cold.
      normalised: -into[i]! / Math.sqrt(variance || 1),
    };
  });
  return new ConductorFit(
    name,
    data.file,
    fitted,
    covariance,
    quality.chiSquared,
    quality.degreesOfFreedom,
    quality.probability,
    points,
    powerConductor(a, n!, {
      ranges: [{ ...range, of: `${name}, as measured`, outside: "warn" }],
      provenance,
    }),
    range,
    date,
  );
}

/** v·T C Tᵀ */
function turned(
  covariance: readonly Float64Array[],
  turn: readonly (readonly number[])[],
  variance: number,
): readonly Float64Array[] {
  const n = covariance.length;
  return Array.from({ length: n }, (_, i) =>
    Float64Array.from({ length: n }, (_, j) => {
      let sum = 0;
      for (let k = 0; k < n; k++) {
        for (let l = 0; l < n; l++) sum += turn[i]![k]! * covariance[k]![l]! * turn[j]![l]!;
      }
      return variance * sum;
    }),
  );
}
