/**
 * How a stage takes heat: the colder it is, the less.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { readNumberTable } from "../materials/number-table.js";
import { monotoneCubic } from "../numerics/interpolation.js";
import { root } from "../numerics/root.js";
import { given, type Provenance } from "../provenance.js";
import { anObject, notNegative } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import { formatGiven, formatQuantity } from "../units/format.js";
import type { Power, Temperature } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";

/**
 * What a stage takes, as a conductor: at temperature T it takes Θ(T) − Θ(base). In a network the
 * stage is then a node like another, joined by the conductor to a node held at `base`, and its temperature
 * comes out with the chip's.
 */
export interface Cooling {
  /** Its name, as results and messages show it. */
  readonly name: string;
  /** Heat flow into the stage's bath against temperature. */
  readonly conductor: Conductor;
  /** Temperature without any load [K] */
  readonly base: number;
  /** The most that it is known to take [W]; infinite for a law. */
  readonly largestPower: number;
  /** Heat it takes at a temperature [W]; negative below `base`. */
  power(temperature: number): number;
  /**
   * Its temperature under a load [K].
   * @throws RangeError when the load is more than it is known to take
   */
  temperature(load: number): number;
  /** Sources of the numbers that enter. */
  readonly provenance: readonly Provenance[];
}

/** A measured cooling curve: points, or the text of a CSV file. */
export type CoolingCurve = {
  /** In errors and warnings; `stage` by default. */
  readonly name?: string;
  /** Temperature without any load, where the curve does not begin with it [K]. */
  readonly base?: Uncertain<Temperature>;
} & (
  | {
      /** Temperature [K] and the power [W] it cools there. */
      readonly points: readonly (readonly [Temperature, Power])[];
    }
  | {
      /** Text with the columns `temperature` and `power`, in SI or as `temperature [mK],power [uW]`. */
      readonly csv: string;
      /** Its name in errors; `cooling curve` by default. */
      readonly file?: string;
    }
);

type Curve = read.Unnamed<CoolingCurve>;
const base = read.optional(read.quantity("temperature"));
const exactTemperature = read.exactQuantity("temperature");
const exactPower = read.exact(read.quantityFromZero("power"));

/** Reads a cooling curve, without its name. */
export const coolingCurveFields = read.oneForm<Curve>()({
  points: {
    points: read.list(
      read.pair(exactTemperature, exactPower, "[temperature, power]"),
      "a list of [temperature, power]",
    ),
    base,
  },
  csv: { ...read.csvFields, base },
});

/** A point of the curve, with where it was written. */
interface Point {
  readonly temperature: number;
  readonly power: number;
  readonly place: string;
}

/**
 * A stage by its measured cooling curve, temperature and power both rising.
 *
 * Between points a monotone cubic in T², in which the curves of coolers are nearly straight. The
 * temperature without load is that of a first point of 0 W; else `base`; else where the line in T²
 * through the first two points reaches 0 W. Above the last point nothing is known, and a result there is
 * refused.
 * @param field - path of the curve in the user's description, for errors
 * @throws FieldError when a point does not rise above the one before, naming the point or the file's line
 * @example coolingCurve({ points: [["20 mK", 0], ["100 mK", "400 uW"]] }).temperature(1e-4)
 */
export function coolingCurve(options: CoolingCurve, field = "coolingCurve"): Cooling {
  const { name: written = "stage", ...curveOptions } = anObject(field, options);
  const name = read.text.read(written, `${field}.name`);
  const plain = coolingCurveFields.read(curveOptions, field);
  const points = pointsOf(plain, field);
  points.forEach((point, i) => {
    if (i > 0) checkRise(points[i - 1]!, point);
  });
  const { start, rule } = startOf(plain.base, points, field);
  const curve = start === undefined ? points : [start, ...points];
  if (curve.length < 2) {
    throw new FieldError(field, "two points or more, or one and the base", points.length);
  }
  const [first, last] = [curve[0]!, curve[curve.length - 1]!];

  const conductor: Conductor = {
    ...smoothCurve(curve),
    ranges: [
      {
        from: first.temperature,
        to: last.temperature,
        of: `its cooling curve ends there, with ${formatQuantity(last.power, "W")}`,
        outside: "refuse",
      },
    ],
  };
  const temperature = (load: number) => {
    const wanted = notNegative(`${name}.load`, load, "power");
    if (wanted > last.power) throw tooMuch(name, wanted, last);
    if (wanted === 0) return first.temperature;
    return root((T) => conductor.integral(T) - wanted, first.temperature, last.temperature);
  };
  return {
    name,
    conductor,
    base: first.temperature,
    largestPower: last.power,
    power: (T) => conductor.integral(T),
    temperature,
    provenance: [
      given(`${name}: temperature without load`, first.temperature, "K", rule),
      given(`${name}: temperature at the end of the cooling curve`, last.temperature, "K"),
      given(`${name}: power at the end of the cooling curve`, last.power, "W"),
    ],
  };
}

function pointsOf(curve: read.Plain<Curve>, field: string): readonly Point[] {
  if ("points" in curve) {
    return curve.points.map(([temperature, power], i) => ({
      temperature,
      power,
      place: `${field}.points[${i}]`,
    }));
  }
  return readNumberTable(curve.csv, curve.file ?? "cooling curve", [
    { name: "temperature", unit: "K" },
    { name: "power", unit: "W" },
  ]).map(({ values, place }) => ({
    temperature: exactTemperature.read(values[0], `${place} temperature`),
    power: exactPower.read(values[1], `${place} power`),
    place,
  }));
}

function checkRise(before: Point, point: Point): void {
  if (!(point.temperature > before.temperature)) {
    const least = formatQuantity(before.temperature, "K");
    throw new FieldError(
      `${point.place} temperature`,
      `a temperature above that of the point before, ${least}`,
      formatQuantity(point.temperature, "K"),
    );
  }
  if (!(point.power > before.power)) {
    const least = formatQuantity(before.power, "W");
    throw new FieldError(
      `${point.place} power`,
      `more than at the point before, ${least}, since a stage takes more heat the warmer it is`,
      formatQuantity(point.power, "W"),
    );
  }
}

/** The point of no load, where the curve does not begin with it, and the rule it came by. */
function startOf(base: number | undefined, points: readonly Point[], field: string) {
  const [first, second] = points;
  if (!first) throw new FieldError(field, "two points or more", 0);
  if (base !== undefined) {
    const begins = first.power === 0;
    if (begins ? base !== first.temperature : base >= first.temperature) {
      const wanted = begins
        ? `the temperature of the first point, which has no load (${formatQuantity(first.temperature, "K")})`
        : `a temperature below the first point's, ${formatQuantity(first.temperature, "K")}`;
      throw new FieldError(`${field}.base`, wanted, formatGiven(base, "K"));
    }
    return begins
      ? { start: undefined, rule: "first point of the curve" }
      : {
          start: { temperature: base, power: 0, place: `${field}.base` },
          rule: "given beside the curve",
        };
  }
  if (first.power === 0) return { start: undefined, rule: "first point of the curve" };
  if (!second) throw new FieldError(`${field}.base`, "the temperature without load", undefined);
  const slope = (second.temperature ** 2 - first.temperature ** 2) / (second.power - first.power);
  const square = first.temperature ** 2 - first.power * slope;
  if (!(square > 0)) {
    const wanted =
      "the temperature without load, since a line in T^2 through the first two points reaches 0 W nowhere";
    throw new FieldError(`${field}.base`, wanted, undefined);
  }
  return {
    start: { temperature: Math.sqrt(square), power: 0, place: field },
    rule: "from the first two points of the curve, by a line in T^2",
  };
}

/**
 * Heat over temperature through the points, and its slope. One more point at either end, the
 * end's segment mirrored, keeps the slope there from vanishing; beyond them the line goes on, so that a solver's
 * trial temperatures find heat that rises.
 */
function smoothCurve(points: readonly Point[]): Pick<Conductor, "conductance" | "integral"> {
  const squares = points.map(({ temperature }) => temperature ** 2);
  const powers = points.map(({ power }) => power);
  const mirrored = (v: readonly number[]) => {
    const n = v.length;
    return [2 * v[0]! - v[1]!, ...v, 2 * v[n - 1]! - v[n - 2]!];
  };
  const curve = monotoneCubic(mirrored(squares), mirrored(powers));
  const within = (square: number) => Math.min(curve.to, Math.max(curve.from, square));
  return {
    integral(T) {
      const held = within(T * T);
      return curve.value(held) + (T * T - held) * curve.slope(held);
    },
    conductance: (T) => 2 * T * curve.slope(within(T * T)),
  };
}

function tooMuch(name: string, load: number, last: Point): RangeError {
  return new RangeError(
    `${name}: ${formatQuantity(load, "W")} is more than the ${formatQuantity(last.power, "W")} ` +
      `with which its cooling curve ends, at ${formatQuantity(last.temperature, "K")}. Lower the ` +
      "load, let a warmer stage take part of it, or give a curve that goes further.",
  );
}
