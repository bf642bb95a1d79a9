/**
 * The inputs that a panel lets a reader move: the field of a mount, its range, and the unit its values
 * are shown and written in.
 * @module
 */
import {
  type FieldValue,
  isWholeNumber,
  type MountField,
  numberAt,
  readWith,
  valueAt,
  withField,
} from "../../design/field.js";
import { plainNumber } from "../../materials/table.js";
import type { Mount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import { fieldLabel } from "../../plots/figures/fields.js";
import { FieldError, UnknownNameError } from "../../units/errors.js";
import { printedUnit } from "../../units/format.js";
import { numberAndUnit, spelled, unitFactor } from "../../units/quantity.js";
import type { Spread } from "../../units/spread.js";

/** One input of a panel. Values are written as in the mount; the unit of `from` is the one shown. */
export interface Control<Field extends MountField = MountField> {
  /** Path in the mount: `"bonds.count"`, `"loads.0.power"`. */
  readonly field: Field;
  /** Lower end of the slider. */
  readonly from: FieldValue<Field>;
  /** Upper end of the slider. */
  readonly to: FieldValue<Field>;
  /** What values on the slider are multiples of, counted from `from`; a fine one when absent. */
  readonly step?: FieldValue<Field>;
  /** How values lie along the slider; `"linear"` when absent. */
  readonly spacing?: "linear" | "logarithmic";
  /** Name of the input; that of the field when absent. */
  readonly label?: string;
}

/** An input, read: plain data, so that it reaches the page as JSON. Numbers are in the unit shown. */
export interface ReadControl {
  /** Field of the mount. */
  readonly field: string;
  /** The field in words, with its unit. */
  readonly label: string;
  /** As it is shown: `µm`, or nothing for a pure number. */
  readonly unit: string;
  /** As it is written in the mount: `um`; absent where the mount takes a plain number. */
  readonly written?: string;
  /** One of the unit shown in SI, where the mount takes a plain number. */
  readonly factor: number;
  /** Least value, in the unit shown. */
  readonly from: number;
  /** Largest value, in the unit shown. */
  readonly to: number;
  /** 0 where values lie as they come. */
  readonly step: number;
  /** Whether equal steps of the slider are equal factors. */
  readonly logarithmic: boolean;
  /** What stands in the mount. */
  readonly initial: number;
}

/** Places on a slider, ends included: more than a hand can tell apart. */
const places = 200;
const names = ["field", "from", "to", "step", "spacing", "label"];

/** Number and unit of a value as the mount writes it. */
function parts(value: unknown): { readonly number: number; readonly unit: string } | undefined {
  if (typeof value === "number") return { number: value, unit: "" };
  const [number, unit] = (typeof value === "string" && numberAndUnit(value)) || [];
  return number === undefined ? undefined : { number, unit: spelled(unit!) };
}

/**
 * Checks the inputs of a panel against its mount.
 * @throws FieldError or UnknownNameError naming the input and what was wanted
 */
export function readControls(mount: Mount, controls: readonly Control[]): readonly ReadControl[] {
  if (!Array.isArray(controls) || controls.length === 0) {
    throw new FieldError("panel", "a list of inputs, each with field, from and to", controls);
  }
  const seen = new Set<string>();
  return controls.map((control: Control, i) => {
    if (typeof control?.field !== "string") {
      throw new FieldError(`panel[${i}].field`, "the path of a field of the mount", control?.field);
    }
    if (seen.has(control.field)) {
      throw new FieldError(`panel[${i}].field`, "a field of its own", control.field);
    }
    seen.add(control.field);
    return readControl(mount, control, `panel ${control.field}`);
  });
}

function readControl(mount: Mount, control: Control, at: string): ReadControl {
  const { field, spacing = "linear" } = control;
  for (const name of Object.keys(control)) {
    if (!names.includes(name)) throw new UnknownNameError(at, "field", name, names);
  }
  if (spacing !== "linear" && spacing !== "logarithmic") {
    throw new FieldError(`${at} spacing`, '"linear" or "logarithmic"', spacing);
  }
  if (control.label !== undefined && typeof control.label !== "string") {
    throw new FieldError(`${at} label`, "a text", control.label);
  }
  const scale = scaleOf(mount, control);
  const read = (name: string, value: unknown) =>
    inUnit(mount, control, scale, `${at} ${name}`, value);
  const present = valueAt(mount, field);
  // What is no number with a unit, such as a spread, stands at its median, in SI.
  const initial = read(
    "in the mount",
    parts(present) ? present : numberAt(readMount(mount), field),
  );
  const [from, to] = [read("from", control.from), read("to", control.to)];
  if (!(to > from)) throw new FieldError(`${at} to`, "more than from", control.to);
  const logarithmic = spacing === "logarithmic";
  if (logarithmic && !(from > 0)) {
    throw new FieldError(`${at} from`, "more than 0 on a logarithmic slider", control.from);
  }
  // Both ends must be what the field takes: the error stands in the cell, before there is a page.
  for (const end of [from, to]) readMount(withField(mount, field, writtenValue(scale, end)));
  const whole = isWholeNumber(mount, field, writtenValue(scale, from));
  const step = control.step === undefined ? (whole ? 1 : 0) : read("step", control.step);
  if (!(step >= 0) || (control.step !== undefined && step === 0) || step > to - from) {
    throw new FieldError(`${at} step`, "more than 0 and at most the range", control.step);
  }
  return {
    field,
    label: control.label ?? fieldLabel(field).name,
    ...scale,
    from,
    to,
    step,
    logarithmic,
    initial: brief(initial),
  };
}

type Scale = Pick<ReadControl, "unit" | "written" | "factor">;

/** The unit that `from`, `to` or the mount itself is written in; else the one the figures use. */
function scaleOf(mount: Mount, { field, from, to }: Control): Scale {
  const unit = [from, to, valueAt(mount, field)]
    .map((value) => parts(value)?.unit ?? "")
    .find((found) => found !== "");
  const shown = unit && printedUnit(unit.replace(/\bu(?=[A-Za-z])/g, "µ"));
  if (unit && shown) return { unit: shown, written: unit, factor: 1 };
  const { unit: own, factor } = fieldLabel(field);
  return { unit: own, factor: brief(1 / factor) };
}

/** A value as written, in the unit shown; other units of the same kind are converted. */
function inUnit(mount: Mount, control: Control, scale: Scale, at: string, value: unknown): number {
  const found = parts(value);
  const { written, factor } = scale;
  if (found === undefined || !Number.isFinite(found.number)) {
    const example = written ? ` in ${written}, such as "1 ${written}"` : "";
    throw new FieldError(at, `a number${example}`, value);
  }
  if (found.unit === (written ?? "")) return written ? found.number : brief(found.number / factor);
  const ratio = written && ratioOf(mount, control, found.unit, written);
  if (!ratio) throw new FieldError(at, `a value in ${written}, as the others of it`, value);
  return brief(found.number * ratio);
}

/** How many of one unit another is; undefined where they differ in kind, and for levels in dBm. */
function ratioOf(mount: Mount, control: Control, unit: string, written: string) {
  if (unit !== "") return unitFactor(unit, written);
  // A plain number is in SI: what one of the unit is there follows from a value written in it.
  const { field, from, to } = control;
  const sample = [from, to, valueAt(mount, field)].find((value) => parts(value)?.unit === written);
  if (written === "dBm") return undefined;
  return parts(sample)!.number / numberAt(readWith(mount, field, sample), field);
}

/** Without the digits of rounding. */
function brief(value: number): number {
  return Number(value.toPrecision(12));
}

/** A number in the unit shown as the mount writes it. */
export function writtenValue({ written, factor }: Scale, number: number): number | string {
  return written === undefined ? brief(number * factor) : `${number} ${written}`;
}

/**
 * A spread with its ends moved by a factor, written in their own units; undefined for levels in dBm, which
 * have no factor.
 */
export function scaledSpread(spread: Spread, factor: number): Spread | undefined {
  let isScaled = true;
  const scaled = (end: unknown) => {
    const { number, unit } = parts(end) ?? { number: Number.NaN, unit: "dBm" };
    if (unit === "dBm") isScaled = false;
    const moved = brief(number * factor);
    return typeof end === "number" ? moved : `${moved} ${unit}`;
  };
  const ends = Object.entries(spread).map(([key, end]) => [
    key,
    key === "distribution" ? end : scaled(end),
  ]);
  return isScaled ? (Object.fromEntries(ends) as Spread) : undefined;
}

/**
 * A number as it is typed, with a decimal point or a decimal comma; NaN for any other text. A comma before
 * three digits may part thousands, so it is none.
 */
export function typedNumber(text: string): number {
  const plain = text.trim().replace(/^\u2212/, "-");
  if (/^[-+]?[1-9]\d{0,2},\d{3}$/.test(plain)) return Number.NaN;
  return plainNumber(plain.replace(/^([-+]?\d*),(\d+(?:e[-+]?\d+)?)$/i, "$1.$2"));
}

/** What is wrong with a number, in the unit in which it was typed. */
export function errorInUnit(error: FieldError, { label, unit }: ReadControl, typed: string) {
  const wanted = unit
    ? error.wanted.replace(
        /^an? [^,]*? such as "[^"]*"(?: or a number(?: in [^,]+)?)?/,
        `a number in ${unit}`,
      )
    : error.wanted;
  return `${label}: expected ${wanted}, got ${`${typed} ${unit}`.trim()}`;
}

/** How many places a slider has beyond its first. */
export function lastPlace({ from, to, step, logarithmic }: ReadControl): number {
  return step > 0 && !logarithmic ? Math.round((to - from) / step) : places;
}

/** The number at a place on the slider, from 0 to `lastPlace`. */
export function numberAtPlace(control: ReadControl, at: number): number {
  const { from, to, step, logarithmic } = control;
  const last = lastPlace(control);
  if (at <= 0) return from;
  if (at >= last) return to;
  if (logarithmic) {
    const number = from * (to / from) ** (at / last);
    const stepped = step > 0 ? from + step * Math.round((number - from) / step) : number;
    return step > 0 ? brief(Math.min(stepped, to)) : Number(stepped.toPrecision(3));
  }
  if (step > 0) return brief(Math.min(from + step * at, to));
  const digits = Math.ceil(-Math.log10((to - from) / last));
  return Number((from + ((to - from) * at) / last).toFixed(Math.max(0, digits)));
}

/** The place on the slider nearest to a number. */
export function placeOf(control: ReadControl, number: number): number {
  const { from, to, logarithmic } = control;
  const share = logarithmic
    ? Math.log(number / from) / Math.log(to / from)
    : (number - from) / (to - from);
  const last = lastPlace(control);
  return Number.isFinite(share) ? Math.round(Math.min(1, Math.max(0, share)) * last) : 0;
}
