/**
 * How the energies of background hits are spread: flat, lines, or a curve.
 * @module
 */
import { readNumberTable } from "../materials/number-table.js";
import type { Random } from "../numerics/random.js";
import { aList, positiveNumber } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { type Energy, occurs, toSI, wanted } from "../units/quantity.js";

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
      readonly from: Energy;
      /** Highest energy of a continuous part [J]. */
      readonly to: Energy;
    };

/** Hits of one energy: as a rate, or as a share among the lines. */
export interface EnergyLine {
  /** Energy [J]. */
  readonly energy: Energy;
  /** Hits a second [1/s]; given for all lines or for none. */
  readonly rate?: number;
  /** Share, on any scale. */
  readonly share?: number;
}

/** A spectrum, read and checked. */
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
export function readSpectrum(field: string, given: EnergySpectrum): Spectrum {
  const forms = ["csv", "points", "lines", "from"].filter(
    (form) => typeof given === "object" && given !== null && Object.hasOwn(given, form),
  );
  if (forms.length !== 1) {
    throw new FieldError(
      field,
      "a spectrum: csv, points, lines, or from and to",
      forms.length === 0 ? given : forms.join(" and "),
    );
  }
  if ("lines" in given) return ofLines(given.lines, `${field}.lines`);
  if ("csv" in given) return ofCsv(given.csv, given.file ?? `${field}.csv`);
  if ("points" in given) {
    const list: readonly unknown[] = given.points;
    return ofCurve(
      aList(`${field}.points`, list, "a list of energies and weights").map((point, i) => {
        const place = `${field}.points[${i}]`;
        if (!Array.isArray(point) || point.length !== 2) {
          throw new FieldError(place, "an energy and a weight", point);
        }
        return { energy: toSI(`${place}[0]`, point[0], "energy"), weight: point[1], place };
      }),
      false,
      field,
    );
  }
  const ends = [given.from, given.to].map((end, i) => {
    const place = `${field}.${i === 0 ? "from" : "to"}`;
    return { energy: toSI(place, end, "energy"), weight: 1, place };
  });
  return ofCurve(ends, false, field);
}

function ofCsv(csv: string, file: string): Spectrum {
  if (typeof csv !== "string") throw new FieldError(file, "the text of a CSV file", csv);
  const header = csv.split(/\r?\n/).find((line) => line.trim() !== "" && !line.startsWith("#"));
  const cells = (header ?? "").split(",").map((cell) => cell.trim().replace(/\s*\[.*$/, ""));
  const absolute = !cells.includes("weight");
  const column = absolute ? { name: "rate", unit: "1/(J s)" } : { name: "weight", unit: "" };
  const rows = readNumberTable(csv, file, [{ name: "energy", unit: "J" }, column]);
  return ofCurve(
    rows.map(({ values, place }) => ({ energy: values[0]!, weight: values[1]!, place })),
    absolute,
    file,
  );
}

function ofCurve(points: readonly Point[], absolute: boolean, field: string): Spectrum {
  if (points.length < 2) throw new FieldError(field, "two energies or more", points.length);
  points.forEach(({ energy, weight, place }, i) => {
    checkEnergy(`${place} energy`, energy);
    if (!(energy > (points[i - 1]?.energy ?? 0))) {
      throw new FieldError(`${place} energy`, "each energy above the one before it", energy);
    }
    if (!(typeof weight === "number" && weight >= 0 && occurs(weight))) {
      const what = absolute ? "rate" : "weight";
      throw new FieldError(`${place} ${what}`, `a ${what} of 0 or more`, weight);
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

function ofLines(lines: readonly EnergyLine[], field: string): Spectrum {
  if (!Array.isArray(lines) || lines.length === 0) {
    throw new FieldError(field, "a list of one line or more", lines);
  }
  const absolute = lines[0]?.rate !== undefined;
  const name = absolute ? "rate" : "share";
  const read = aList(field, lines as readonly EnergyLine[], "a list of lines").map((line, i) => {
    const place = `${field}[${i}]`;
    if (typeof line !== "object" || line === null) {
      throw new FieldError(place, "an object with energy, and rate or share", line);
    }
    if (line.rate !== undefined && line.share !== undefined) {
      throw new FieldError(place, "either a rate or a share", "both");
    }
    const energy = toSI(`${place}.energy`, line.energy, "energy");
    checkEnergy(`${place}.energy`, energy);
    const what = absolute ? "hits a second, as the first line has" : "a share";
    return { energy, weight: positiveNumber(`${place}.${name}`, line[name], what) };
  });
  const cumulative = [0];
  for (const { weight } of read) cumulative.push(cumulative.at(-1)! + weight);
  const whole = cumulative.at(-1)!;
  return {
    rate: absolute ? whole : undefined,
    mean: read.reduce((sum, { energy, weight }) => sum + energy * weight, 0) / whole,
    draw: (random) => read[pick(cumulative, random.uniform() * whole).at]!.energy,
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
  if (!(energy > 0)) throw new FieldError(field, `${wanted("energy")}, greater than 0`, energy);
  if (energy < tooMuch) return;
  const hint = "an energy below a millijoule (in a CSV file, with its unit: energy [keV])";
  throw new FieldError(field, hint, energy);
}
