/**
 * Errors in the user's words. What is checked after a mount was read (its rules, the laws of its parts)
 * knows numbers in SI and the names of its own options; here an error gets the field of the description
 * that it is about, and what was written there.
 * @module
 */
import { FieldError, UnknownNameError } from "../units/errors.js";
import { isOneValue } from "../units/fields.js";
import type { PlainMount } from "./mount.js";

/** A mount as it was written and as it was read, before any of its numbers was set to another. */
interface Writing {
  readonly written: unknown;
  readonly read: PlainMount;
  /** Whether a mount may have a field at a path. */
  readonly takes: (written: unknown, keys: readonly string[]) => boolean;
}

/** Of a mount: not listed among its fields. A weak map of mounts would take half of the time of reading one. */
const writing = Symbol("writing");

interface Written {
  readonly [writing]?: Writing;
}

const writingOf = (mount: PlainMount) => (mount as Written)[writing];

function keep(mount: PlainMount, value: Writing): void {
  Object.defineProperty(mount, writing, { value, configurable: true });
}

/** Keeps what a mount was read from, for its errors. @param takes - whether there may be such a field */
export function keepWriting(mount: PlainMount, written: unknown, takes: Writing["takes"]): void {
  keep(mount, { written, read: mount, takes });
}

/** A mount made of another, whose errors speak of what that one was written as. */
export function writtenAs(mount: PlainMount, made: PlainMount): PlainMount {
  const found = writingOf(mount);
  if (found && made !== mount) keep(made, found);
  return made;
}

/** What a mount was written as, and what it was read as; itself where it was not read. */
export function writtenOf(mount: PlainMount): Pick<Writing, "written" | "read"> {
  return writingOf(mount) ?? { written: mount, read: mount };
}

/** An error that came of a mount, in the words of who wrote it. */
export function inWords(error: unknown, mount: PlainMount): unknown {
  const found = writingOf(mount);
  return found ? asWritten(error, mount, found) : error;
}

/** Runs what reads a mount. @throws its errors, in the words of who wrote the mount */
export function inWordsOf<T>(mount: PlainMount, run: () => T): T {
  try {
    return run();
  } catch (error) {
    throw inWords(error, mount);
  }
}

/** `loads[0].power` of keys. */
function fieldOf(keys: readonly string[]): string {
  return keys.map((key, i) => (/^\d+$/.test(key) ? `[${key}]` : `${i ? "." : ""}${key}`)).join("");
}

/** What stands at a path, and how many of its keys lead somewhere. */
function lookUp(root: unknown, keys: readonly string[]): { readonly at: unknown; depth: number } {
  let [at, depth] = [root, 0];
  for (const key of keys) {
    if (typeof at !== "object" || at === null || !Object.hasOwn(at, key)) break;
    at = (at as Readonly<Record<string, unknown>>)[key];
    depth++;
  }
  return { at, depth };
}

/** Paths of every text that a description holds. */
function* texts(
  at: unknown,
  keys: readonly string[] = [],
): Iterable<{ keys: readonly string[]; text: string }> {
  if (typeof at === "string") yield { keys, text: at };
  if (typeof at !== "object" || at === null) return;
  for (const [key, inside] of Object.entries(at)) yield* texts(inside, [...keys, key]);
}

/** The place of a text that is nearest to a path: the one that shares most of its first keys. */
function nearestText(written: unknown, text: string, keys: readonly string[]) {
  let [best, most] = [undefined as readonly string[] | undefined, -1];
  for (const found of texts(written)) {
    if (found.text !== text) continue;
    let shared = 0;
    while (shared < keys.length && found.keys[shared] === keys[shared]) shared++;
    if (shared > most) [best, most] = [found.keys, shared];
  }
  return best;
}

/** Line and column of a CSV text, which is its own description: `curve.csv:3 power`. */
const inText = /:\d+( |$)/;

function asWritten(error: unknown, mount: PlainMount, writing: Writing): unknown {
  if (!(error instanceof FieldError || error instanceof UnknownNameError)) return error;
  const { field, value } = error;
  if (field === "mount" || inText.test(field)) return error;
  const { written, read, takes } = writing;
  const keys = field.replace(/\[(\d+)\]/g, ".$1").split(".");
  const { at, depth } = lookUp(written, keys);
  const isThere = depth === keys.length;
  const isOther = error instanceof UnknownNameError && value !== at;
  if (isThere && !isOther) {
    const isSet = lookUp(mount, keys).at !== lookUp(read, keys).at;
    return isOneValue(at) && !isSet ? withValue(error, field, at) : error;
  }
  const mayBe = depth === keys.length - 1 && !isOneValue(at) && takes(written, keys);
  if (mayBe) return error;
  // A text comes from where it was written, whatever the option is called that it was handed to.
  const isName = typeof value === "string" && !/^[\d.+-]/.test(value);
  const source = isName ? nearestText(written, value, keys) : undefined;
  if (source) return withValue(error, fieldOf(source), value);
  if (isThere || error instanceof UnknownNameError) return error;
  return ofWhatIsThere(error, keys, depth, written);
}

type Told = FieldError | UnknownNameError;

function withValue(error: Told, field: string, value: unknown): Told {
  if (error instanceof UnknownNameError) {
    return new UnknownNameError(field, error.kind, value, error.known);
  }
  // A number in SI is told once more with the unit that the rest of the message is in.
  const said = typeof value === "number" && typeof error.value === "string" ? error.value : "";
  return new FieldError(field, error.wanted, value, error.more || said);
}

/** The error of a field that there cannot be, by the material that asks for it or the object around it. */
function ofWhatIsThere(
  error: FieldError,
  keys: readonly string[],
  depth: number,
  written: unknown,
) {
  const { wanted, value, more } = error;
  const parent = keys.slice(0, depth);
  const { at } = lookUp(written, parent);
  const material = lookUp(at, ["material"]);
  if (typeof material.at === "string" && material.depth === 1) {
    const words = `a material that asks for no ${keys.slice(depth).join(".")}: ${wanted}`;
    return new FieldError(fieldOf([...parent, "material"]), words, material.at, more);
  }
  // Of one value, such as the name of a superconductor, it is that value.
  const shown = depth > 0 && isOneValue(at) ? at : value;
  const inside = keys.slice(depth).join(".");
  const words = shown === value ? `${wanted}, as ${inside}` : wanted;
  return new FieldError(fieldOf(parent) || "mount", words, shown, more);
}
