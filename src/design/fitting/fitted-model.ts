/**
 * What a fit asks of a model: parameters, predicted temperatures, and readings less model.
 *
 * Two models have this shape: a mount with a heater (`heated-mount.ts`), and its smallest case, one
 * conductor between a heated node and a stage node (`fit-conductor.ts`).
 * @module
 */
import type { Readings, Thermometry } from "./thermometry.js";

/** A parameter to fit. Its numbers are those that are fitted: in SI, or the logarithm of that. */
export interface Parameter {
  readonly name: string;
  /** Whether the logarithm of the value is fitted. */
  readonly logarithmic: boolean;
  readonly start: number;
  /** A change, at a value, that the readings show clearly; 1 when absent. */
  scale?(value: number): number;
  /** What was known before, with its standard uncertainty. */
  readonly prior?: { readonly value: number; readonly uncertainty: number };
  /** For an error that thermometers share: what a value of 1 does to their readings. */
  readonly shared?: {
    readonly thermometers: readonly string[];
    /** Share by which the readings are too high. */
    readonly gain: number;
    /** What is added to them [K]. */
    readonly offset: number;
  };
}

/** A thermometer by its column. */
export interface NamedReadings {
  readonly name: string;
  readonly readings: Readings;
}

/** A solution of the model. */
export interface Prediction {
  /** Temperature of the stage [K]. */
  readonly stage: number;
  /** What each thermometer reads [K]. */
  readonly temperatures: readonly number[];
}

/** An independent source of uncertainty of a line's deviations. */
export interface Influence {
  /** Standard uncertainty of the source. */
  readonly uncertainty: number;
  /** Change of each deviation with it. */
  readonly slopes: readonly number[];
}

/** A model to fit to lines of readings. */
export interface FittedModel {
  readonly data: Thermometry;
  /** Those to report, then the errors that thermometers share. */
  readonly parameters: readonly Parameter[];
  /** Thermometers whose readings the model predicts. */
  readonly thermometers: readonly NamedReadings[];
  /** Whether the data state uncertainties. @throws FieldError when they do in part */
  readonly weighted: boolean;
  /** How finely the model is solved, and so how finely its parameters can be found. */
  readonly precision: {
    /** Of the slope of the sum of squares, as in `LeastSquares`. */
    readonly tolerance: number;
    /** Length of finite differences, in scales of the parameters. */
    readonly reach: number;
    /** Damping of the first step as in `LeastSquares`: in the first pass, and in later ones. */
    readonly damping: readonly [number, number];
    /** Whether each line takes so long to solve that steps should be spared. */
    readonly sparing: boolean;
    /** The weights are final when no parameter moves by more than this part of its uncertainty. */
    readonly unmoved: number;
  };
  /** Takes values of all parameters in SI for what follows; false when they are not valid. */
  set(values: readonly number[]): boolean;
  /** Stage temperature of a line [K]; undefined where it was not measured. */
  stageAt(line: number): number | undefined;
  /**
   * Solves for a heater power [W] and a stage temperature [K]; undefined without steady state.
   * @param line - that they are of; of none, as of a curve, when absent
   */
  predict(power: number, stage: number | undefined, line?: number): Prediction | undefined;
  /** How much warmer each thermometer of a line is than predicted [K], or the heat [W] for that. */
  deviations(line: number): readonly number[] | undefined;
  /**
   * What makes the deviations of a line uncertain, where the data are weighted.
   * @param deviations - of that line, where they are known
   */
  influences(line: number, deviations?: readonly number[]): readonly Influence[];
}

/** Readings of a line less what a model predicts [K]. */
export function readingsLess(
  model: Omit<FittedModel, "deviations">,
  line: number,
): readonly number[] | undefined {
  const { data, thermometers } = model;
  const predicted = model.predict(data.power.values[line]!, model.stageAt(line), line);
  return predicted?.temperatures.map((T, k) => thermometers[k]!.readings.values[line]! - T);
}

/** Values of parameters in SI. @param fitted - as they are fitted; their start when absent */
export function valuesOf(
  parameters: readonly Parameter[],
  fitted: ArrayLike<number> = parameters.map(({ start }) => start),
): number[] {
  return parameters.map(({ logarithmic }, j) => (logarithmic ? Math.exp(fitted[j]!) : fitted[j]!));
}
