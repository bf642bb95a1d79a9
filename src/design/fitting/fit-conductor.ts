/**
 * Fits the law of a heat path to heater power and two thermometers.
 * @module
 */
import { FieldError } from "../../units/errors.js";
import { formatQuantity } from "../../units/format.js";
import { ConductorFit } from "./conductor-fit.js";
import { drawn, fittedParameters } from "./fit.js";
import { type FoundFit, fitModel } from "./fit-model.js";
import type {
  FittedModel,
  Influence,
  NamedReadings,
  Parameter,
  Prediction,
} from "./fitted-model.js";
import { measuredKey } from "./saved-fit.js";
import { type Readings, type Thermometry, thermometer } from "./thermometry.js";
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

/**
 * The smallest mount: one conductor between a heated node and a stage node, solved by a formula. Its
 * deviations are heats [W], so that data without uncertainties are weighted alike in power. In place of a
 * it has G at the mean temperature of the readings, which is nearly independent of n.
 */
class ConductorModel implements FittedModel {
  readonly parameters: readonly Parameter[];
  readonly thermometers: readonly NamedReadings[];
  readonly weighted: boolean;
  readonly precision = {
    tolerance: 1e-12,
    reach: 1,
    damping: [1, 1],
    sparing: false,
    unmoved: 1e-4,
  } as const;
  /** Where G is a parameter [K]. */
  readonly middle: number;
  /** G [W/K], n, and the background [W]. */
  #values: readonly number[] = [];

  /**
   * @param hot, cold - readings at the heated node and at the stage node
   * @throws FieldError where no line has heat, or the heated node cools with it
   */
  constructor(
    readonly data: Thermometry,
    readonly hot: Readings,
    readonly cold: Readings,
    { from, background }: { readonly from: string; readonly background: boolean },
  ) {
    this.thermometers = [{ name: from, readings: hot }];
    this.weighted = [data.power, hot, cold].some(({ uncertainties }) => uncertainties);
    const logs = [...hot.values, ...cold.values].map(Math.log);
    this.middle = Math.exp(logs.reduce((sum, x) => sum + x, 0) / logs.length);
    const most = Math.max(...data.power.values);
    if (!(most > 0)) throw new FieldError("heater power", "a line with the heater on", 0);
    const { g, n } = this.#start();
    const scale = (value: number) => Math.max(Math.abs(value), most);
    this.parameters = [
      { name: "the conductance", logarithmic: true, start: Math.log(g) },
      { name: "the exponent", logarithmic: false, start: n },
      ...(background ? [{ name: "the background", logarithmic: false, start: 0, scale }] : []),
    ];
  }

  /** The best straight line for each of a few exponents, and of these the best. */
  #start() {
    const powers = [...this.data.power.values];
    const lines = Array.from({ length: 20 }, (_, i) => {
      const n = 1.25 + 0.25 * i;
      const heats = powers.map((_, line) => this.#heat(n, line));
      const dot = (values: readonly number[]) =>
        heats.reduce((sum, q, j) => sum + q * values[j]!, 0);
      const g = dot(powers) / dot(heats);
      const sum = heats.reduce((total, q, j) => total + (powers[j]! - g * q) ** 2, 0);
      return { n, g, sum };
    }).filter(({ g }) => g > 0);
    if (lines.length > 0) return lines.reduce((best, line) => (line.sum < best.sum ? line : best));
    const wanted = "the thermometer that gets warmer with heater power";
    throw new FieldError("from", wanted, "it cools");
  }

  /** Heat of a line for G = 1 W/K, by the exponent [W]. */
  #heat(n: number, line: number): number {
    const power = (of: Readings) => (of.values[line]! / this.middle) ** n;
    return (this.middle / n) * (power(this.hot) - power(this.cold));
  }

  set(values: readonly number[]): boolean {
    this.#values = values;
    return values[1]! > 0.05 && values[1]! < 30;
  }

  stageAt(line: number): number {
    return this.cold.values[line]!;
  }

  predict(power: number, stage: number): Prediction {
    const [g, n, background = 0] = this.#values;
    const a = g! / n! / this.middle ** (n! - 1);
    const base = (power + background) / a + stage ** n!;
    return { stage, temperatures: [Math.max(base, 0) ** (1 / n!)] };
  }

  deviations(line: number): readonly number[] {
    const [g, n, background = 0] = this.#values;
    return [g! * this.#heat(n!, line) - background - this.data.power.values[line]!];
  }

  influences(line: number): readonly Influence[] {
    const [g, n] = this.#values;
    const of = (readings: Readings, slope: (T: number) => number) => ({
      uncertainty: readings.uncertainties?.[line] ?? 0,
      slopes: [slope(readings.values[line]!)],
    });
    const conductance = (T: number) => g! * (T / this.middle) ** (n! - 1);
    return [of(this.data.power, () => 1), of(this.hot, conductance), of(this.cold, conductance)];
  }
}
