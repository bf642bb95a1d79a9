/**
 * Readers of a description's fields: each takes what came and its path, and returns SI or throws.
 * @module
 */
import { aList, notNegative, positive, wholeNumber } from "../units/checks.js";
import { FieldError, nearest, UnknownNameError } from "../units/errors.js";
import { type Dimension, unitOf } from "../units/quantity.js";
import { type Distribution, distributionOf, isSpread } from "../units/spread.js";

/** Reads one field; `field` is its path, for the error. */
export type Reader<T> = (value: unknown, field: string) => T;

/** A description whose strings with units have become numbers in SI. */
export type Plain = { readonly kind?: unknown; readonly [key: string]: unknown };

/** A quantity greater than zero, or a spread of it. */
export function quantity(dimension: Dimension): Reader<number> {
  return spreadable((value, field) => positive(field, value, dimension), unitOf(dimension));
}

/** A quantity that may be zero: a power, the resistance of a foot. */
export function quantityFromZero(dimension: Dimension): Reader<number> {
  return spreadable((value, field) => notNegative(field, value, dimension), unitOf(dimension));
}

/** A number within bounds, given in words in the error, or a spread of it; a pure one unless it has a unit. */
export function number(words: string, fits: (x: number) => boolean, unit = ""): Reader<number> {
  return spreadable(exactNumber(words, fits), unit);
}

/** A pure number within bounds that has no spread: a choice, or a count. */
export function exactNumber(words: string, fits: (x: number) => boolean): Reader<number> {
  return (value, field) => {
    if (typeof value === "number" && Number.isFinite(value) && fits(value)) return value;
    throw new FieldError(field, isSpread(value) ? `${words}, no spread` : words, value);
  };
}

/** Called with every spread that is read from an object that carries it, in place of the median alone. */
export const heard = Symbol("heard");
/** What hears of spreads. */
export type Hearing = (field: string, unit: string, distribution: Distribution) => void;

/** Takes the median of a spread whose ends the field takes. */
function spreadable(read: Reader<number>, unit: string): Reader<number> {
  return (value, field) => {
    if (!isSpread(value)) return read(value, field);
    const distribution = distributionOf(value, (end) => read(end, field), field);
    (value as { readonly [heard]?: Hearing })[heard]?.(field, unit, distribution);
    return distribution.median;
  };
}

/** A whole number of one or more. */
export const count: Reader<number> = (value, field) => wholeNumber(field, value);
/** A number above zero. */
export const aboveZero = number("a number greater than 0", (n) => n > 0);
/** A share from 0 to 1. */
export const share = number("a number from 0 to 1", (n) => n >= 0 && n <= 1);

/** Some text. */
export const text: Reader<string> = (value, field) => {
  if (typeof value === "string" && value.trim() !== "") return value;
  throw new FieldError(field, "a name", value);
};

/** One of a few words or numbers. */
export function oneOf<const T extends string | number>(...choices: readonly T[]): Reader<T> {
  return (value, field) => {
    const found = choices.find((choice) => choice === value);
    if (found !== undefined) return found;
    throw new FieldError(field, choices.map((c) => JSON.stringify(c)).join(" or "), value);
  };
}

/** The first reader for which the value has the right kind. */
export function either<A, B>(
  isFirst: (value: unknown) => boolean,
  first: Reader<A>,
  second: Reader<B>,
): Reader<A | B> {
  return (value, field) => (isFirst(value) ? first(value, field) : second(value, field));
}

/** A list. */
export function list<T>(each: Reader<T>, words: string): Reader<readonly T[]> {
  return (value, field) => {
    const entries = aList<unknown>(field, value as unknown[], words);
    return entries.map((entry, i) => each(entry, `${field}[${i}]`));
  };
}

/** A reader whose field may be left out. */
export interface Optional<T> {
  readonly optional: Reader<T>;
}

/** Marks a field that may be left out. */
export function optional<T>(reader: Reader<T>): Optional<T> {
  return { optional: reader };
}

type Fields = Readonly<Record<string, Reader<unknown> | Optional<unknown>>>;

/** The type that a set of fields reads to. */
export type ReadFields<F extends Fields> = {
  readonly [K in keyof F as F[K] extends Reader<unknown> ? K : never]: F[K] extends Reader<infer T>
    ? T
    : never;
} & {
  readonly [K in keyof F as F[K] extends Optional<unknown> ? K : never]?: F[K] extends Optional<
    infer T
  >
    ? T
    : never;
};

/**
 * An object with these fields and no others.
 * @throws FieldError for a missing field, UnknownNameError with the nearest name for an unknown one
 */
export function object<F extends Fields>(fields: F): Reader<ReadFields<F>> {
  return (value, field) => {
    const at = (name: string) => (field === "" ? name : `${field}.${name}`);
    if (typeof value !== "object" || value === null || Array.isArray(value)) {
      throw new FieldError(
        field || "mount",
        `an object with ${Object.keys(fields).join(", ")}`,
        value,
      );
    }
    for (const name of Object.keys(value)) {
      if (!Object.hasOwn(fields, name)) {
        throw new UnknownNameError(at(name), "field", name, Object.keys(fields));
      }
    }
    const read: Record<string, unknown> = {};
    for (const [name, reader] of Object.entries(fields)) {
      const given: unknown = Object.hasOwn(value, name) ? (value as Plain)[name] : undefined;
      if (typeof reader !== "function") {
        if (given !== undefined) read[name] = reader.optional(given, at(name));
      } else if (given === undefined) {
        throw new FieldError(at(name), "this field, which is missing", undefined);
      } else {
        read[name] = reader(given, at(name));
      }
    }
    return read as ReadFields<F>;
  };
}

/** An object told apart by one of its fields, as loads are by `kind`. */
export function byKind<K extends Readonly<Record<string, Reader<unknown>>>>(
  kinds: K,
): Reader<ReturnType<K[keyof K]>> {
  return (value, field) => {
    const kind = has("kind")(value) ? (value as Plain).kind : undefined;
    if (typeof kind !== "string") {
      throw new FieldError(`${field}.kind`, `one of ${Object.keys(kinds).join(", ")}`, kind);
    }
    if (!Object.hasOwn(kinds, kind)) {
      throw new UnknownNameError(`${field}.kind`, "kind", kind, Object.keys(kinds));
    }
    return kinds[kind]!(value, field) as ReturnType<K[keyof K]>;
  };
}

/**
 * One of several forms of an object, told apart by a field that only one of them has.
 * @param forms - by that field
 */
export function oneForm<F extends Readonly<Record<string, Reader<unknown>>>>(
  forms: F,
): Reader<ReturnType<F[keyof F]>> {
  const keys = Object.keys(forms);
  return (value, field) => {
    const present = keys.filter((key) => has(key)(value));
    if (present.length === 1) return forms[present[0]!]!(value, field) as ReturnType<F[keyof F]>;
    const wanted = `an object with one of ${keys.join(", ")}`;
    const written = typeof value === "object" && value !== null ? Object.keys(value) : [];
    if (present.length > 1) throw new FieldError(field, wanted, present.join(" and "));
    const unknown = written.find((name) => nearest(name, keys) !== undefined);
    if (unknown !== undefined)
      throw new UnknownNameError(`${field}.${unknown}`, "field", unknown, keys);
    throw new FieldError(field, wanted, value);
  };
}

/** Whether an object has a field of this name. */
export function has(name: string): (value: unknown) => boolean {
  return (value) => typeof value === "object" && value !== null && Object.hasOwn(value, name);
}

const ratio = number("a residual resistivity ratio greater than 1", (r) => r > 1);
/** A ratio, or one with the warm temperature it was measured from. */
export const residualResistivityRatio = either(
  (value) => typeof value === "object" && !isSpread(value),
  object({ value: ratio, warm: quantity("temperature") }),
  ratio,
);
