/**
 * How the energies of background hits are spread: flat, lines, or a curve.
 * @module
 */
import { readNumberTable } from "../materials/number-table.js";
import type { Random } from "../numerics/random.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import type { Energy } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";

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
  readonly rate?: Uncertain<number>;
  /** Share, on any scale. */
  readonly share?: Uncertain<number>;
}

const energy = read.quantity("energy");
const exactEnergy = read.exactQuantity("energy");
const exactWeight = read.exact(read.fromZero);

/** Reads a spectrum. */
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
        rate: read.optional(read.aboveZeroIn("1/s")),
        share: read.optional(read.aboveZero),
      }),
      "a list of one line or more",
      1,
    ),
  },
  from: { from: energy, to: energy },
});

/** A spectrum. */
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

interface Point {
  readonly energy: number;
  readonly weight: number;
  readonly place: string;
}

/**
 * A spectrum as draws take it. Between points the rate per energy is straight, so that the cumulative is
 * a parabola, which is inverted as it stands.
 * @param field - path of the spectrum in the user's description, for errors
 * @throws FieldError naming file, line and column, or the point
 */
export function spectrumOf(given: read.Plain<EnergySpectrum>, field: string): Spectrum {
  if ("lines" in given) return ofLines(given.lines, `${field}.lines`);
  if ("csv" in given) return ofCsv(given.csv, given.file ?? `${field}.csv`);
  const points =
    "points" in given
      ? given.points.map(([energy, weight], i) => ({
          energy,
          weight,
          place: `${field}.points[${i}]`,
        }))
      : (["from", "to"] as const).map((end) => ({
          energy: given[end],
          weight: 1,
          place: `${field}.${end}`,
        }));
  return ofCurve(points, false, field);
}

function ofCsv(csv: string, file: string): Spectrum {
  const header = csv.split(/\r?\n/).find((line) => line.trim() !== "" && !line.startsWith("#"));
  const cells = (header ?? "").split(",").map((cell) => cell.trim().replace(/\s*\[.*$/, ""));
  const absolute = !cells.includes("weight");
  const column = absolute ? { name: "rate", unit: "1/(J s)" } : { name: "weight", unit: "" };
  const rows = readNumberTable(csv, file, [{ name: "energy", unit: "J" }, column]);
  return ofCurve(
    rows.map(({ values, place }) => ({
      energy: exactEnergy.read(values[0], `${place} energy`),
      weight: exactWeight.read(values[1], `${place} ${column.name}`),
      place,
    })),
    absolute,
    file,
  );
}

function ofCurve(points: readonly Point[], absolute: boolean, field: string): Spectrum {
  if (points.length < 2) throw new FieldError(field, "two energies or more", points.length);
  points.forEach(({ energy, place }, i) => {
    checkEnergy(`${place} energy`, energy);
    if (!(energy > (points[i - 1]?.energy ?? 0))) {
      throw new FieldError(`${place} energy`, "each energy above the one before it", energy);
    }
  });
  const cumulative = [0];
  let moment = 0;
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1]!, points[i]!];
    const h = b.energy - a.energy;
    cumulative.push(cumulative[i - 1]! + (h * (a.weight + b.weight)) / 2);
    moment += h * ((a.energy * (a.weight + b.weight)) / 2 + (h * (a.weight + 2 * b.weight)) / 6);
  }
  const whole = cumulative.at(-1)!;
  if (!(whole > 0)) throw new FieldError(field, "some energy with more than 0", "none");
  return {
    rate: absolute ? whole : undefined,
    mean: moment / whole,
    draw(random) {
      const { at, rest } = pick(cumulative, random.uniform() * whole);
      const [a, b] = [points[at]!, points[at + 1]!];
      const h = b.energy - a.energy;
      // w s + (w' − w) s²/2h = rest, by the form that loses no digits.
      const root = Math.sqrt(Math.max(0, a.weight ** 2 + (2 * rest * (b.weight - a.weight)) / h));
      const along = rest === 0 ? 0 : (2 * rest) / (a.weight + root);
      return a.energy + Math.min(h, along);
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
  const cumulative = [0];
  for (const { weight } of weighted) cumulative.push(cumulative.at(-1)! + weight);
  const whole = cumulative.at(-1)!;
  return {
    rate: absolute ? whole : undefined,
    mean: weighted.reduce((sum, { energy, weight }) => sum + energy * weight, 0) / whole,
    draw: (random) => weighted[pick(cumulative, random.uniform() * whole).at]!.energy,
  };
}

/** The piece of a cumulative that holds a value, and how much of the value is in it. */
function pick(cumulative: readonly number[], value: number): { at: number; rest: number } {
  let [low, high] = [0, cumulative.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (cumulative[middle]! <= value) low = middle;
    else high = middle;
  }
  return { at: low, rest: value - cumulative[low]! };
}

function checkEnergy(field: string, energy: number): void {
  if (energy < tooMuch) return;
  const hint = "an energy below a millijoule (in a CSV file, with its unit: energy [keV])";
  throw new FieldError(field, hint, energy);
}
