/**
 * Shares that depend on the wavelength: the transmission of a filter, the absorption of a detector.
 * @module
 */
import { readNumberTable } from "../materials/number-table.js";
import { speedOfLight } from "../units/constants.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import { formatQuantity, formatShare } from "../units/format.js";
import type { Length } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";

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

/** Reads a curve. */
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
/** Reads a transmission. */
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

/** A point on the way from the user to a curve. */
interface Point {
  /** As written: [m] or [Hz] */
  readonly x: number;
  readonly share: number;
  readonly place: string;
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
  const inFrequency = "csv" in given && startsWithFrequency(given.csv);
  const points =
    "csv" in given
      ? pointsOfCsv(given, field, inFrequency)
      : given.points.map(([x, share], i): Point => ({ x, share, place: `${field}.points[${i}]` }));
  const axis = inFrequency ? "frequency" : "wavelength";
  points.forEach((point, i) => {
    if (!(point.x > (points[i - 1]?.x ?? 0))) {
      const before = i === 0 ? "above 0" : "above the one before it";
      throw new FieldError(`${point.place} ${axis}`, `each ${axis} ${before}`, point.x);
    }
  });
  if (points.length < 2) throw new FieldError(field, "two points or more", points.length);
  return throughPoints(points, inFrequency, given.shorter, given.longer);
}

function throughPoints(
  points: readonly Point[],
  inFrequency: boolean,
  shorter: number | undefined,
  longer: number | undefined,
): Curve {
  const wavelengths = points.map(({ x }) => (inFrequency ? speedOfLight / x : x));
  const bends = inFrequency ? [...wavelengths].reverse() : wavelengths;
  const [first, last] = [bends[0]!, bends.at(-1)!];
  const shares = points.map((point) => point.share);
  if (inFrequency) shares.reverse();
  // Beyond an end without a share only rounding may ask: demandCover and its like come first.
  const [before, after] = [shorter ?? shares[0]!, longer ?? shares.at(-1)!];
  return {
    from: shorter === undefined ? first : 0,
    to: longer === undefined ? last : Number.POSITIVE_INFINITY,
    bends,
    at(wavelength) {
      if (wavelength < first * (1 - 1e-12)) return before;
      if (wavelength > last * (1 + 1e-12)) return after;
      const x = inFrequency ? speedOfLight / wavelength : wavelength;
      let [low, high] = [0, points.length - 1];
      while (high - low > 1) {
        const middle = (low + high) >> 1;
        if (points[middle]!.x <= x) low = middle;
        else high = middle;
      }
      const [a, b] = [points[low]!, points[high]!];
      const along = Math.min(1, Math.max(0, (x - a.x) / (b.x - a.x)));
      return a.share + along * (b.share - a.share);
    },
  };
}

/** Whether the first line that is no comment has a column of frequencies. */
function startsWithFrequency(csv: string): boolean {
  const header = csv.split("\n").find((line) => line.trim() !== "" && !line.startsWith("#")) ?? "";
  return /(^|,)\s*"?frequency\b/.test(header);
}

function pointsOfCsv(
  given: read.Having<read.Plain<TransmissionCurve>, "csv">,
  field: string,
  inFrequency: boolean,
): Point[] {
  const axis = inFrequency ? { name: "frequency", unit: "Hz" } : { name: "wavelength", unit: "m" };
  const file = given.file ?? `${field}.csv`;
  const rows = readNumberTable(given.csv, file, [axis, { name: "transmission", unit: "" }]);
  return rows.map(({ values, place }) => ({
    x: values[0]!,
    share: read.share.read(values[1], `${place} transmission`),
    place,
  }));
}

/**
 * Demands that a curve is known over a band.
 * @throws FieldError that says how much of the band is missing, and at which end
 */
export function demandCover(field: string, curve: Curve, from: number, to: number): void {
  const slack = 1e-9 * to;
  const missing = [
    curve.from > from + slack
      ? { end: "short", width: Math.min(curve.from, to) - from }
      : undefined,
    curve.to < to - slack ? { end: "long", width: to - Math.max(curve.to, from) } : undefined,
  ].filter((gap) => gap !== undefined);
  if (missing.length === 0) return;
  const words = missing.map(
    ({ end, width }) =>
      `${formatQuantity(width, "m")} (${formatShare(width / (to - from))}) of it is missing at the ${end} end`,
  );
  const sides = missing.map(({ end }) => (end === "short" ? "shorter" : "longer"));
  throw new FieldError(
    field,
    `a curve over the band, ${span(from, to)}: ${words.join(" and ")}. ` +
      `Extend the curve, or say with ${sides.join(" and ")} what the share is there`,
    `a curve over ${span(curve.from, curve.to)}`,
  );
}

/** Wavelengths from here to there, in words. */
export function span(from: number, to: number): string {
  const [first, last] = [from, to].map((wavelength) => formatQuantity(wavelength, "m", 4));
  if (to === Number.POSITIVE_INFINITY) return `${first} and longer`;
  return from === 0 ? `${last} and shorter` : `${first} to ${last}`;
}
