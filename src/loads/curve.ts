/**
 * Shares that depend on the wavelength: the transmission of a filter, the absorption of a detector.
 * @module
 */
import { readColumnNames } from "../materials/number-table.js";
import { pieceOf } from "../numerics/interpolation.js";
import { speedOfLight } from "../units/constants.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import { formatQuantity, formatShare } from "../units/format.js";
import type { Length } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { curvePoints, demandRise } from "./curve-points.js";

/** The same share at every wavelength, or a curve of shares. */
export type Transmission = Uncertain<number> | TransmissionCurve;

/** A curve, straight between its points. */
export type TransmissionCurve = {
  /** At wavelengths shorter than the curve has; without it they must not be asked for. */
  readonly shorter?: Uncertain<number>;
  /** At wavelengths longer than the curve has; without it they must not be asked for. */
  readonly longer?: Uncertain<number>;
} & (
  | {
      /**
       * Text of a CSV file with a column `wavelength [um]` or `frequency [GHz]`, rising, and a column
       * `transmission` of shares from 0 to 1.
       */
      readonly csv: string;
      /** Its name, for errors. */
      readonly file?: string;
    }
  | {
      /** Pairs of wavelength and share, the wavelengths rising. */
      readonly points: readonly (readonly [wavelength: Length, share: number])[];
    }
);

const ends = { shorter: read.optional(read.share), longer: read.optional(read.share) };

export const transmissionCurve = read.oneForm<TransmissionCurve>()({
  points: {
    ...ends,
    points: read.list(
      read.pair(
        read.exactQuantity("length"),
        read.exact(read.share),
        "a pair of wavelength and transmission",
      ),
      "pairs of wavelength and transmission",
    ),
  },
  csv: { ...ends, ...read.csvFields },
});
export const transmission = read.either<Uncertain<number>, TransmissionCurve>(
  read.isOneValue,
  read.number("a number from 0 to 1, or a curve", (n) => n >= 0 && n <= 1),
  transmissionCurve,
);

/** A share over wavelength, as a function. */
export interface Curve {
  /**
   * Share that passes, from 0 to 1.
   * @param wavelength - [m]
   */
  at(wavelength: number): number;
  /** Shortest wavelength at which it is known [m]. */
  readonly from: number;
  /** Longest wavelength at which it is known [m]. */
  readonly to: number;
  /** Wavelengths at which it bends or jumps [m]. */
  readonly bends: readonly number[];
}

/**
 * The curve of a transmission.
 * @param field - path of the transmission in the user's description, for errors
 * @throws FieldError naming file, line and column, or the point
 */
export function curveOf(given: read.Plain<Transmission>, field: string): Curve {
  if (typeof given === "number") {
    return { at: () => given, from: 0, to: Number.POSITIVE_INFINITY, bends: [] };
  }
  const file = ("csv" in given && given.file) || `${field}.csv`;
  const inFrequency =
    "csv" in given &&
    readColumnNames(given.csv, file).some((column) => column.name === "frequency");
  const axis = inFrequency ? { name: "frequency", unit: "Hz" } : { name: "wavelength", unit: "m" };
  const share = { name: "transmission", unit: "", field: read.share };
  const points = curvePoints(given, field, [axis, share], file);
  demandRise(points, axis.name);
  if (points.length < 2) throw new FieldError(field, "two points or more", points.length);

  const { shorter, longer } = given;
  const places = points.map(({ x }) => x);
  const byWavelength = inFrequency ? [...points].reverse() : points;
  const bends = byWavelength.map(({ x }) => (inFrequency ? speedOfLight / x : x));
  const [first, last] = [bends[0]!, bends.at(-1)!];
  // Beyond an end without a share only rounding may ask: demandCover and its like come first.
  const [before, after] = [shorter ?? byWavelength[0]!.y, longer ?? byWavelength.at(-1)!.y];
  return {
    from: shorter === undefined ? first : 0,
    to: longer === undefined ? last : Number.POSITIVE_INFINITY,
    bends,
    at(wavelength) {
      if (wavelength < first * (1 - 1e-12)) return before;
      if (wavelength > last * (1 + 1e-12)) return after;
      const x = inFrequency ? speedOfLight / wavelength : wavelength;
      const piece = pieceOf(places, x);
      const [a, b] = [points[piece]!, points[piece + 1]!];
      const along = Math.min(1, Math.max(0, (x - a.x) / (b.x - a.x)));
      return a.y + along * (b.y - a.y);
    },
  };
}

/** The pieces of a range between its ends and the bends inside it. */
export function piecesBetween(from: number, to: number, bends: readonly number[]) {
  const inside = bends.filter((bend) => bend > from && bend < to);
  const edges = [...new Set([from, ...inside, to])].sort((a, b) => a - b);
  return edges.slice(1).map((end, i) => [edges[i]!, end] as const);
}

/**
 * Demands that a curve is known over a band.
 * @throws FieldError that says how much of the band is missing, and at which end
 */
export function demandCover(field: string, curve: Curve, from: number, to: number): void {
  const slack = 1e-9 * to;
  const gaps = [
    { end: "short", side: "shorter", width: Math.min(curve.from, to) - from },
    { end: "long", side: "longer", width: to - Math.max(curve.to, from) },
  ].filter(({ width }) => width > slack);
  if (gaps.length === 0) return;
  const words = gaps.map(
    ({ end, width }) =>
      `${formatQuantity(width, "m")} (${formatShare(width / (to - from))}) of it is missing at the ${end} end`,
  );
  const wanted = `a curve over the band, ${span(from, to)}: ${words.join(" and ")}`;
  throw missing(field, curve, wanted, gaps);
}

/** What is said where a curve leaves something open at one end or both. */
export function missing(
  field: string,
  curve: Curve,
  words: string,
  gaps: readonly { readonly side: string }[],
): FieldError {
  const sides = gaps.map(({ side }) => side).join(" and ");
  const wanted = `${words}. Extend the curve, or say with ${sides} what the share is there`;
  return new FieldError(field, wanted, `a curve over ${span(curve.from, curve.to)}`);
}

/** Wavelengths from here to there, in words. */
function span(from: number, to: number): string {
  const [first, last] = [from, to].map((wavelength) => formatQuantity(wavelength, "m", 4));
  if (to === Number.POSITIVE_INFINITY) return `${first} and longer`;
  return from === 0 ? `${last} and shorter` : `${first} to ${last}`;
}
