/**
 * What is to be fitted: inputs of a mount, and errors that thermometers share.
 * @module
 */

import type { LoadMap } from "../../loads/load-map.js";
import type { CatalogueChoice } from "../../materials/types.js";
import type { Mount } from "../../mount/mount.js";
import { numbersOf, readMount } from "../../mount/read.js";
import { type Correlations, correlationsOf } from "../../mount/things/correlations.js";
import { notNegative, notNegativeNumber } from "../../units/checks.js";
import { FieldError, UnknownNameError } from "../../units/errors.js";
import { formatQuantity, formatShare } from "../../units/format.js";
import type { Length } from "../../units/quantity.js";
import { z95 } from "../../units/spread.js";
import { type MountField, numberAt, withField } from "../field.js";
import type { Parameter } from "./fitted-model.js";
import type { SharedError, Thermometry } from "./thermometry.js";

/** A field to fit, where more is to be said than its path. */
export interface InputChoice {
  /** Field of the mount to fit. */
  readonly field: MountField;
  /** Where to begin, as the field takes it; what the mount has when absent. */
  readonly start?: number | string;
  /** `"logarithmic"` for a start above 0 when absent, else `"linear"`. */
  readonly scale?: "logarithmic" | "linear";
}

/** Where a thermometer sits: a place of the mount by name, or a point on a die that is a sheet. */
export type ThermometerPlace =
  | string
  | {
      /** From the die's left edge [m]. */
      readonly x: Length;
      /** From the die's lower edge [m]. */
      readonly y: Length;
    };

/** What the measurements were made with. */
export interface SetUp {
  /**
   * Where each thermometer sits, by its column. Left out where the column is called as the place is;
   * `chip` is the hottest point on the die. A column `stage` holds the stage temperature of each line.
   */
  readonly thermometers?: Readonly<Record<string, ThermometerPlace>>;
  /** Columns to leave out. */
  readonly without?: readonly string[];
  /** Where the heater's power falls; evenly on the die when absent. */
  readonly heater?: { readonly on?: "die" | "box"; readonly map?: LoadMap };
}

/** How readings scatter: normally, or normally but for a few that may lie anywhere. */
export type ReadingErrors = "normal" | "huber";

/** What to fit, and how the data were measured. */
export interface CalibrationOptions extends SetUp, CatalogueChoice {
  /** Fields of the mount: `"bonds.residualResistivityRatio"`, `"joint.force"`. */
  readonly inputs: readonly (MountField | InputChoice)[];
  /** Errors that readings have in common, fitted with the inputs. */
  readonly sharedErrors?: readonly SharedError[];
  /**
   * Take the spreads that the mount has for the fitted inputs as measurements made before, so that the
   * data sharpen them, those that vary together as they do; false when absent: the data alone decide.
   */
  readonly useSpreads?: boolean;
  /**
   * `"huber"` where some readings may be glitches: what lies more than 1.345 standard deviations off counts
   * for less (P. J. Huber, Robust Statistics (1981)). `"normal"` when absent: all count in full.
   */
  readonly errors?: ReadingErrors;
  /** When, such as `"2026-03-14"`; needed to save the fit. */
  readonly date?: string;
}

/** An input as a parameter, by its field; with its SI unit. */
type Input = Parameter & { readonly unit: string };

/** The fields among the inputs. @throws FieldError for none */
export function fieldsIn({ inputs }: Pick<CalibrationOptions, "inputs">): readonly string[] {
  if (!Array.isArray(inputs) || inputs.length === 0) {
    throw new FieldError("inputs", "a field of the mount or more", inputs);
  }
  return (inputs as CalibrationOptions["inputs"]).map((input) =>
    typeof input === "string" ? input : input.field,
  );
}

/** The inputs to fit. @throws FieldError, UnknownNameError */
export function readInputs(
  mount: Mount,
  { inputs, useSpreads }: CalibrationOptions,
): readonly Input[] {
  const read = inputs.map((input): Input => {
    const choice: InputChoice = typeof input === "string" ? { field: input } : input;
    const { field, start: given } = choice;
    const scale: string | undefined = choice.scale;
    const begun = given === undefined ? mount : withField(mount, field, given);
    const number = numbersOf(begun).get(field);
    if (number?.whole) {
      throw new FieldError(`inputs ${field}`, "a field that need not be a whole number", field);
    }
    const start = numberAt(readMount(begun), field);
    if (scale !== undefined && scale !== "linear" && scale !== "logarithmic") {
      throw new FieldError(`inputs ${field} scale`, '"linear" or "logarithmic"', scale);
    }
    const logarithmic = scale === undefined ? start > 0 : scale === "logarithmic";
    if (logarithmic ? !(start > 0) : start === 0) {
      const wanted = logarithmic ? "a start above 0" : "a start other than 0";
      throw new FieldError(`inputs ${field} start`, wanted, start);
    }
    const at = (value: number) => (logarithmic ? Math.log(value) : value);
    const found = useSpreads ? numbersOf(mount).get(field)?.distribution : undefined;
    const prior = found && {
      value: at(found.median),
      uncertainty: (at(found.high) - at(found.low)) / (2 * z95),
    };
    return {
      name: field,
      unit: number?.unit ?? "",
      logarithmic,
      start: at(start),
      scale: (value) => (logarithmic ? 1 : Math.max(Math.abs(value), Math.abs(start))),
      ...(prior && { prior }),
    };
  });
  const twice = read.find(({ name }, i) => read.findIndex((r) => r.name === name) !== i);
  if (twice) throw new FieldError("inputs", "each field once", twice.name);
  return read;
}

/**
 * Which fitted inputs varied together before, where that counts.
 * @throws FieldError for an input that varies together with one that is not fitted, which would have to move, too
 */
export function priorCorrelations(
  mount: Mount,
  inputs: readonly Pick<Parameter, "name">[],
  { useSpreads = false }: Pick<CalibrationOptions, "useSpreads">,
): Correlations | undefined {
  if (!useSpreads) return undefined;
  for (const [fitted, other] of partedPairs(mount, inputs)) {
    const wanted = `${other} among them, since ${fitted} varies together with it`;
    throw new FieldError("inputs", wanted, "not");
  }
  return correlationsOf(readMount(mount));
}

/** Pairs that vary together of which only the first is fitted. */
function partedPairs(mount: Mount, inputs: readonly Pick<Parameter, "name">[]) {
  const isFitted = (name: string) => inputs.some((input) => input.name === name);
  return correlationsOf(readMount(mount)).pairs.flatMap(({ names: [a, b] }) => {
    if (isFitted(a) === isFitted(b)) return [];
    return isFitted(a) ? [[a, b] as const] : [[b, a] as const];
  });
}

/** What is no longer so when inputs are fitted from data alone: words on what they varied together with. */
export function partedWords(
  mount: Mount,
  inputs: readonly Pick<Parameter, "name">[],
): readonly string[] {
  return partedPairs(mount, inputs).map(
    ([fitted, other]) =>
      `${other} no longer varies together with ${fitted}, which is fitted from the data alone.`,
  );
}

/**
 * The errors of scales that count in a fit, and words on those that can't: where no reading states an
 * uncertainty, there is nothing to weigh them against.
 * @param without - columns that are left out
 */
export function errorsOfScales(data: Thermometry, without: readonly string[] = []) {
  const all = (data.sharedErrors ?? []).filter(
    ({ thermometers }) => !thermometers.every((name) => without.includes(name)),
  );
  const isWeighted = [data.power, ...data.thermometers.values()].some((each) => each.uncertainties);
  if (isWeighted) return { counted: all, warnings: [] };
  const warnings = all.map(({ thermometers, gain, offset }) => {
    const by = gain === undefined ? formatQuantity(Number(offset), "K", 2) : formatShare(gain);
    return (
      `${data.file}: the scale of ${thermometers.join(" and ")} is uncertain by ${by}, which does not count, ` +
      "since the readings state no uncertainties."
    );
  });
  return { counted: [], warnings };
}

/** The shared errors as parameters in their standard uncertainties, gains and offsets apart. */
export function readSharedErrors(
  data: Thermometry,
  errors: readonly SharedError[] = [],
): readonly Parameter[] {
  const parts = errors.flatMap(({ thermometers, gain = 0, offset = 0 }, i) => {
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
  const parameter = { logarithmic: false, start: 0, prior: { value: 0, uncertainty: 1 } };
  return parts.map((shared) => ({ ...parameter, name: "shared error", shared }));
}
