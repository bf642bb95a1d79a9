/**
 * What turns a column that holds no temperature into one: a resistance thermometer by its calibration table,
 * and a resonator by the law of its superconductor (resonator-scale.ts).
 * @module
 */
import { type GivenJoint, givenJoint, givenJointField } from "../../joints/given.js";
import { readNumberTable } from "../../materials/number-table.js";
import { inLogarithms } from "../../numerics/interpolation.js";
import { conductionLaw } from "../../numerics/temperature-law.js";
import { FieldError } from "../../units/errors.js";
import {
  aboveZeroIn,
  byKind,
  csvFields,
  exact,
  object,
  oneForm,
  oneOf,
  optional,
  type ReadNumber,
} from "../../units/fields.js";
import { formatQuantity } from "../../units/format.js";
import type { RareQuantity } from "../../units/quantity.js";
import { z95 } from "../../units/spread.js";
import { type ColumnScale, meanSquare, type ReadingPlace } from "./column-scale.js";
import {
  type ResonatorThermometer,
  resonatorScale,
  resonatorThermometers,
} from "./resonator-scale.js";

/** An electric current [A], or a string such as `"1 nA"`. */
export type ElectricCurrent = RareQuantity<"A" | "mA" | "uA" | "nA" | "pA">;
/** A voltage [V], or a string such as `"10 uV"`. */
export type Voltage = RareQuantity<"V" | "mV" | "uV" | "nV">;

/** Root mean square of what a resistance is measured with. */
export type Excitation =
  | {
      /** I, which heats by I²R [A]. */
      readonly current: ElectricCurrent;
    }
  | {
      /** V across the thermometer, which heats by V²/R [V]. */
      readonly voltage: Voltage;
    };

/** A resistance thermometer, whose column is in ohms. */
export interface ResistanceThermometer {
  readonly kind: "resistance";
  /**
   * Text of its calibration: lines of `temperature [K],resistance [ohm]` in any order, and where it is known
   * `temperature uncertainty [mK]`, the standard uncertainty of each point.
   */
  readonly csv: string;
  /** Name of that file, for errors. */
  readonly file?: string;
  /** What it is measured with, and heated by; no heat when absent. */
  readonly excitation?: Excitation;
  /**
   * What leads this heat from the thermometer to its place, which is colder; when absent the thermometer is
   * as warm as its place.
   */
  readonly link?: GivenJoint;
}

/** How a column is read as a temperature. */
export type ThermometerScale = ResistanceThermometer | ResonatorThermometer;

const excitationField = oneForm<Excitation>()({
  current: { current: exact(aboveZeroIn("A", "mA", "uA", "nA", "pA")) },
  voltage: { voltage: exact(aboveZeroIn("V", "mV", "uV", "nV")) },
});

const scaleField = byKind<ThermometerScale>({
  resistance: object<ResistanceThermometer>({
    kind: oneOf("resistance"),
    ...csvFields,
    excitation: optional(excitationField),
    link: optional(givenJointField),
  }),
  ...resonatorThermometers,
});

/** The scale of a column. @throws FieldError, UnknownNameError naming what is wrong with it */
export function readScale(written: ThermometerScale, field: string): ColumnScale {
  const numbers: ReadNumber[] = [];
  const plain = scaleField.read(written, field, (number) => numbers.push(number));
  if (plain.kind !== "resistance") {
    return resonatorScale(written as ResonatorThermometer, field, numbers);
  }
  const { csv, file = `${field}.csv`, excitation, link } = plain;
  const table = calibrationTable(csv, file);
  const heatOf = (resistance: number) => {
    if (!excitation) return 0;
    return "current" in excitation
      ? excitation.current ** 2 * resistance
      : excitation.voltage ** 2 / resistance;
  };
  const linkAt = (conductance: number) => givenJoint({ ...link!, conductance }, `${field}.link`);
  const conductance = numbers.find((number) => number.field === `${field}.link.conductance`);
  const { low, high } = conductance?.distribution ?? {};

  /** The thermometer's place, colder than itself by what its heat needs. */
  const placeOf = (T: number, heat: number, by: number, at: ReadingPlace): number => {
    const law = linkAt(by);
    const left = law.integral(T) - heat;
    if (left > 0) return conductionLaw(law).temperature(left, T);
    const wanted = `less heat than ${formatQuantity(law.integral(T), "W")}, all that ${field}.link leads away`;
    throw new FieldError(at.field, wanted, `${formatQuantity(heat, "W")} of the excitation`);
  };
  return {
    unit: "ohm",
    words: "a resistance greater than 0",
    convert(values, places) {
      const read = Array.from(values, (R, i) => {
        const at = places[i]!;
        const { temperature: T, slope } = table.at(R, at);
        const heat = heatOf(R);
        if (!link || heat === 0) return { T, slope, heat, spread: 0 };
        const place = placeOf(T, heat, link.conductance, at);
        const law = linkAt(link.conductance);
        const spread =
          low === undefined || high === undefined
            ? 0
            : (placeOf(T, heat, high, at) - placeOf(T, heat, low, at)) / (2 * z95);
        // As if the heat stayed: the excitation is chosen, and changes far less than the temperature.
        const by = law.conductance(T) / law.conductance(place);
        return { T: place, slope: slope * by, heat, spread };
      });
      const gain = meanSquare(Array.from(values, (R) => table.uncertainty(R)));
      const offset = meanSquare(read.map(({ spread }) => spread));
      return {
        temperatures: Float64Array.from(read, ({ T }) => T),
        slopes: Float64Array.from(read, ({ slope }) => slope),
        ...(excitation && { heats: Float64Array.from(read, ({ heat }) => heat) }),
        errors: [...(gain > 0 ? [{ gain }] : []), ...(offset > 0 ? [{ offset }] : [])],
        warnings: [],
      };
    },
  };
}

/**
 * A calibration: ln T by ln R, by a monotone cubic through the points (numerics/interpolation.ts), so that a
 * thermometer that always rises or always falls is read without ripples.
 */
function calibrationTable(csv: string, file: string) {
  const isStated = /temperature uncertainty/.test(csv);
  const rows = readNumberTable(csv, file, [
    { name: "temperature", unit: "K" },
    { name: "resistance", unit: "ohm" },
    ...(isStated ? [{ name: "temperature uncertainty", unit: "K" }] : []),
  ]);
  const points = rows.map(({ values, written, place }) => {
    const [T, R, uncertainty = 0] = values as [number, number, number?];
    [T, R, uncertainty].forEach((value, i) => {
      if (value > 0 || (i === 2 && value === 0)) return;
      const name = ["temperature", "resistance", "temperature uncertainty"][i]!;
      throw new FieldError(`${place} ${name}`, "a number greater than 0", written[i]);
    });
    return { T, R, relative: uncertainty / T, place, written };
  });
  if (points.length < 2) throw new FieldError(file, "two lines of a calibration or more", "1");
  points.sort((a, b) => a.T - b.T);
  const rises = points.at(-1)!.R > points[0]!.R;
  points.forEach(({ T, R, place, written }, i) => {
    const before = points[i - 1];
    if (!before || (T > before.T && (rises ? R > before.R : R < before.R))) return;
    const wanted =
      T > before.T
        ? `a resistance that ${rises ? "rises" : "falls"} from each temperature to the next (${before.written[1]} at ${before.written[0]})`
        : `each temperature once`;
    throw new FieldError(`${place} resistance`, wanted, `${written[1]} at ${written[0]}`);
  });
  const byResistance = rises ? points : [...points].reverse();
  const curve = inLogarithms(byResistance.map(({ R, T }) => [R, T]));
  const [first, last] = [byResistance[0]!, byResistance.at(-1)!];
  return {
    at(R: number, { field, written }: ReadingPlace) {
      if (R >= first.R && R <= last.R)
        return { temperature: curve.value(R), slope: curve.slope(R) };
      const ohms = [first.R, last.R].map((value) => formatQuantity(value, "ohm", 4)).join(" to ");
      const kelvins = [points[0]!.T, points.at(-1)!.T]
        .map((value) => formatQuantity(value, "K"))
        .join(" to ");
      throw new FieldError(field, `a resistance in ${file}, ${ohms} for ${kelvins}`, written);
    },
    /** Of the temperature, in parts of it, between the points beside. */
    uncertainty(R: number): number {
      const i = byResistance.findIndex((point) => point.R >= R);
      const [above, below] = [byResistance[Math.max(i, 1)]!, byResistance[Math.max(i, 1) - 1]!];
      const share = Math.log(R / below.R) / Math.log(above.R / below.R);
      return below.relative + share * (above.relative - below.relative);
    },
  };
}
