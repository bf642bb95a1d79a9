/**
 * Calibration: inputs of a mount fitted to what was measured after cool-down, for the next design.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { Mount } from "../../mount/mount.js";
import { provenanceLater } from "../../mount/numbers.js";
import { type Correlation, withCorrelations } from "../../mount/things/correlations.js";
import { FitError } from "../../numerics/jacobian.js";
import { FieldError } from "../../units/errors.js";
import { formatNumber, formatQuantity } from "../../units/format.js";
import { spread } from "../../units/spread.js";
import { withField } from "../field.js";
import { withCatalogueFields } from "./catalogue-fields.js";
import { drawn, Fit, type FitNumbers, fittedParameters, goodnessWords } from "./fit.js";
import {
  type CalibrationOptions,
  errorsOfScales,
  fieldsIn,
  partedWords,
  priorCorrelations,
  readInputs,
  readSharedErrors,
} from "./fit-inputs.js";
import { covariancesOf, fitModel } from "./fit-model.js";
import { HeatedMount } from "./heated-mount.js";
import { nearStart } from "./near-start.js";
import { doubtfulColumns } from "./plausibility.js";
import {
  correlationWith,
  digits,
  fittedTo,
  form,
  measuredKey,
  type SavedFit,
  savedFit,
  uncertaintyText,
} from "./saved-fit.js";
import type { Thermometry } from "./thermometry.js";
import { UndeterminedError, undeterminedInputs } from "./undetermined.js";

/**
 * Fits inputs of a mount so that its solved temperatures meet the thermometers' at every heater power.
 *
 * Least squares of readings less model. The readings of a line share what power and stage are uncertain
 * by, through the model's own slopes, which are computed anew from each fit (effective variance:
 * J. Orear, Am. J. Phys. 50, 912 (1982)); errors that thermometers share over all lines are fitted along,
 * with their standard uncertainty as a prior. The covariance is (JᵀJ)⁻¹ at the best inputs.
 * A field that the mount leaves to the catalogue, such as its films' coupling, is begun at what that says.
 * @param asGiven - the mount
 * @param data - of `readThermometry`
 * @throws FieldError, UnknownNameError naming what is wrong with mount, data or options;
 * UndeterminedError naming the inputs that the data can't tell apart; FitError when no best inputs are
 * found; RangeError where the fitted mount is where a law is refused
 * @example calibrate(guess, readThermometry(csv), { inputs: ["pads.coupling.coefficient"] }).summary
 */
export function calibrate(
  asGiven: Mount,
  data: Thermometry,
  options: CalibrationOptions,
): MountFit {
  const { catalogue = standardCatalogue(), date } = options;
  const { mount, warnings: written } = withCatalogueFields(asGiven, fieldsIn(options), catalogue);
  if (date !== undefined) measuredKey(date);
  const inputs = readInputs(mount, options);
  const scales = errorsOfScales(data, options.without);
  const errors = readSharedErrors(data, [...(options.sharedErrors ?? []), ...scales.counted]);
  const model = new HeatedMount(mount, data, [...inputs, ...errors], options, catalogue);
  const doubts = doubtfulColumns(model);
  const before = priorCorrelations(mount, inputs, options);
  const { errors: scatter } = options;
  if (scatter !== undefined && scatter !== "normal" && scatter !== "huber") {
    throw new FieldError("errors", '"normal" or "huber"', scatter);
  }
  const known = { correlated: before, errors: scatter };
  const near = model.isResolved ? nearStart(model, model.withFewNodes(), known) : undefined;
  const found = doubted(doubts, () =>
    fitModel(model, (refused) => undeterminedInputs(model, refused), { ...known, near }),
  );
  const { values, covariance } = found;
  // Where that is quick not the covariances that weighted the fit: the parameters have moved since, by less
  // than a thousandth of their uncertainties.
  const shown = drawn(
    model,
    found,
    model.isResolved ? found.weighting : covariancesOf(model, values),
  );
  const numbers = {
    ...shown,
    // Of the lines at the fitted values, which were predicted last.
    warnings: [
      ...doubts,
      ...written,
      ...(data.warnings ?? []),
      ...scales.warnings,
      ...model.warnings(),
      ...shown.warnings,
      ...model.readingWarnings,
      ...partedWords(mount, inputs),
    ],
    name: mount.name,
    parameters: fittedParameters(inputs, values, covariance),
    covariance,
    date,
    provenance: provenanceLater(mount, catalogue),
  };
  const sharedErrors = errors.map(({ shared }, i) => {
    const { thermometers, gain, offset } = shared!;
    const by = values[inputs.length + i]!;
    const size = gain > 0 ? { gain: gain * by } : { offset: offset * by };
    return { thermometers, ...size, inUncertainties: by };
  });
  return new MountFit(numbers, sharedErrors, mount);
}

/** Runs a fit; where it fails, the likely reason is what was doubtful before. */
function doubted<T>(doubts: readonly string[], run: () => T): T {
  try {
    return run();
  } catch (error) {
    if (!(error instanceof FitError) || doubts.length === 0) throw error;
    const words = doubts.join(" ");
    if (!(error instanceof UndeterminedError)) throw new FitError(`${error.message} ${words}`);
    throw new UndeterminedError(error.finding, error.together, `${words} ${error.advice}`);
  }
}

/** A shared error of thermometers as the fit has it. */
export interface FittedError {
  /** Thermometers that share it. */
  readonly thermometers: readonly string[];
  /** Share by which the readings are too high. */
  readonly gain?: number;
  /** What they are too high by [K]. */
  readonly offset?: number;
  /** The same in its stated standard uncertainty: far beyond 1 it is more than was stated. */
  readonly inUncertainties: number;
}

/** Fitted inputs of a mount, in the order asked for. */
export class MountFit extends Fit {
  readonly #measured: Mount;

  /** @internal Made by `calibrate`. */
  constructor(
    numbers: FitNumbers,
    /** What the fit says of errors that readings share. */
    readonly sharedErrors: readonly FittedError[],
    measured: Mount,
  ) {
    super(numbers);
    this.#measured = measured;
  }

  /**
   * The mount with the fitted inputs in place of its own, each as a spread of its own: a later budget
   * takes the values, a later sampling the spreads. What was fitted together varies together: the
   * covariance is handed on whole, in the mount's `correlations`.
   */
  get mount(): Mount {
    const mount = this.parameters.reduce<Mount>((mount, { name, low, high, logarithmic }) => {
      const distribution = logarithmic ? "log-normal" : "normal";
      return withField(mount, name, spread(low, high, { distribution }));
    }, this.#measured);
    const names = this.parameters.map(({ name }) => name);
    return withCorrelations(mount, names, this.#correlations);
  }

  /** The correlations of the fit, for a mount. */
  get #correlations(): readonly Correlation[] {
    const names = this.parameters.map(({ name }) => name);
    if (names.length < 2) return [];
    const matrix = names.map((a) => names.map((b) => (a === b ? 1 : this.correlation(a, b))));
    return [{ of: names, matrix, reason: fittedTo(this.file) }];
  }

  /** How good the fit is, and what it rests on. */
  protected get answer(): string {
    const { from, to } = this.range;
    const count = new Set(this.points.map(({ thermometer }) => thermometer)).size;
    return (
      `${this.points.length} readings of ${count === 1 ? "1 thermometer" : `${count} thermometers`} ` +
      `from ${formatQuantity(from, "K")} to ${formatQuantity(to, "K")} (${this.file}). ` +
      [goodnessWords(this), ...this.#correlated(), ...this.#exceeded()].join(" ")
    );
  }

  /** Sentences on inputs of which little is known apart. */
  #correlated(): readonly string[] {
    return this.parameters.flatMap(({ name }, i) =>
      this.parameters.slice(i + 1).flatMap((other) => {
        const r = this.correlation(name, other.name);
        if (Math.abs(r) < 0.7) return [];
        const sign = r < 0 ? "as one rises the other falls" : "they rise together";
        return (
          `${name} and ${other.name} are known less well apart than together ` +
          `(correlation ${formatNumber(r, 2)}: ${sign}).`
        );
      }),
    );
  }

  /** Sentences on shared errors that are larger than stated. */
  #exceeded(): readonly string[] {
    return this.sharedErrors
      .filter(({ inUncertainties }) => Math.abs(inUncertainties) >= 2)
      .map(({ thermometers, gain, offset, inUncertainties }) => {
        const by =
          gain === undefined ? formatQuantity(offset!, "K", 2) : `${formatNumber(100 * gain, 2)} %`;
        return (
          `${thermometers.join(" and ")} would read ${by} too high, ` +
          `${formatNumber(Math.abs(inUncertainties), 2)} times what was stated.`
        );
      });
  }

  /**
   * The inputs as text in the catalogue's columns, with their 90 % intervals and how they vary together: `withMeasured` puts them
   * into a mount, and `catalogue.withLaws("joints", "measured", csv, sources)` takes them.
   * @param date - of the measurement, when the fit has none
   * @throws FieldError without a date
   */
  toInputsCsv(date = this.date): SavedFit {
    const { from, to } = this.range;
    const rounded = { from: Number(from.toPrecision(4)), to: Number(to.toPrecision(4)) };
    const rows = this.parameters.flatMap((parameter, i) => {
      const own = { property: parameter.name, form, sample: this.name };
      const value = {
        ...own,
        parameter: "value",
        value: digits(parameter.value),
        unit: parameter.unit,
        uncertainty: uncertaintyText(parameter),
        note: `fitted to ${this.points.length} readings`,
      };
      const correlations = this.parameters.slice(0, i).map(({ name }) => ({
        ...own,
        parameter: `${correlationWith}${name}`,
        value: digits(this.correlation(parameter.name, name)),
        note: parameter.logarithmic ? "of the logarithms, where these were fitted" : "",
      }));
      return [value, ...correlations];
    });
    return savedFit({ what: `Inputs of ${this.name},`, file: this.file, date }, rounded, rows);
  }
}
