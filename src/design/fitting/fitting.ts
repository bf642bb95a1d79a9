/**
 * The residuals of a mount's fit: readings less model, weighted, with the errors that they share.
 * @module
 */
import type { Mount } from "../../mount/description.js";
import { whitening } from "../../numerics/cholesky.js";
import { type Determination, FitError } from "../../numerics/jacobian.js";
import { leastSquares } from "../../numerics/least-squares.js";
import {
  type FitPoint,
  goodness,
  inWords,
  leftOpen,
  linear,
  logarithmic,
  UndeterminedError,
} from "./fit.js";
import { adviceFor } from "./fit-advice.js";
import type { CalibrationOptions, Input, Shift } from "./fit-inputs.js";
import type { FittedModel } from "./fitted-model.js";
import { MountFit } from "./mount-fit.js";
import type { Thermometry } from "./thermometry.js";

/** Inputs are found to this part of their standard uncertainty: finer has no meaning. */
const tolerance = 1e-6;
/** Differences reach wider than the smallest: a settled mount has not all digits of a double. */
const lookAround = 20;

/** The residuals of a fit, and what they tell. */
export class Fitting {
  readonly #names: readonly string[];
  readonly #rows: number;
  readonly #thermometers: number;

  constructor(
    readonly model: FittedModel,
    readonly data: Thermometry,
    readonly inputs: readonly Input[],
    readonly shifts: readonly Shift[],
    readonly weighted: boolean,
  ) {
    this.#names = inputs.map(({ field }) => field);
    this.#rows = data.places.length;
    this.#thermometers = model.thermometers.length;
  }

  /** Inputs in SI. */
  values(parameters: Float64Array): readonly number[] {
    return this.inputs.map(({ logarithmic: log }, j) =>
      log ? Math.exp(parameters[j]!) : parameters[j]!,
    );
  }

  /** What a thermometer reads where the temperature is T, with the shared errors as fitted. */
  #read(name: string, temperature: number, parameters: Float64Array): number {
    const { gain, offset } = this.#errors(name, parameters);
    return temperature * (1 + gain) + offset;
  }

  #errors(name: string, parameters: Float64Array) {
    let [gain, offset] = [0, 0];
    this.shifts.forEach((shift, i) => {
      if (!shift.thermometers.includes(name)) return;
      const by = parameters[this.inputs.length + i]!;
      gain += by * shift.gain;
      offset += by * shift.offset;
    });
    return { gain, offset };
  }

  /** Temperature of the stage in a line [K]. */
  #stage(row: number, parameters: Float64Array): number | undefined {
    const read = this.model.stage?.values[row];
    if (read === undefined) return undefined;
    const { gain, offset } = this.#errors("stage", parameters);
    return (read - offset) / (1 + gain);
  }

  /** What the thermometers of a line read by the model. */
  predicted(
    row: number,
    parameters: Float64Array,
    more: { readonly power?: number; readonly stage?: number } = {},
  ): readonly number[] | undefined {
    const power = more.power ?? this.data.power.values[row]!;
    const stage = more.stage ?? this.#stage(row, parameters);
    const temperatures = this.model.solve(power, stage);
    return temperatures?.map((T, k) => this.#read(this.model.thermometers[k]!.name, T, parameters));
  }

  /** For each line, what turns its residuals into independent ones of variance 1. */
  weights(parameters: Float64Array): readonly (readonly Float64Array[])[] | undefined {
    if (!this.weighted) return undefined;
    if (!this.model.set(this.#names, this.values(parameters))) {
      throw new FitError("fit: the mount does not take its own inputs.");
    }
    return Array.from({ length: this.#rows }, (_, row) =>
      whitening(this.#covariance(row, parameters)),
    );
  }

  /** Covariance of the residuals of a line [K²]. */
  #covariance(row: number, parameters: Float64Array): number[][] {
    const { model, data } = this;
    const own = model.thermometers.map(({ readings }) => readings.uncertainties![row]!);
    const covariance = own.map((a, i) => own.map((_, j) => (i === j ? a * a : 0)));
    const shared = (slopes: readonly number[] | undefined, uncertainty: number) => {
      slopes?.forEach((a, i) => {
        slopes.forEach((b, j) => {
          covariance[i]![j]! += a * b * uncertainty ** 2;
        });
      });
    };
    const power = data.power.values[row]!;
    const ofPower = data.power.uncertainties?.[row];
    if (ofPower) {
      const step = Math.max(power * 1e-4, 0.1 * ofPower);
      shared(this.#slopes(row, parameters, { power }, { power: power + step }, step), ofPower);
    }
    const stage = this.#stage(row, parameters);
    const ofStage = model.stage?.uncertainties?.[row];
    if (ofStage && stage !== undefined) {
      const step = 1e-4 * stage;
      shared(
        this.#slopes(row, parameters, { stage: stage - step }, { stage: stage + step }, 2 * step),
        ofStage,
      );
    }
    return covariance;
  }

  #slopes(
    row: number,
    parameters: Float64Array,
    before: { readonly power?: number; readonly stage?: number },
    after: { readonly power?: number; readonly stage?: number },
    step: number,
  ): readonly number[] | undefined {
    const low = this.predicted(row, parameters, before);
    const high = this.predicted(row, parameters, after);
    if (!low || !high) return undefined;
    return high.map((T, k) => (T - low[k]!) / step);
  }

  residuals(
    parameters: Float64Array,
    weights: readonly (readonly Float64Array[])[] | undefined,
    into: Float64Array,
  ): boolean {
    if (!this.model.set(this.#names, this.values(parameters))) return false;
    const count = this.#thermometers;
    for (let row = 0; row < this.#rows; row++) {
      const predicted = this.predicted(row, parameters);
      if (!predicted) return false;
      const off = this.model.thermometers.map(
        ({ readings }, k) => readings.values[row]! - predicted[k]!,
      );
      for (let k = 0; k < count; k++) {
        const weight = weights === undefined ? undefined : weights[row]![k]!;
        into[row * count + k] = weight
          ? off.reduce((sum, r, l) => sum + weight[l]! * r, 0)
          : off[k]!;
      }
    }
    let at = this.#rows * count;
    this.shifts.forEach((_, i) => {
      into[at++] = parameters[this.inputs.length + i]!;
    });
    this.inputs.forEach(({ prior }, j) => {
      if (prior) into[at++] = (prior.value - parameters[j]!) / prior.uncertainty;
    });
    return true;
  }

  /** @param near - whether the start is the answer for nearly the same weights */
  fit(
    start: Float64Array,
    weights: readonly (readonly Float64Array[])[] | undefined,
    near: boolean,
  ) {
    const priors = this.inputs.filter(({ prior }) => prior).length;
    const problem = {
      count: this.#rows * this.#thermometers + this.shifts.length + priors,
      start: [...start],
      scales: [
        ...this.inputs.map(
          ({ logarithmic: log, start: value }) => lookAround * (log ? 1 : Math.abs(value)),
        ),
        ...this.shifts.map(() => lookAround),
      ],
      tolerance,
      damping: near ? 1e-6 : 1e-2,
      residuals: (parameters: Float64Array, into: Float64Array) =>
        this.residuals(parameters, weights, into),
    };
    return leastSquares(problem);
  }

  /** @throws UndeterminedError */
  refuse(
    known: Determination,
    variance: number,
    parameters: Float64Array,
    jacobian: readonly Float64Array[],
  ): void {
    const scales = this.inputs.map(({ logarithmic: log, start }, j) =>
      log ? 1 : Math.max(Math.abs(parameters[j]!), Math.abs(start)),
    );
    const together = leftOpen(this.#names, known, scales, variance);
    if (together.length === 0) return;
    const what =
      together.length === 1
        ? `the readings hardly hang on ${together[0]}.`
        : `the readings can't tell ${inWords(together)} apart: they change together.`;
    const advice = adviceFor(
      { fields: this.#names, parameters, scales, jacobian, variance, together },
      this.model,
      this.data,
      (p) => this.values(p),
    );
    throw new UndeterminedError(`fit: ${what}`, together, advice);
  }

  report(
    mount: Mount,
    options: CalibrationOptions,
    found: {
      readonly parameters: Float64Array;
      readonly weights: readonly (readonly Float64Array[])[] | undefined;
      readonly known: Determination;
      readonly variance: number;
    },
  ): MountFit {
    const { parameters, weights, known, variance } = found;
    const { inputs, data, model } = this;
    const count = inputs.length;
    const covariance = known.covariance.map((row) => row.map((value) => variance * value));
    const values = this.values(parameters);
    const fitted = inputs.map(({ field, unit, logarithmic: log }, j) =>
      (log ? logarithmic : linear)(field, unit, values[j]!, Math.sqrt(covariance[j]![j]!)),
    );
    const priors = inputs.filter(({ prior }) => prior).length;
    const readings = this.#rows * this.#thermometers;
    const residuals = new Float64Array(readings + this.shifts.length + priors);
    this.residuals(parameters, weights, residuals);
    const sum = residuals.reduce((total, r) => total + r * r, 0);
    const points: FitPoint[] = data.places.flatMap((place, row) => {
      const spreads = this.weighted ? this.#covariance(row, parameters) : undefined;
      const predicted = this.predicted(row, parameters)!;
      const stage = model.stageTemperature;
      return model.thermometers.map(({ name, readings: of }, k) => ({
        place,
        thermometer: name,
        power: data.power.values[row]!,
        stage,
        measured: of.values[row]!,
        uncertainty: of.uncertainties?.[row] ?? 0,
        fitted: predicted[k]!,
        normalised:
          (of.values[row]! - predicted[k]!) / Math.sqrt(spreads ? spreads[k]![k]! : variance || 1),
      }));
    });
    const shared = this.shifts.map(({ thermometers, gain, offset }, i) => ({
      thermometers,
      ...(gain > 0 ? { gain: gain * parameters[count + i]! } : {}),
      ...(offset > 0 ? { offset: offset * parameters[count + i]! } : {}),
      inUncertainties: parameters[count + i]!,
    }));
    return new MountFit({
      name: mount.name,
      file: data.file,
      parameters: fitted,
      covariance: covariance.slice(0, count).map((row) => row.slice(0, count)),
      ...goodness(sum, readings + priors, count, this.weighted),
      points,
      sharedErrors: shared,
      measured: mount,
      date: options.date,
      along: (stage, powers) => {
        model.set(this.#names, values);
        const rows = powers.map((power) => {
          const temperatures = model.solve(power, model.stage ? stage : undefined)!;
          return temperatures.map((T, k) => this.#read(model.thermometers[k]!.name, T, parameters));
        });
        return model.thermometers.map(({ name }, k) => ({
          thermometer: name,
          stage,
          powers,
          temperatures: rows.map((row) => row[k]!),
        }));
      },
    });
  }
}
