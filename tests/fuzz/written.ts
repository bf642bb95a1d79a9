/**
 * Whether an error speaks of what the user wrote: its field is a path of the description, or a key that
 * could stand there, and the value that it shows is the one there.
 */
import { readMount } from "../../src/index.js";
import { FieldError, UnknownNameError } from "../../src/units/errors.js";

type Tree = Readonly<Record<string, unknown>>;
const isTree = (value: unknown): value is Tree => typeof value === "object" && value !== null;
const isSpread = (value: unknown) => isTree(value) && "distribution" in value;

/** `loads[0].power` as keys; of a CSV text the field that holds it, and the place in it. */
function keysOf(field: string): readonly string[] {
  return field.replace(/\[(\d+)\]/g, ".$1").split(".");
}

function valueAt(written: unknown, keys: readonly string[]): { has: boolean; value?: unknown } {
  let at = written;
  for (const key of keys) {
    if (!isTree(at) || !Object.hasOwn(at, key)) return { has: false };
    at = at[key];
  }
  return { has: true, value: at };
}

/** A place in a text of the description: `curve.csv:3 power`, or the field in the file's stead. */
const inText = /^(.+):(\d+)(?: .+)?$/;

function holdsText(written: unknown, name: string): boolean {
  if (!isTree(written)) return false;
  if (typeof written.csv === "string" && written.file === name) return true;
  return Object.values(written).some((each) => holdsText(each, name));
}

/** Whether a mount may have a key there, by what its reader says when something is. */
function isKnown(written: unknown, keys: readonly string[]): boolean {
  const copy = structuredClone(written);
  let at = copy as Record<string, unknown>;
  for (const key of keys.slice(0, -1)) at = at[key] as never;
  at[keys.at(-1)!] = Number.NaN;
  try {
    readMount(copy);
  } catch (error) {
    if (!(error instanceof UnknownNameError) || error.kind !== "field") return true;
    return keysOf(error.field).join() !== keys.join();
  }
  return true;
}

/** What is wrong with an error, in words; undefined when it speaks of what was written. */
export function faultOf(error: unknown, written: unknown): string | undefined {
  if (!(error instanceof FieldError || error instanceof UnknownNameError)) {
    const { message } = error as Error;
    return /\bNaN\b|\bundefined\b/.test(message) ? `shows ${message}` : undefined;
  }
  const { field, value } = error;
  if (!isTree(written)) return field === "mount" ? undefined : "names a field of nothing";
  if (field === "mount") return undefined;
  const line = inText.exec(field);
  if (line) {
    const { has, value: text } = valueAt(written, keysOf(line[1]!));
    if (has ? typeof text === "string" : holdsText(written, line[1]!)) return undefined;
    return "names a text that is not in it";
  }
  if (error instanceof UnknownNameError && error.kind === "field") {
    const parent = field.slice(0, -String(value).length).replace(/\.$/, "");
    const object = parent === "" ? written : valueAt(written, keysOf(parent)).value;
    return isTree(object) && Object.hasOwn(object, String(value))
      ? undefined
      : "names no key there";
  }
  const keys = keysOf(field);
  const { has, value: there } = valueAt(written, keys);
  if (!has) {
    if (!isTree(valueAt(written, keys.slice(0, -1)).value))
      return "names a field that is not in it";
    if (!isKnown(written, keys)) return "names a field that cannot be in it";
    return typeof value === "number" ? "shows a number that was not written" : undefined;
  }
  // Of a list or an object the error may say in words what is wrong with the whole.
  if (isTree(there) && !isSpread(there) && (typeof value === "string" || Number.isInteger(value)))
    return undefined;
  if (Object.is(value, there)) return undefined;
  if (isTree(there) && isTree(value) && JSON.stringify(value) === JSON.stringify(there))
    return undefined;
  return `shows ${String(value)} where ${typeof there === "symbol" ? "a symbol" : JSON.stringify(there)} was written`;
}

const milli: Readonly<Record<string, string>> = {
  m: "mm",
  K: "mK",
  W: "mW",
  N: "mN",
  J: "mJ",
  s: "ms",
};

/** A number in another unit than the SI one. */
export const inMilli = (value: number, unit: string): string | undefined =>
  milli[unit] && `${value * 1e3} ${milli[unit]}`;

/** What somebody may write in the place of a number. */
export function spoiled(value: number, unit: string): readonly unknown[] {
  const scaled = [-1, 0, 1e-12, 1e-6, 1e-3, 0.5, 1.5, 10, 1e3, 1e6, 1e12].map((by) => value * by);
  return [
    ...scaled,
    ...scaled.flatMap((each) => inMilli(each, unit) ?? []),
    Number.NaN,
    Number.POSITIVE_INFINITY,
    1e-300,
    1e300,
    `${value}`,
    `${value} kg`,
    `${value} m`,
    `-3 ${unit}`,
    true,
    null,
    "",
    [],
    {},
    [value],
    { value },
    { distribution: "normal", value, uncertainty: value },
    { distribution: "uniform", low: value, high: value * 3 },
  ];
}
