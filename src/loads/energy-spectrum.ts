/**
 * How the energies of background hits are spread: flat, lines, or a curve.
 * @module
 */
import { readColumnNames } from "../materials/number-table.js";
import { pieceOf } from "../numerics/interpolation.js";
import type { Random } from "../numerics/random.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import type { Energy, RareQuantity } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { type CurvePoint, curvePoints, demandRise } from "./curve-points.js";

/** Energies of hits: a curve straight between its points, lines, or flat from one energy to another. */
export type EnergySpectrum =
  | {
      /**
       * Text of a CSV file with a column `energy [keV]`, rising, and a column `rate [1/(keV s)]`, or
       * `weight` for shares alone.
       */
      readonly csv: string;
      /** Its name, for errors. */
      readonly file?: string;
    }
  | {
      /** Pairs of energy, rising, and weight per energy. */
      readonly points: readonly (readonly [energy: Energy, weight: number])[];
    }
  | {
      /** Single energies. */
      readonly lines: readonly EnergyLine[];
    }
  | {
      /** Lowest energy of a continuous part [J]. */
      readonly from: Uncertain<Energy>;
      /** Highest energy of a continuous part [J]. */
      readonly to: Uncertain<Energy>;
    };

/** Hits of one energy: as a rate, or as a share among the lines. */
export interface EnergyLine {
  /** Energy [J]. */
  readonly energy: Uncertain<Energy>;
  /** Hits a second [1/s]; given for all lines or for none. */
  readonly rate?: Uncertain<RareQuantity<"1/s" | "1/min" | "1/h">>;
  /** Share, on any scale. */
  readonly share?: Uncertain<number>;
}

const energy = read.quantity("energy");
const exactEnergy = read.exactQuantity("energy");
const exactWeight = read.exact(read.fromZero);

export const spectrumFields = read.oneForm<EnergySpectrum>()({
  points: {
    points: read.list(
      read.pair(exactEnergy, exactWeight, "an energy and a weight"),
      "a list of energies and weights",
    ),
  },
  csv: read.csvFields,
  lines: {
    lines: read.list(
      read.object<EnergyLine>({
        energy,
        rate: read.optional(read.aboveZeroIn("1/s", "1/min", "1/h")),
        share: read.optional(read.aboveZero),
      }),
      "a list of one line or more",
      1,
    ),
  },
  from: { from: energy, to: energy },
});

export interface Spectrum {
  /** Hits of all energies, where the spectrum tells [1/s]. */
  readonly rate: number | undefined;
  /** Mean energy of a hit [J]. */
  readonly mean: number;
  /** An energy [J], by inversion of the cumulative share. */
  draw(random: Random): number;
}

/** Above any particle's energy [J]; catches energies that were meant to be in keV. */
const tooMuch = 1e-3;

/**
 * A spectrum as draws take it. Between points the rate per energy is straight, so that the cumulative is
 * a parabola, which is inverted as it stands.
 * @param field - path of the spectrum in the user's description, for errors
 * @throws FieldError naming file, line and column, or the point
 */
export function spectrumOf(given: read.Plain<EnergySpectrum>, field: string): Spectrum {
  if ("lines" in given) return ofLines(given.lines, `${field}.lines`);
  if ("from" in given) {
    const ends = (["from", "to"] as const).map((end) => {
      const spot = { field: `${field}.${end}`, written: given[end] };
      return { x: given[end], y: 1, of: { x: spot, y: spot } };
    });
    return ofCurve(ends, false, field);
  }
  const file = ("csv" in given && given.file) || `${field}.csv`;
  const absolute =
    "csv" in given && readColumnNames(given.csv, file).every(({ name }) => name !== "weight");
  const column = absolute ? { name: "rate", unit: "1/(J s)" } : { name: "weight", unit: "" };
  const axis = { name: "energy", unit: "J", field: exactEnergy };
  const points = curvePoints(given, field, [axis, { ...column, field: exactWeight }], file);
  return ofCurve(points, absolute, "csv" in given ? file : field);
}

function ofCurve(points: readonly CurvePoint[], absolute: boolean, field: string): Spectrum {
  if (points.length < 2) throw new FieldError(field, "two energies or more", points.length);
  for (const { x, of } of points) checkEnergy(of.x.field, x, of.x.written);
  demandRise(points, "energy");
  const pieces = points.slice(1).map((b, i) => {
    const a = points[i]!;
    const h = b.x - a.x;
    const weight = (h * (a.y + b.y)) / 2;
    return { a, b, h, weight, moment: a.x * weight + (h * h * (a.y + 2 * b.y)) / 6 };
  });
  const sums = runningSums(pieces);
  const whole = sums.at(-1)!;
  if (!(whole > 0)) throw new FieldError(field, "some energy with more than 0", "none");
  return {
    rate: absolute ? whole : undefined,
    mean: pieces.reduce((sum, { moment }) => sum + moment, 0) / whole,
    draw(random) {
      const value = random.uniform() * whole;
      const at = pieceOf(sums, value);
      const { a, b, h } = pieces[at]!;
      const rest = value - sums[at]!;
      // w s + (w' − w) s²/2h = rest, by the form that loses no digits.
      const root = Math.sqrt(Math.max(0, a.y ** 2 + (2 * rest * (b.y - a.y)) / h));
      const along = rest === 0 ? 0 : (2 * rest) / (a.y + root);
      return a.x + Math.min(h, along);
    },
  };
}

function ofLines(lines: readonly read.Plain<EnergyLine>[], field: string): Spectrum {
  const absolute = lines[0]?.rate !== undefined;
  const name = absolute ? "rate" : "share";
  const weighted = lines.map((line, i) => {
    const { energy, rate, share, [name]: weight } = line;
    const place = `${field}[${i}]`;
    if (rate !== undefined && share !== undefined) {
      throw new FieldError(place, "either a rate or a share", "both");
    }
    checkEnergy(`${place}.energy`, energy);
    if (weight !== undefined) return { energy, weight };
    const what = absolute ? "hits a second, as the first line has" : "a share";
    throw new FieldError(`${place}.${name}`, what, weight);
  });
  const sums = runningSums(weighted);
  const whole = sums.at(-1)!;
  return {
    rate: absolute ? whole : undefined,
    mean: weighted.reduce((sum, { energy, weight }) => sum + energy * weight, 0) / whole,
    draw: (random) => weighted[pieceOf(sums, random.uniform() * whole)]!.energy,
  };
}

/** 0, and the sum of the weights up to each. */
function runningSums(weighted: readonly { readonly weight: number }[]): readonly number[] {
  const sums = [0];
  for (const { weight } of weighted) sums.push(sums.at(-1)! + weight);
  return sums;
}

function checkEnergy(field: string, energy: number, written: unknown = energy): void {
  if (energy < tooMuch) return;
  const hint = "an energy below a millijoule (in a CSV file, with its unit: energy [keV])";
  throw new FieldError(field, hint, written);
}
