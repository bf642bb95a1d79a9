/**
 * A start for the fit of a 2-D die: the best inputs of the mount with a die of two nodes, whose rises are
 * corrected to those of the 2-D one at the inputs found last. That takes one solve of the 2-D die a line and
 * turn, where the search itself takes some ten; the fit goes on from there with the 2-D die alone.
 * @module
 */
import { SolveError } from "../../network/solution.js";
import { FitError } from "../../numerics/jacobian.js";
import { FieldError } from "../../units/errors.js";
import { type FitOptions, fitModel } from "./fit-model.js";
import { type FittedModel, readingsLess, valuesOf } from "./fitted-model.js";
import type { HeatedMount } from "./heated-mount.js";
import { UndeterminedError } from "./undetermined.js";

const mostTurns = 3;
/** Change of a parameter that ends the turns, in its standard uncertainty. */
const nearEnough = 0.3;

/**
 * Values in SI near the best ones; undefined where the two-node model finds none, and so the fit begins where it
 * was told to.
 * @param model - of a 2-D die @param quick - of the same, with two nodes
 */
export function nearStart(
  model: HeatedMount,
  quick: HeatedMount,
  options: FitOptions,
): readonly number[] | undefined {
  const { parameters, thermometers, data } = model;
  let at: readonly number[] = valuesOf(parameters);
  const refused = () => new UndeterminedError("", [], "");
  try {
    for (let turn = 0; turn < mostTurns; turn++) {
      if (!model.set(at) || !quick.set(at)) return undefined;
      const ratios = data.places.map((_, line) => {
        const [power, stage] = [data.power.values[line]!, model.stageAt(line)];
        const [fine, coarse] = [model, quick].map((m) => m.predict(power, stage, line));
        return thermometers.map((_, k) =>
          fine && coarse
            ? (fine.temperatures[k]! - fine.stage) / (coarse.temperatures[k]! - coarse.stage)
            : Number.NaN,
        );
      });
      if (!ratios.flat().every((ratio) => ratio > 0 && Number.isFinite(ratio))) return undefined;
      const { values, covariance } = fitModel(corrected(quick, ratios), refused, {
        ...options,
        near: turn > 0 ? at : undefined,
      });
      const moved = Math.max(
        ...covariance.map((row, j) => {
          const { logarithmic } = parameters[j]!;
          const by = logarithmic ? Math.log(values[j]! / at[j]!) : values[j]! - at[j]!;
          return Math.abs(by) / Math.sqrt(row[j]!);
        }),
      );
      at = values;
      if (moved < nearEnough) break;
    }
    return at;
  } catch (error) {
    // What is wrong with the mount or the data, the fit itself says better.
    const known = [FitError, FieldError, SolveError, RangeError];
    if (known.some((kind) => error instanceof kind)) return undefined;
    throw error;
  }
}

/** The two-node model with its rises above the stage times a ratio, by line and thermometer. */
function corrected(quick: HeatedMount, ratios: readonly (readonly number[])[]): FittedModel {
  const { data, parameters, thermometers, weighted, precision } = quick;
  const model: FittedModel = {
    data,
    parameters,
    thermometers,
    weighted,
    precision,
    set: (values) => quick.set(values),
    stageAt: (line) => quick.stageAt(line),
    predict(power, stage, line = 0) {
      const found = quick.predict(power, stage, line);
      return (
        found && {
          ...found,
          temperatures: found.temperatures.map(
            (T, k) => found.stage + (T - found.stage) * ratios[line]![k]!,
          ),
        }
      );
    },
    deviations: (line) => readingsLess(model, line),
    influences: (line) => quick.influences(line),
  };
  return model;
}
