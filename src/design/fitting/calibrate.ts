/**
 * Calibration: inputs of a mount fitted to what was measured after cool-down, for the next design.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { Mount } from "../../mount/mount.js";
import { determination, FitError } from "../../numerics/jacobian.js";
import { withField } from "../field.js";
import { demandEnough } from "./fit.js";
import { type CalibrationOptions, isWeighted, readInputs, readShifts } from "./fit-inputs.js";
import { FittedModel } from "./fitted-model.js";
import { Fitting } from "./fitting.js";
import type { MountFit } from "./mount-fit.js";
import { measuredKey } from "./saved-fit.js";
import type { Thermometry } from "./thermometry.js";

/**
 * Fits inputs of a mount so that its solved temperatures meet the thermometers' at every heater power.
 *
 * Least squares of readings less model. The readings of a line share what power and stage are uncertain
 * by, through the model's own slopes, which are taken anew as the fit settles (effective variance:
 * J. Orear, Am. J. Phys. 50, 912 (1982)); errors that thermometers share over all lines are fitted along,
 * held to their standard uncertainty. The covariance is (JᵀJ)⁻¹ at the best inputs.
 * @param data - of `readThermometry`
 * @throws FieldError, UnknownNameError naming what is wrong with mount, data or options;
 * UndeterminedError naming the inputs that the data can't tell apart; FitError when no best inputs are
 * found
 * @example calibrate(guess, readThermometry(csv), { inputs: ["pads.coupling.coefficient"] }).summary
 */
export function calibrate(mount: Mount, data: Thermometry, options: CalibrationOptions): MountFit {
  const catalogue = options.catalogue ?? standardCatalogue();
  if (options.date !== undefined) measuredKey(options.date);
  const inputs = readInputs(mount, options);
  const shifts = readShifts(data, options.sharedErrors ?? []);
  const started = inputs.reduce<Mount>(
    (changed, { field, start, logarithmic: log }) =>
      withField(changed, field, log ? Math.exp(start) : start),
    mount,
  );
  const model = new FittedModel(started, data, options, catalogue);
  const readings = data.places.length * model.thermometers.length;
  const priors = inputs.filter(({ prior }) => prior).length;
  demandEnough(data.file, readings + priors, inputs.length);
  const weighted = isWeighted(data, model);
  const fitting = new Fitting(model, data, inputs, shifts, weighted);

  let parameters: Float64Array = Float64Array.from([
    ...inputs.map(({ start }) => start),
    ...shifts.map(() => 0),
  ]);
  let weights = fitting.weights(parameters);
  for (let pass = 0; ; pass++) {
    const fit = fitting.fit(parameters, weights, pass > 0);
    const known = determination(fit.jacobian);
    const variance = weighted ? 1 : fit.sumOfSquares / Math.max(1, readings - inputs.length);
    fitting.refuse(known, variance, fit.parameters, fit.jacobian);
    const moved = fit.parameters.some(
      (value, j) =>
        Math.abs(value - parameters[j]!) > 1e-3 * Math.sqrt(variance * known.covariance[j]![j]!),
    );
    parameters = fit.parameters;
    if (!weighted || !moved || pass === 30) {
      if (pass === 30) throw new FitError(`fit: the weights of ${data.file} did not settle.`);
      return fitting.report(mount, options, { parameters, weights, known, variance });
    }
    weights = fitting.weights(parameters);
  }
}
