/**
 * Fields of a description: for each key of an interface a reader, or it does not compile.
 *
 * An interface says what a user may write; its `FieldsOf` says how each key is read into SI, with unit,
 * range and whether it counts things. Readers are built from a few small ones: `quantity("length")`,
 * `optional(count)`, `list(each, words)`, `object<T>({...})`.
 * @module
 */
import { aList, anObject, notNegative, positive, wholeNumber } from "./checks.js";
import { FieldError, nearest, UnknownNameError } from "./errors.js";
import { type Dimension, type Quantity, unitOf } from "./quantity.js";
import {
  type Distribution,
  distributionOf,
  isSpread,
  type Spread,
  type Uncertain,
} from "./spread.js";

/** A description as read: the same fields, quantities and spreads replaced by numbers in SI. */
export type Plain<V> = number extends V
  ? number | PlainInside<Exclude<Extract<V, object>, Spread>>
  : PlainInside<V>;
type PlainInside<V> = V extends object ? { readonly [K in keyof V]: Plain<V[K]> } : V;

/** A number that was read. */
export interface ReadNumber {
  /** Its path, as in errors: `loads[0].power`. */
  readonly field: string;
  /** SI unit; empty for a pure number. */
  readonly unit: string;
  /** Whether it counts things: a whole number that has no spread. */
  readonly whole: boolean;
  /** In SI; the median of a spread. */
  readonly value: number;
  /** Of a spread. */
  readonly distribution?: Distribution;
}

/** Is told of every number that is read. */
export type Visitor = (number: ReadNumber) => void;

/** Reads one field. */
export interface Field<V> {
  /**
   * What the user wrote, checked and in SI.
   * @param at - path of the field, for errors
   * @throws FieldError, UnknownNameError
   */
  read(written: unknown, at: string, visit?: Visitor): Plain<V>;
  /** Type only: a reader of lengths is none of areas, and one of spreads none of exact numbers. */
  readonly invariant?: (value: V) => V;
}

/** A field that may be left out. */
export interface Maybe<V> {
  readonly optional: Field<V>;
}

/** A reader for every key of an interface, marked optional where the key is. */
export type FieldsOf<T> = {
  // biome-ignore lint/complexity/noBannedTypes: an optional key is one that nothing satisfies
  readonly [K in keyof T]-?: {} extends Pick<T, K> ? Maybe<Exclude<T[K], undefined>> : Field<T[K]>;
};

/** Marks a field that may be left out. */
export function optional<V>(field: Field<V>): Maybe<V> {
  return { optional: field };
}

/** A number that may be a spread of numbers. */
function uncertain<Q extends number | string>(
  read: (value: unknown, at: string) => number,
  unit: string,
): Field<Uncertain<Q>> {
  return {
    read(written, at, visit) {
      if (!isSpread(written)) return told(read(written, at), at, unit, visit);
      const distribution = distributionOf(written, (end) => read(end, at), at);
      visit?.({ field: at, unit, whole: false, value: distribution.median, distribution });
      return distribution.median as Plain<Uncertain<Q>>;
    },
  };
}

function told<V>(
  value: number,
  field: string,
  unit: string,
  visit: Visitor | undefined,
  whole = false,
) {
  visit?.({ field, unit, whole, value });
  return value as Plain<V>;
}

/** A quantity greater than zero, or a spread of it. */
export function quantity<D extends Dimension>(dimension: D): Field<Uncertain<Quantity<D>>> {
  return uncertain((value, at) => positive(at, value, dimension), unitOf(dimension));
}

/** A quantity that may be zero, or a spread of it: a power, the resistance of a bond foot. */
export function quantityFromZero<D extends Dimension>(dimension: D): Field<Uncertain<Quantity<D>>> {
  return uncertain((value, at) => notNegative(at, value, dimension), unitOf(dimension));
}

/** A quantity greater than zero that has no spread. */
export function exactQuantity<D extends Dimension>(dimension: D): Field<Quantity<D>> {
  return {
    read: (written, at, visit) =>
      told(positive(at, written, dimension), at, unitOf(dimension), visit),
  };
}

/**
 * A number within bounds, or a spread of it.
 * @param words - what is wanted, for errors
 * @param unit - SI unit; a pure number when absent
 */
export function number(
  words: string,
  fits: (x: number) => boolean,
  unit = "",
): Field<Uncertain<number>> {
  return uncertain((value, at) => within(value, at, words, fits), unit);
}

/** A pure number within bounds that has no spread: a choice, or a count of its own kind. */
export function exactNumber(
  words: string,
  fits: (x: number) => boolean,
  whole = false,
): Field<number> {
  return {
    read: (written, at, visit) => told(within(written, at, words, fits), at, "", visit, whole),
  };
}

function within(value: unknown, at: string, words: string, fits: (x: number) => boolean): number {
  if (typeof value === "number" && Number.isFinite(value) && fits(value)) return value;
  throw new FieldError(at, isSpread(value) ? `${words}, no spread` : words, value);
}

/** How many: a whole number of one or more. */
export const count: Field<number> = {
  read: (written, at, visit) => told(wholeNumber(at, written), at, "", visit, true),
};

/** A number above zero, or a spread of it. */
export const aboveZero = number("a number greater than 0", (n) => n > 0);
/** A share from 0 to 1, or a spread of it. */
export const share = number("a number from 0 to 1", (n) => n >= 0 && n <= 1);

/** Some text. */
export const text: Field<string> = {
  read(written, at) {
    if (typeof written === "string" && written.trim() !== "") return written;
    throw new FieldError(at, "a name", written);
  },
};

/** One of a few words or numbers. */
export function oneOf<const T extends string | number>(...choices: readonly T[]): Field<T> {
  return {
    read(written, at) {
      const found = choices.find((choice) => choice === written);
      if (found !== undefined) return found as Plain<T>;
      throw new FieldError(at, choices.map((c) => JSON.stringify(c)).join(" or "), written);
    },
  };
}

/** The first reader where the value has the right kind, else the second. */
export function either<A, B>(
  isFirst: (written: unknown) => boolean,
  first: Field<A>,
  second: Field<B>,
): Field<A | B> {
  return {
    read: (written, at, visit) =>
      (isFirst(written) ? first : second).read(written, at, visit) as Plain<A | B>,
  };
}

/** A list; `words` says what is wanted. */
export function list<E>(each: Field<E>, words: string): Field<readonly E[]> {
  return {
    read: (written, at, visit) =>
      aList<unknown>(at, written as unknown[], words).map((entry, i) =>
        each.read(entry, `${at}[${i}]`, visit),
      ) as Plain<readonly E[]>,
  };
}

/** A field whose value is checked once more, by what only the whole of it shows. */
export function checked<V>(
  field: Field<V>,
  check: (value: Plain<V>, at: string) => void,
): Field<V> {
  return {
    read(written, at, visit) {
      const value = field.read(written, at, visit);
      check(value, at);
      return value;
    },
  };
}

type AnyFields = Readonly<Record<string, Field<unknown> | Maybe<unknown>>>;

/**
 * An object with these fields and no others. Its type must be named, and be no union, so that every key
 * has its reader: `object<Pads>({...})`.
 */
export function object<T>(fields: FieldsOf<T>): Field<T> {
  const all = fields as unknown as AnyFields;
  const names = Object.keys(all);
  return {
    read(written, field, visit) {
      const at = (name: string) => (field === "" ? name : `${field}.${name}`);
      if (typeof written !== "object" || written === null || Array.isArray(written)) {
        throw new FieldError(field || "mount", `an object with ${names.join(", ")}`, written);
      }
      for (const name of Object.keys(written)) {
        if (!Object.hasOwn(all, name)) throw new UnknownNameError(at(name), "field", name, names);
      }
      const read: Record<string, unknown> = {};
      for (const name of names) {
        const reader = all[name]!;
        const given: unknown = Object.hasOwn(written, name)
          ? (written as Readonly<Record<string, unknown>>)[name]
          : undefined;
        if ("optional" in reader) {
          if (given !== undefined) read[name] = reader.optional.read(given, at(name), visit);
        } else if (given === undefined) {
          throw new FieldError(at(name), "this field, which is missing", undefined);
        } else {
          read[name] = reader.read(given, at(name), visit);
        }
      }
      return read as Plain<T>;
    },
  };
}

type KeyOf<U> = U extends unknown ? keyof U : never;
type Having<U, K> = U extends unknown ? (K extends keyof U ? U : never) : never;

/**
 * One of several forms of an object, told apart by a key that only one of them has:
 * `oneForm<Limit>()({ rise: object<...>(...), ... })`. A form without its reader does not compile.
 */
export function oneForm<U>() {
  return <K extends KeyOf<U> & string>(
    forms: { readonly [P in K]: Field<Having<U, P>> } & ([U] extends [Having<U, K>]
      ? unknown
      : { readonly missing: Exclude<U, Having<U, K>> }),
  ): Field<U> => {
    const readers = forms as unknown as Readonly<Record<string, Field<U>>>;
    const keys = Object.keys(readers);
    return {
      read(written, at, visit) {
        const present = keys.filter((key) => has(key)(written));
        if (present.length === 1) return readers[present[0]!]!.read(written, at, visit);
        const wanted = `an object with one of ${keys.join(", ")}`;
        const names = typeof written === "object" && written !== null ? Object.keys(written) : [];
        if (present.length > 1) throw new FieldError(at, wanted, present.join(" and "));
        const unknown = names.find((name) => nearest(name, keys) !== undefined);
        if (unknown !== undefined) {
          throw new UnknownNameError(`${at}.${unknown}`, "field", unknown, keys);
        }
        throw new FieldError(at, wanted, written);
      },
    };
  };
}

/** An object told apart by its `kind`: a reader for every kind, or it does not compile. */
export function byKind<U extends { readonly kind: string }>(
  kinds: {
    readonly [K in U["kind"]]: Field<Extract<U, { readonly kind: K }>>;
  },
): Field<U> {
  const readers = kinds as unknown as Readonly<Record<string, Field<U>>>;
  const names = Object.keys(readers);
  return {
    read(written, at, visit) {
      const kind = has("kind")(written) ? (written as { readonly kind: unknown }).kind : undefined;
      if (typeof kind !== "string") {
        throw new FieldError(`${at}.kind`, `one of ${names.join(", ")}`, kind);
      }
      if (!Object.hasOwn(readers, kind)) {
        throw new UnknownNameError(`${at}.kind`, "kind", kind, names);
      }
      return readers[kind]!.read(written, at, visit);
    },
  };
}

/** Whether an object has a field of this name. */
export function has(name: string): (written: unknown) => boolean {
  return (written) =>
    typeof written === "object" && written !== null && Object.hasOwn(written, name);
}

/**
 * Fields of two readers in one object: those named go to the first, all others to the second.
 * @param names - keys of the first
 */
export function joined<A, B>(
  names: readonly (keyof A & string)[],
  first: Field<A>,
  second: Field<B>,
): Field<A & B> {
  const isFirst = (key: string) => (names as readonly string[]).includes(key);
  return {
    read(written, at, visit) {
      const entries = Object.entries(anObject(at, written as object));
      const part = (mine: boolean) =>
        Object.fromEntries(entries.filter(([key]) => isFirst(key) === mine));
      const one = first.read(part(true), at, visit);
      try {
        return { ...one, ...second.read(part(false), at, visit) } as Plain<A & B>;
      } catch (error) {
        // A misspelt name of the first is nearest to one that the second does not know.
        if (!(error instanceof UnknownNameError)) throw error;
        if (error.kind !== "field" || error.field !== `${at}.${String(error.value)}`) throw error;
        const { field, kind, value, known } = error;
        throw new UnknownNameError(field, kind, value, [...names, ...known]);
      }
    },
  };
}
