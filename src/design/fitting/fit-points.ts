/**
 * Readings beside what a fit predicts, and the fit as curves to draw over them.
 * @module
 */
import { chiSquaredProbability } from "../../numerics/distributions.js";
import type { Covariances, FoundFit } from "./fit-model.js";
import type { FittedModel } from "./fitted-model.js";

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
  const { values, variance, chiSquared, degreesOfFreedom } = found;
  model.set(values);
  const points = data.places.flatMap((place, line): FitPoint[] => {
    const power = data.power.values[line]!;
    const off = model.deviations(line)!;
    const { stage, temperatures } = model.predict(power, model.stageAt(line))!;
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
    model.weighted && degreesOfFreedom > 0
      ? chiSquaredProbability(chiSquared, degreesOfFreedom)
      : undefined;
  const curves = () => curvesOf(model, values, points);
  return { file: data.file, chiSquared, degreesOfFreedom, probability, points, curves };
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
