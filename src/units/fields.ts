/**
 * Fields of a description: for each key of an interface a reader, or it does not compile.
 *
 * An interface says what a user may write; its `FieldsOf` says how each key is read into SI, with unit,
 * range and whether it counts things. Readers are built from a few small ones: `quantity("length")`,
 * `optional(count)`, `list(each, words)`, `object<T>({...})`. They stand in one file, beyond the usual
 * length, since each hands what it reads, and the fields it may have, on to the others.
 * @module
 */
import { aList, notNegative, positive, wholeNumber } from "./checks.js";
import { FieldError, nearest, UnknownNameError } from "./errors.js";
import {
  type Dimension,
  longestText,
  occurs,
  occursAboveZero,
  type Quantity,
  type RareDimension,
  type RareQuantity,
  siOf,
  takenBy,
  toSI,
} from "./quantity.js";
import {
  type Distribution,
  distributionOf,
  isSpread,
  type Spread,
  type Uncertain,
} from "./spread.js";

/** A description as read: the same fields, quantities and spreads replaced by numbers in SI. */
export type Plain<V> = number extends V
  ?
      | number
      | Exclude<Extract<V, string>, `${number} ${string}`>
      | PlainInside<Exclude<Extract<V, object>, Spread>>
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
  /** Of a pure number that acts by how far it is above a bound: the bound. */
  readonly above?: number;
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
  /** Of an object: every field it may have, in any of its forms. */
  readonly names?: readonly string[];
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

export function optional<V>(field: Field<V>): Maybe<V> {
  return { optional: field };
}

function uncertain<Q extends number | string>(
  read: (value: unknown, at: string) => number,
  unit: string,
  above?: number,
): Field<Uncertain<Q>> {
  const bound = above === undefined ? {} : { above };
  return {
    read(written, at, visit) {
      if (!isSpread(written)) return told(read(written, at), at, unit, visit);
      const distribution = distributionOf(written, (end, key) => read(end, `${at}.${key}`), at);
      return told(distribution.median, at, unit, visit, { distribution, ...bound });
    },
  };
}

function told<V>(
  value: number,
  field: string,
  unit: string,
  visit: Visitor | undefined,
  more?: Partial<ReadNumber>,
) {
  visit?.({ field, unit, whole: false, value, ...more });
  return value as Plain<V>;
}

/** A quantity greater than zero, or a spread of it. */
export function quantity<D extends Dimension>(dimension: D): Field<Uncertain<Quantity<D>>> {
  return rareQuantity(takenBy(dimension)) as Field<Uncertain<Quantity<D>>>;
}

/** A quantity that may be zero, or a spread of it: a power, the resistance of a bond foot. */
export function quantityFromZero<D extends Dimension>(dimension: D): Field<Uncertain<Quantity<D>>> {
  const taken = takenBy(dimension);
  return uncertain((value, at) => notNegative(at, value, taken), siOf(taken));
}

/** A quantity of either sign, or a spread of it: by how much something lies beside something else. */
export function signedQuantity<D extends Dimension>(dimension: D): Field<Uncertain<Quantity<D>>> {
  return uncertain((value, at) => toSI(at, value, dimension), siOf(takenBy(dimension)));
}

/** A quantity greater than zero in one of a few units, or a spread of it. */
export function rareQuantity<Unit extends string>(
  dimension: RareDimension<Unit>,
): Field<Uncertain<RareQuantity<Unit>>> {
  return uncertain((value, at) => positive(at, value, dimension), siOf(dimension));
}

/** The same without a spread: a choice, or a point of a curve. */
export function exact<Q extends number | string>(field: Field<Uncertain<Q>>): Field<Q> {
  return {
    read(written, at, visit) {
      if (isSpread(written)) throw new FieldError(at, "one value, no spread", written);
      return field.read(written, at, visit) as unknown as Plain<Q>;
    },
  };
}

/** A quantity greater than zero that has no spread. */
export function exactQuantity<D extends Dimension>(dimension: D): Field<Quantity<D>> {
  return exact(quantity(dimension));
}

/**
 * A pure number within bounds, or a spread of it. What has a unit is a quantity, which takes it.
 * @param words - what is wanted, for errors
 * @param above - a bound, of a number that acts by how far it is above it
 */
export function number(
  words: string,
  fits: (x: number) => boolean,
  above?: number,
): Field<Uncertain<number>> {
  return uncertain((value, at) => within(value, at, words, fits), "", above);
}

/** A pure number within bounds that has no spread: a choice, or a count of its own kind. */
export function exactNumber(
  words: string,
  fits: (x: number) => boolean,
  whole = false,
): Field<number> {
  return {
    read: (written, at, visit) => told(within(written, at, words, fits), at, "", visit, { whole }),
  };
}

function within(value: unknown, at: string, words: string, fits: (x: number) => boolean): number {
  if (typeof value === "number" && occurs(value) && fits(value)) return value;
  throw new FieldError(at, isSpread(value) ? `${words}, no spread` : words, value);
}

/** How many: a whole number of one or more. */
export const count: Field<number> = {
  read: (written, at, visit) => told(wholeNumber(at, written), at, "", visit, { whole: true }),
};

/** A number above zero, or a spread of it. */
export const aboveZero = number("a number greater than 0", occursAboveZero);
/** A number of zero or more, or a spread of it. */
export const fromZero = number("a number of 0 or more", (n) => n >= 0);
/** A share from 0 to 1, or a spread of it. */
export const share = number("a number from 0 to 1", (n) => n >= 0 && n <= 1);

/** A quantity above zero in one of a few units, the SI unit first, or a spread of it: a rate, a flux. */
export function aboveZeroIn<const Unit extends string>(...units: readonly Unit[]) {
  return rareQuantity({ units, words: `a number in ${units[0]}` });
}

/** Some text; `words` says what it is. */
export function textOf(words: string): Field<string> {
  return {
    read(written, at) {
      if (typeof written === "string" && written.trim() !== "") return written;
      throw new FieldError(at, words, written);
    },
  };
}

export const text = checked(textOf("a name"), (name, at) => {
  if (name.length <= longestText) return;
  throw new FieldError(at, `a name of at most ${longestText} characters`, name);
});

/** Fields of numbers in a CSV text. */
export const csvFields = { csv: textOf("the text of a CSV file"), file: optional(text) };

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
    names: [...new Set([...(first.names ?? []), ...(second.names ?? [])])],
    read: (written, at, visit) =>
      (isFirst(written) ? first : second).read(written, at, visit) as Plain<A | B>,
  };
}

/** A list of `least` entries or more; `words` says what is wanted. */
export function list<E>(each: Field<E>, words: string, least = 0): Field<readonly E[]> {
  return {
    read(written, at, visit) {
      const entries = aList(at, written as readonly unknown[], words);
      if (entries.length < least) throw new FieldError(at, words, written);
      return entries.map((entry, i) => each.read(entry, `${at}[${i}]`, visit)) as Plain<
        readonly E[]
      >;
    },
  };
}

/**
 * An object whose keys are names: of letters, digits, spaces and hyphens, a letter first, so that a name can
 * be part of a path. `words` says what is wanted.
 */
export function byName<E>(each: Field<E>, words: string): Field<Readonly<Record<string, E>>> {
  return {
    read(written, at, visit) {
      if (typeof written !== "object" || written === null || Array.isArray(written)) {
        throw new FieldError(at, words, written);
      }
      const read = Object.entries(written).map(([name, value]) => {
        if (!/^\p{L}[\p{L}\d -]*$/u.test(name) || name.length > longestText) {
          const wanted = "a name of letters, digits, spaces and hyphens that begins with a letter";
          throw new FieldError(at, wanted, name);
        }
        return [name, each.read(value, `${at}.${name}`, visit)];
      });
      if (read.length === 0) throw new FieldError(at, words, written);
      return Object.fromEntries(read) as Plain<Readonly<Record<string, E>>>;
    },
  };
}

/** A list of two; `words` says what is wanted. */
export function pair<A, B>(
  first: Field<A>,
  second: Field<B>,
  words: string,
): Field<readonly [A, B]> {
  return {
    read(written, at, visit) {
      if (!Array.isArray(written) || written.length !== 2) throw new FieldError(at, words, written);
      const read = [first, second].map((each, i) => each.read(written[i], `${at}[${i}]`, visit));
      return read as unknown as Plain<readonly [A, B]>;
    },
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
  const readers = Object.entries(fields as unknown as AnyFields).map(([name, reader]) =>
    "optional" in reader
      ? { name, reader: reader.optional, needed: false }
      : { name, reader, needed: true },
  );
  const names = readers.map(({ name }) => name);
  const known = new Set(names);
  return {
    names,
    read(written, field, visit) {
      onlyKnown(written, field, known);
      const read: Record<string, unknown> = {};
      for (const { name, reader, needed } of readers) {
        const given = written[name];
        // A reader says what it wanted where there is nothing; what an object inherits is nothing.
        if (given !== undefined && Object.hasOwn(written, name)) {
          read[name] = reader.read(given, field === "" ? name : `${field}.${name}`, visit);
        } else if (needed) {
          read[name] = reader.read(undefined, field === "" ? name : `${field}.${name}`, visit);
        }
      }
      return read as Plain<T>;
    },
  };
}

type Written = Readonly<Record<string, unknown>>;

function onlyKnown(
  written: unknown,
  field: string,
  names: ReadonlySet<string>,
): asserts written is Written {
  if (typeof written !== "object" || written === null || Array.isArray(written)) {
    throw new FieldError(field || "mount", `an object with ${[...names].join(", ")}`, written);
  }
  for (const name of Object.keys(written)) {
    if (names.has(name)) continue;
    const at = field === "" ? name : `${field}.${name}`;
    throw new UnknownNameError(at, "field", name, [...names]);
  }
}

/** Two objects written as one: each reads the fields that it has, and no others are left. */
export function together<A, B>(first: Field<A>, second: Field<B>): Field<A & B> {
  const parts = [first.names ?? [], second.names ?? []] as const;
  const names = new Set(parts.flat());
  return {
    names: [...names],
    read(written, at, visit) {
      onlyKnown(written, at, names);
      const [own, others] = parts.map((part) => {
        const here: Record<string, unknown> = {};
        for (const name of part) if (Object.hasOwn(written, name)) here[name] = written[name];
        return here;
      });
      try {
        // What a reader of an object gives is nobody else's.
        return Object.assign(
          first.read(own, at, visit) as object,
          second.read(others, at, visit),
        ) as Plain<A & B>;
      } catch (error) {
        if (!(error instanceof FieldError && (error.value === own || error.value === others))) {
          throw error;
        }
        // What was written is one object, however many read it.
        throw new FieldError(error.field, error.wanted, written);
      }
    },
  };
}

type KeyOf<U> = U extends unknown ? keyof U : never;
/** The form of an object that has a key: `Having<Optical, "powerPerPixel">`. */
export type Having<U, K> = U extends unknown ? (K extends keyof U ? U : never) : never;
/** An object, or any of its forms, without its name. */
export type Unnamed<T> = T extends unknown ? Omit<T, "name"> : never;

/**
 * One of several forms of an object, told apart by a key that only one of them has:
 * `oneForm<Limit>()({ rise: { rise: quantity("temperature") }, ... })`; a form is its fields or its
 * reader. A form without either does not compile.
 */
export function oneForm<U>() {
  return <K extends KeyOf<U> & string>(
    forms: { readonly [P in K]: Field<Having<U, P>> | FieldsOf<Having<U, P>> } & ([U] extends [
      Having<U, K>,
    ]
      ? unknown
      : { readonly missing: Exclude<U, Having<U, K>> }),
  ): Field<U> => {
    const readers = Object.fromEntries(
      Object.entries<object>(forms).map(([key, form]) => [
        key,
        "read" in form && typeof form.read === "function"
          ? (form as Field<U>)
          : object<U>(form as FieldsOf<U>),
      ]),
    );
    const keys = Object.keys(readers);
    const known = [...new Set(Object.values(readers).flatMap((form) => form.names ?? []))];
    return {
      names: known,
      read(written, at, visit) {
        const present = keys.filter((key) => has(key)(written));
        if (present.length === 1) return readers[present[0]!]!.read(written, at, visit);
        if (present.length > 1) {
          throw new FieldError(at, `only one of ${keys.join(", ")}`, present.join(" and "));
        }
        const names = typeof written === "object" && written !== null ? Object.keys(written) : [];
        const unknown = names.find(
          (name) => !known.includes(name) && nearest(name, keys) !== undefined,
        );
        if (unknown !== undefined) {
          throw new UnknownNameError(`${at}.${unknown}`, "field", unknown, keys);
        }
        throw new FieldError(at, `an object with one of ${keys.join(", ")}`, written);
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
      if (typeof written !== "object" || written === null) {
        throw new FieldError(at, `an object whose kind is one of ${names.join(", ")}`, written);
      }
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

/** Whether a field says one thing: a number, a text or a spread, no object with fields of its own. */
export function isOneValue(written: unknown): boolean {
  return typeof written !== "object" || isSpread(written);
}

/** Whether an object has a field of one of these names that says something. */
export function has(...names: readonly string[]): (written: unknown) => boolean {
  return (written) =>
    typeof written === "object" &&
    written !== null &&
    names.some((name) => Object.hasOwn(written, name) && (written as Written)[name] !== undefined);
}
