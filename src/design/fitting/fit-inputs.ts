/**
 * What is to be fitted: inputs of a mount, and errors that thermometers share.
 * @module
 */
import type { CatalogueChoice } from "../../materials/types.js";
import type { Mount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import { spreadsOf } from "../../mount/read.js";
import { notNegative, notNegativeNumber } from "../../units/checks.js";
import { FieldError, UnknownNameError } from "../../units/errors.js";
import type { Temperature } from "../../units/quantity.js";
import { ninety, spread } from "../../units/spread.js";
import { type MountField, numberAt, readWith, wholeNumberFields, withField } from "../field.js";
import type { FittedModel, SetUp } from "./fitted-model.js";
import type { Thermometry } from "./thermometry.js";

/** A field to fit, where more is to be said than its path. */
export interface InputChoice {
  /** Field of the mount to fit. */
  readonly field: MountField;
  /** Where to begin, as the field takes it; what the mount has when absent. */
  readonly start?: number | string;
  /** `"logarithmic"` for a start above 0 when absent, else `"linear"`. */
  readonly scale?: "logarithmic" | "linear";
}

/** An error that the readings of some thermometers share, as from one calibration. */
export interface SharedError {
  /** Their columns; `stage` may be one of them. */
  readonly thermometers: readonly string[];
  /** Standard uncertainty of the scale: readings are (1 + gain) times too high; 0 when absent. */
  readonly gain?: number;
  /** Standard uncertainty of what is added to the readings [K]; 0 when absent. */
  readonly offset?: Temperature;
}

/** What to fit, and how the data came about. */
export interface CalibrationOptions extends SetUp, CatalogueChoice {
  /** Fields of the mount: `"bonds.residualResistivityRatio"`, `"joint.force"`. */
  readonly inputs: readonly (MountField | InputChoice)[];
  /** Errors that readings have in common, fitted with the inputs. */
  readonly sharedErrors?: readonly SharedError[];
  /**
   * Take the spreads that the mount has for the fitted inputs as measurements made before, so that the
   * data sharpen them; false when absent: the data alone decide.
   */
  readonly useSpreads?: boolean;
  /** When, such as `"2026-03-14"`; needed to save the fit. */
  readonly date?: string;
}

/** An input as it is fitted. */
export interface Input {
  readonly field: string;
  readonly unit: string;
  readonly logarithmic: boolean;
  /** In SI, or its logarithm. */
  readonly start: number;
  /** What the mount's spread says, in the same terms. */
  readonly prior?: { readonly value: number; readonly uncertainty: number };
}

/** A shared error of one standard uncertainty. */
export interface Shift {
  readonly thermometers: readonly string[];
  readonly gain: number;
  readonly offset: number;
}

/** The inputs to fit. @throws FieldError, UnknownNameError */
export function readInputs(
  mount: Mount,
  { inputs, useSpreads }: CalibrationOptions,
): readonly Input[] {
  if (!Array.isArray(inputs) || inputs.length === 0) {
    throw new FieldError("inputs", "a field of the mount or more", inputs);
  }
  const plain = readMount(mount);
  const known = useSpreads ? spreadsOf(mount) : [];
  const read = (inputs as CalibrationOptions["inputs"]).map((input): Input => {
    const {
      field,
      start: given,
      scale,
    } = typeof input === "string"
      ? { field: input }
      : (input as InputChoice & { readonly scale?: string });
    if (wholeNumberFields.test(field)) {
      throw new FieldError(`inputs ${field}`, "a field that need not be a whole number", field);
    }
    const start =
      given === undefined ? numberAt(plain, field) : numberAt(readWith(mount, field, given), field);
    if (scale !== undefined && scale !== "linear" && scale !== "logarithmic") {
      throw new FieldError(`inputs ${field} scale`, '"linear" or "logarithmic"', scale);
    }
    const log = scale === undefined ? start > 0 : scale === "logarithmic";
    if (log ? !(start > 0) : start === 0) {
      const wanted = log ? "a start above 0" : "a start other than 0";
      throw new FieldError(`inputs ${field} start`, wanted, start);
    }
    const at = (value: number) => (log ? Math.log(value) : value);
    const found = known.find((each) => each.field === field)?.distribution;
    const prior = found && {
      value: at(found.median),
      uncertainty: (at(found.high) - at(found.low)) / (2 * ninety),
    };
    return {
      field,
      unit: unitAt(mount, field, start),
      logarithmic: log,
      start: at(start),
      ...(prior && { prior }),
    };
  });
  const twice = read.find(({ field }, i) => read.findIndex((r) => r.field === field) !== i);
  if (twice) throw new FieldError("inputs", "each field once", twice.field);
  return read;
}

/** SI unit of a field. */
function unitAt(mount: Mount, field: string, value: number): string {
  const [low, high] = [value - 1e-3 * Math.abs(value), value + 1e-3 * Math.abs(value)];
  const changed = withField(mount, field, spread(low, high, { distribution: "uniform" }));
  return spreadsOf(changed).find((each) => each.field === field)?.unit ?? "";
}

/** The shared errors, gains and offsets apart. @throws FieldError, UnknownNameError */
export function readShifts(data: Thermometry, errors: readonly SharedError[]): readonly Shift[] {
  return errors.flatMap(({ thermometers, gain = 0, offset = 0 }, i) => {
    const field = `sharedErrors[${i}]`;
    if (!Array.isArray(thermometers) || thermometers.length === 0) {
      throw new FieldError(`${field}.thermometers`, "columns of thermometers", thermometers);
    }
    for (const name of thermometers as readonly string[]) {
      if (data.thermometers.has(name)) continue;
      const known = [...data.thermometers.keys()];
      throw new UnknownNameError(`${field}.thermometers`, "column", name, known);
    }
    const share = notNegativeNumber(`${field}.gain`, gain, "a share of the reading");
    const kelvin = notNegative(`${field}.offset`, offset, "temperature");
    return [
      ...(share > 0 ? [{ thermometers, gain: share, offset: 0 }] : []),
      ...(kelvin > 0 ? [{ thermometers, gain: 0, offset: kelvin }] : []),
    ];
  });
}

/** Whether readings have uncertainties. @throws FieldError when only some have */
export function isWeighted(data: Thermometry, model: FittedModel): boolean {
  const all = [data.power, ...data.thermometers.values()];
  if (!all.some(({ uncertainties }) => uncertainties)) return false;
  const without = model.thermometers.find(({ readings }) => !readings.uncertainties);
  if (!without) return true;
  throw new FieldError(
    data.file,
    `a column "${without.name} uncertainty", since others have one`,
    "none",
  );
}
