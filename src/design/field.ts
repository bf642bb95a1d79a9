/**
 * Fields of a mount named by their path, and the types of what stands there.
 * @module
 */
import type { Mount, PlainMount } from "../mount/mount.js";
import { numbersOf, readMount } from "../mount/read.js";
import { valueAt } from "../mount/thing.js";
import { FieldError } from "../units/errors.js";

export { valueAt };

/** Paths to everything in T that may be a plain number: `bonds.length`, `clamps.0.force`. */
type NumberPath<T> = T extends readonly (infer Entry)[]
  ? `${number}.${NumberPath<Entry>}`
  : T extends object
    ? {
        [K in keyof T & string]-?: number extends NonNullable<T[K]>
          ? K
          : `${K}.${NumberPath<NonNullable<T[K]>>}`;
      }[keyof T & string]
    : never;

/** What stands at a path; unions are searched in each member. */
type At<T, Path extends string> = [Path] extends [`${infer Key}.${infer Rest}`]
  ? T extends readonly (infer Entry)[]
    ? At<Entry, Rest>
    : At<Member<T, Key>, Rest>
  : Member<T, Path>;

type Member<T, Key extends string> = T extends unknown
  ? Key extends keyof T
    ? NonNullable<T[Key]>
    : never
  : never;

/** A numeric field of a mount, by path: `"bonds.count"`, `"pads.thickness"`, `"loads.0.power"`. */
export type MountField = NumberPath<Mount>;

/** What a user may write at a field of a mount: a number in SI, or a string with a fitting unit. */
export type FieldValue<Field extends string> = Field extends unknown ? At<Mount, Field> : never;

/**
 * The same where `Field` is one field, or any. Where a generic field is inferred, the compiler works out
 * a `FieldValue` for every field of a mount, which takes it most of a second in each cell of a notebook;
 * this it does not.
 */
export type OneFieldValue<Field extends string> = MountField extends Field
  ? number | string
  : At<Mount, Field>;

/**
 * A copy of the mount with another value at a path.
 * @throws FieldError when what the path leads through is not there
 */
export function withField(mount: Mount, field: string, value: unknown): Mount {
  if (typeof field !== "string") {
    throw new FieldError("withField", 'the path of a field such as "bonds.count"', field);
  }
  return replaced(mount, field.split("."), value) as Mount;
}

/** A copy with another value at a path; what the path does not touch is shared. @throws as `withField` */
export function replaced(
  target: unknown,
  keys: readonly string[],
  value: unknown,
  depth = 0,
): unknown {
  if (depth === keys.length) return value;
  const key = keys[depth]!;
  if (typeof target !== "object" || target === null) {
    throw new FieldError(keys.join("."), "a field whose parent is in the mount", undefined);
  }
  if (Array.isArray(target)) {
    const index = Number(key);
    if (!Number.isInteger(index) || index < 0 || index >= target.length) {
      throw new FieldError(keys.join("."), `an index from 0 to ${target.length - 1}`, key);
    }
    return target.map((entry: unknown, i) =>
      i === index ? replaced(entry, keys, value, depth + 1) : entry,
    );
  }
  const inside = Object.hasOwn(target, key) ? (target as Record<string, unknown>)[key] : undefined;
  return { ...target, [key]: replaced(inside, keys, value, depth + 1) };
}

/**
 * The number that stands at a path of a mount in SI.
 * @throws FieldError when there is none
 */
export function numberAt(mount: PlainMount, field: string): number {
  const at = valueAt(mount, field);
  if (typeof at === "number") return at;
  throw new FieldError(field, "a numeric field of the mount", at);
}

/** The mount in SI with another value, as the user writes it, at a path. */
export function readWith(mount: Mount, field: string, value: unknown): PlainMount {
  return readMount(withField(mount, field, value));
}

/** Whether a field counts things. @param value - one that the field takes, where the mount has none */
export function isWholeNumber(mount: Mount, field: string, value?: unknown): boolean {
  const changed = value === undefined ? mount : withField(mount, field, value);
  return numbersOf(changed).get(field)?.whole ?? false;
}
