/**
 * How a stage takes heat: the colder it is, the less.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { monotoneCubic } from "../numerics/interpolation.js";
import { root } from "../numerics/root.js";
import { given, type Provenance } from "../provenance.js";
import { rangeWarnings } from "../ranges.js";
import { anObject, notNegative } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import { formatGiven, formatQuantity } from "../units/format.js";
import type { Power, Temperature } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { type CurvePoint, curvePoints, refused } from "./curve-points.js";

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
  /**
   * Cooling power at a temperature [W]; negative below `base`.
   * @throws RangeError where nothing is known of it
   */
  power(temperature: number): number;
  /**
   * Its temperature under a load [K].
   * @throws RangeError when the load is more than it is known to take
   */
  temperature(load: number): number;
  /** What is told of it at a temperature outside the range of its law [K]. @throws RangeError as `power` */
  warningsAt(temperature: number): readonly string[];
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

const base = read.optional(read.quantity("temperature"));
const exactTemperature = read.exactQuantity("temperature");
const exactPower = read.exact(read.quantityFromZero("power"));

/** Reads a cooling curve, without its name. */
export const coolingCurveFields = read.oneForm<read.Unnamed<CoolingCurve>>()({
  points: {
    points: read.list(
      read.pair(exactTemperature, exactPower, "[temperature, power]"),
      "a list of [temperature, power]",
    ),
    base,
  },
  csv: { ...read.csvFields, base },
});

interface Point {
  readonly temperature: number;
  readonly power: number;
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
  const { name: own = "stage", ...curveOptions } = anObject(field, options);
  const name = read.text.read(own, `${field}.name`);
  const plain = coolingCurveFields.read(curveOptions, field);
  const columns = [
    { name: "temperature", unit: "K", field: exactTemperature },
    { name: "power", unit: "W", field: exactPower },
  ] as const;
  const written = curvePoints(plain, field, columns, "cooling curve");
  written.forEach((point, i) => {
    if (i > 0) checkRise(written[i - 1]!, point);
  });
  const points = written.map(({ x, y }): Point => ({ temperature: x, power: y }));
  const { curve, rule } = withStart(plain.base, points, field);
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
  const warningsAt = (T: number) => rangeWarnings([{ name, law: conductor, used: [T, T] }]);
  const temperature = (load: number) => {
    const wanted = notNegative(`${name}.load`, load, "power");
    if (wanted > last.power) {
      throw new RangeError(
        `${name}: ${formatQuantity(wanted, "W")} is more than the ${formatQuantity(last.power, "W")} ` +
          `with which its cooling curve ends, at ${formatQuantity(last.temperature, "K")}. Lower the ` +
          "load, let a warmer stage take part of it, or give a curve that goes further.",
      );
    }
    if (wanted === 0) return first.temperature;
    return root((T) => conductor.integral(T) - wanted, first.temperature, last.temperature);
  };
  return {
    name,
    conductor,
    base: first.temperature,
    largestPower: last.power,
    power(T) {
      // Below its first point it goes on: what it takes there is less than nothing.
      warningsAt(Math.max(T, first.temperature));
      return conductor.integral(T);
    },
    temperature,
    warningsAt,
    provenance: [
      given(`${name}: temperature without load`, first.temperature, "K", rule),
      given(`${name}: temperature at the end of the cooling curve`, last.temperature, "K"),
      given(`${name}: power at the end of the cooling curve`, last.power, "W"),
    ],
  };
}

function checkRise(before: CurvePoint, point: CurvePoint): void {
  const told = (written: unknown, si: number, unit: string) =>
    typeof written === "string" ? written : formatQuantity(si, unit);
  const cold = told(before.of.x.written, before.x, "K");
  const less = told(before.of.y.written, before.y, "W");
  if (!(point.x > before.x)) {
    const wanted = `a temperature above that of the point before, ${cold}`;
    throw refused(point.of.x, wanted);
  }
  if (!(point.y > before.y)) {
    const wanted = `more than at the point before, ${less}, since a stage takes more heat the warmer it is`;
    throw refused(point.of.y, wanted);
  }
}

/** The curve from its point of no load on, and the rule by which that was found. */
function withStart(base: number | undefined, points: readonly Point[], field: string) {
  const [first, second] = points;
  if (!first) throw new FieldError(field, "two points or more", 0);
  const refusedBase = (wanted: string) =>
    new FieldError(`${field}.base`, wanted, base === undefined ? base : formatGiven(base, "K"));
  const from = (temperature: number, rule: string) => {
    return { curve: [{ temperature, power: 0 }, ...points], rule };
  };
  const start = formatQuantity(first.temperature, "K");
  if (first.power === 0) {
    const fits = base === undefined || base === first.temperature;
    if (fits) return { curve: points, rule: "first point of the curve" };
    throw refusedBase(`the temperature of the first point, which has no load (${start})`);
  }
  if (base !== undefined) {
    if (base < first.temperature) return from(base, "given beside the curve");
    throw refusedBase(`a temperature below the first point's, ${start}`);
  }
  if (!second) throw refusedBase("the temperature without load");
  const slope = (second.temperature ** 2 - first.temperature ** 2) / (second.power - first.power);
  const square = first.temperature ** 2 - first.power * slope;
  if (square > 0) {
    const rule = "from the first two points of the curve, by a line in T^2";
    return from(Math.sqrt(square), rule);
  }
  throw refusedBase(
    "the temperature without load, since a line in T^2 through the first two points reaches 0 W nowhere",
  );
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
