/**
 * Quantities: what a user may write for a length, a power, a temperature.
 *
 * A plain number is in SI. A string carries its unit, and its type knows the dimension, so that
 * `diameter: "25 mK"` is a compile-time error. The same check is made at run time, by mathjs, for
 * values that come from data.
 * @module
 */

import { elementaryCharge } from "./constants.js";
import { FieldError } from "./errors.js";
import { type MathUnit, Unit } from "./mathjs.js";

/**
 * Each dimension: what is wanted, for errors, and the units a string may carry, the SI unit first. They stand
 * here in one spelling; `spelled` says which others are the same.
 */
const dimensions = {
  length: {
    words: 'a length such as "25 um" or a number in metres',
    units: ["m", "cm", "mm", "um", "nm", "in", "mil", "thou"],
  },
  area: {
    words: 'an area such as "4 mm^2" or a number in square metres',
    units: ["m^2", "cm^2", "mm^2", "um^2", "in^2"],
  },
  temperature: {
    words: 'a temperature such as "100 mK" or a number in kelvin',
    units: ["K", "mK", "uK"],
  },
  power: {
    words: 'a power such as "8 pW" or a number in watts',
    units: ["W", "mW", "uW", "nW", "pW", "fW", "aW", "dBm"],
  },
  force: {
    words: 'a force such as "50 N" or a number in newtons',
    units: ["N", "kN", "mN", "lbf", "kgf"],
  },
  resistance: {
    words: 'an electrical resistance such as "2 mohm" or a number in ohms',
    units: ["ohm", "mohm", "uohm", "nohm"],
  },
  speed: {
    words: 'a speed such as "3390 m/s" or a number in metres a second',
    units: ["m/s", "km/s"],
  },
  conductance: {
    words: 'a thermal conductance such as "20 nW/K" or a number in watts a kelvin',
    units: ["W/K", "mW/K", "uW/K", "nW/K", "pW/K"],
  },
  energy: {
    words: 'an energy such as "200 keV" or a number in joules',
    units: ["J", "mJ", "uJ", "nJ", "pJ", "fJ", "aJ", "eV", "keV", "MeV", "GeV"],
  },
  frequency: {
    words: 'a frequency such as "5 GHz" or a number in hertz',
    units: ["Hz", "kHz", "MHz", "GHz", "THz"],
  },
  time: {
    words: 'a time such as "3 ms" or a number in seconds',
    units: ["s", "ms", "us", "ns", "min", "h", "day"],
  },
  angle: {
    words: 'an angle such as "30 deg" or a number in radians',
    units: ["rad", "mrad", "deg", "arcmin", "arcsec", "mas"],
  },
} as const;

/** Names of the dimensions. */
export type Dimension = keyof typeof dimensions;

/** A number in SI, or a string with a unit. */
export type Quantity<D extends Dimension> = RareQuantity<(typeof dimensions)[D]["units"][number]>;

/** A number in SI, or a string with one of a few units, in any of their spellings. */
export type RareQuantity<Unit extends string> = number | `${number} ${Squared<Ohms<Micro<Unit>>>}`;
type Micro<U extends string> = U extends `u${infer Rest}` ? `${"u" | "µ" | "μ"}${Rest}` : U;
type Ohms<U extends string> = U extends `${infer Prefix}ohm`
  ? `${Prefix}${"ohm" | "Ohm" | "Ω" | "\u2126"}`
  : U;
type Squared<U extends string> = U extends `${infer Side}^2` ? `${Side}${"^2" | "²"}` : U;

/** A length: metres, or a string such as `"25 um"`, `"1.5 mm"`, `"1 mil"`. */
export type Length = Quantity<"length">;
/** An area: square metres, or a string such as `"4 mm^2"`. */
export type Area = Quantity<"area">;
/** A temperature: kelvin, or a string such as `"110 mK"`. */
export type Temperature = Quantity<"temperature">;
/** A power: watts, or a string such as `"8 pW"` or `"-95 dBm"`. */
export type Power = Quantity<"power">;
/** A force: newtons, or a string such as `"50 N"`. */
export type Force = Quantity<"force">;
/** An electrical resistance: ohms, or a string such as `"2 mohm"`. */
export type Resistance = Quantity<"resistance">;
/** A speed: metres a second, or a string such as `"3390 m/s"`. */
export type Speed = Quantity<"speed">;
/** A thermal conductance: watts a kelvin, or a string such as `"20 nW/K"`. */
export type Conductance = Quantity<"conductance">;
/** An energy: joules, or a string such as `"200 keV"`. */
export type Energy = Quantity<"energy">;
/** A frequency: hertz, or a string such as `"5 GHz"`. */
export type Frequency = Quantity<"frequency">;
/** A time: seconds, or a string such as `"3 ms"`. */
export type Time = Quantity<"time">;
/** An angle: radians, or a string such as `"30 deg"` or `"0.5 arcsec"`. */
export type Angle = Quantity<"angle">;

Unit.createUnit({
  mas: "1e-3 arcsec",
  thou: "1 mil",
  // A pure number to the SI, but none that may be left out or put in.
  sr: "1 rad^2",
});
// mathjs carries the electronvolt of CODATA 2010; the SI of 2019 made it exact.
const electronvolt = { definition: `${elementaryCharge} J`, prefixes: "short" } as const;
Unit.createUnit({ eV: electronvolt }, { override: true });

/**
 * A user's quantity in SI.
 * @param field - path of the field, for the error
 * @param value - what the user wrote: a number in SI or a string with a unit
 * @throws FieldError when the dimension is wrong or the number is not finite
 * @example toSI("bonds.diameter", "25 um", "length") // 25e-6
 */
export function toSI(field: string, value: unknown, dimension: Dimension): number {
  return inSI(field, value, takenBy(dimension));
}

/** What a field takes. */
export interface RareDimension<Unit extends string = string> {
  /** `mol/s`; the first of the units when absent. */
  readonly si?: string;
  readonly units: readonly Unit[];
  /** In words, for the error: `a rate such as "0.6 mmol/s" or a number in mol/s`. */
  readonly words: string;
}

export type AnyDimension = Dimension | RareDimension;

/** What a field of a dimension takes. */
export function takenBy(dimension: AnyDimension): RareDimension {
  return typeof dimension === "string" ? dimensions[dimension] : dimension;
}

/** The SI unit of what a field takes. */
export function siOf({ si, units }: RareDimension): string {
  return si ?? units[0]!;
}

/** A number in SI, or a text with one of some units, in SI. @throws FieldError listing the units */
export function inSI(field: string, value: unknown, taken: RareDimension): number {
  const { units, words } = taken;
  const number = typeof value === "string" ? numberIn(value, siOf(taken), units) : value;
  if (typeof number !== "number" || !Number.isFinite(number)) {
    const more = typeof value === "string" ? `units: ${units.join(", ")}` : "";
    throw new FieldError(field, words, value, more);
  }
  if (occurs(number)) return number;
  throw new FieldError(field, `${words}, of a size that occurs`, value);
}

/** Nothing larger occurs in any SI unit, and products of such numbers are no numbers. */
const largest = 1e60;
/** Nor anything smaller, where 0 is not meant. */
const smallest = 1e-60;

export function occurs(value: number): boolean {
  return Math.abs(value) <= largest;
}

/** Whether a number may stand for a quantity greater than 0. */
export function occursAboveZero(value: number): boolean {
  return value >= smallest && occurs(value);
}

/** No number with its unit is longer, and no name that is meant for people. */
export const longestText = 200;

type NumberAndUnit = readonly [number: number, unit: string];

/** Texts that were read last: a loop reads those of one mount again and again. */
const lately = new Map<string, NumberAndUnit>();
const mostTexts = 1000;

/** A number and the unit behind it, as written; undefined for any other text. */
export function numberAndUnit(text: string): NumberAndUnit | undefined {
  const known = lately.get(text);
  if (known || text.length > longestText) return known;
  const [, digits, unit] =
    /^([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)(?=\s|[^\d.])\s*(\S.*)$/i.exec(
      text.includes("\u2212") ? text.trim().replace(/^\u2212|(?<=\de)\u2212/gi, "-") : text.trim(),
    ) ?? [];
  if (unit === undefined) return undefined;
  const read = [Number(digits), unit] as const;
  if (lately.size >= mostTexts) lately.clear();
  lately.set(text, read);
  return read;
}

/** A number with a unit in SI; undefined for any other text, or a unit that is none of these. */
export function numberIn(text: string, si: string, units: readonly string[]): number | undefined {
  const [number, unit = ""] = numberAndUnit(text) ?? [];
  const symbol = units.includes(unit) ? unit : spelled(unit);
  if (number === undefined || !units.includes(symbol)) return undefined;
  return symbol === "dBm" ? dBm(number) : byFactor(number, unitFactor(symbol, si)!);
}

/** What to divide by instead of multiplying by a factor, by the factor. */
const divisors = new Map<number, number | undefined>();

/** A part such as 1e-6 is no binary number, but 1e6 is: dividing by that rounds once. */
function byFactor(number: number, factor: number): number {
  if (!divisors.has(factor)) {
    const exponent = Math.round(Math.log10(factor));
    const isPart = exponent < 0 && Math.abs(factor / 10 ** exponent - 1) < 1e-14;
    divisors.set(factor, isPart ? 10 ** -exponent : undefined);
  }
  const divisor = divisors.get(factor);
  return divisor === undefined ? number * factor : number / divisor;
}

/** A unit in the one spelling that this library compares: `um` for µm and μm, `ohm` for Ω, `^2` for ². */
export function spelled(unit: string): string {
  return unit
    .replace(/[\u00b5\u03bc]/g, "u")
    .replace(/[\u03a9\u2126]|Ohm\b/g, "ohm")
    .replace(/[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+/g, (raised) =>
      ["^", ...raised].map((sign) => "-0123456789"["⁻⁰¹²³⁴⁵⁶⁷⁸⁹".indexOf(sign)] ?? sign).join(""),
    )
    .replace(/\s*[·⋅]\s*|\s+/g, " ")
    .trim();
}

/**
 * Power of a level in decibels above a milliwatt: 1 mW · 10^(level/10) [W].
 * @param level - [dBm]
 * @example dBm(-90) // 1e-12
 */
export function dBm(level: number): number {
  return 1e-3 * 10 ** (level / 10);
}

const factors = new Map<string, number | undefined>();

/**
 * How many of the SI unit one of `symbol` is; undefined when the dimensions differ or the symbol
 * is no unit. Units are written as mathjs reads them: `W/(m K)`, `J/(mol K^2)`, `m^2 K^4/W`.
 */
export function unitFactor(symbol: string, si: string): number | undefined {
  const key = `${symbol}|${si}`;
  if (!factors.has(key)) factors.set(key, findFactor(symbol, si));
  return factors.get(key);
}

function findFactor(symbol: string, si: string): number | undefined {
  // An empty unit is a pure number, and a pure number only fits one.
  if (symbol.trim() === "" || si === "") return symbol.trim() === si ? 1 : undefined;
  // A unit is one of its kind: a number in it would be lost, and a zero elsewhere is no factor.
  if (/[\d.]/.test(spelled(symbol).replace(/\^-?\d+(\.\d+)?|^1\s*\//g, ""))) return undefined;
  try {
    const [from, to] = [one(symbol), one(si)];
    if (from.units.some(({ unit }) => unit.offset !== 0)) return undefined;
    return from.equalBase(to) ? from.toSI().toNumber() / to.toSI().toNumber() : undefined;
  } catch {
    return undefined;
  }
}

/** One of a unit. mathjs reads `1/s` as a value. */
function one(symbol: string): MathUnit {
  const plain = spelled(symbol);
  return /^1\s*\//.test(plain) ? Unit.parse(plain, { allowNoUnits: true }) : new Unit(1, plain);
}
