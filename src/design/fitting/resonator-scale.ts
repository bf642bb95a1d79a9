/**
 * A superconducting resonator as a thermometer: its frequency or its internal quality factor, by the law of
 * its film (device/quality.ts).
 * @module
 */
import {
  type Resonator,
  type ResonatorOptions,
  resonator,
  resonatorFields,
} from "../../device/quality.js";
import { root } from "../../numerics/root.js";
import { FieldError } from "../../units/errors.js";
import { object, oneOf, type ReadNumber } from "../../units/fields.js";
import { formatNumber, formatQuantity } from "../../units/format.js";
import { z95 } from "../../units/spread.js";
import { replaced } from "../field.js";
import { type ColumnScale, meanSquare, type ReadingPlace } from "./column-scale.js";

/** A resonator whose column holds its frequency, in hertz. */
export interface FrequencyThermometer {
  readonly kind: "frequency";
  /**
   * The resonator; its `frequency` is the one it has at zero temperature. Numbers of it that are spreads make
   * all readings uncertain together.
   */
  readonly resonator: ResonatorOptions;
}

/** A resonator whose column holds its internal quality factor, a pure number. */
export interface QualityThermometer {
  readonly kind: "quality";
  /** The resonator. Numbers of it that are spreads make all readings uncertain together. */
  readonly resonator: ResonatorOptions;
}

/** A resonator as a thermometer. */
export type ResonatorThermometer = FrequencyThermometer | QualityThermometer;

/** Readers of both kinds. */
export const resonatorThermometers = {
  frequency: object<FrequencyThermometer>({
    kind: oneOf("frequency"),
    resonator: resonatorFields,
  }),
  quality: object<QualityThermometer>({ kind: oneOf("quality"), resonator: resonatorFields }),
};

/**
 * The shift is linear in the loss of inertia; where a fiftieth of that is gone the linear law is off by a
 * thirtieth of the shift, a hundredth of the temperature at most.
 */
const linearUpTo = 0.02;
/** Shifts that two-level systems of dielectrics make as well, at low temperatures (order of magnitude, from memory). */
const smallestShift = 1e-6;
/** Part of T_c below which films keep more quasiparticles than are thermal. */
const excessBelow = 0.1;

/** Temperature by what a resonator shows, falling as it gets warmer. */
interface Law {
  /** Of a temperature: shift of frequency over frequency, or internal quality factor. */
  readonly of: (temperature: number) => number;
  /** The same of what was read in the column. */
  readonly read: (value: number) => number;
  /** Warmest temperature that it is good for [K]. */
  readonly warmest: number;
}

/** The scale of a resonator's column. @param numbers - of its description, as they were read */
export function resonatorScale(
  options: ResonatorThermometer,
  field: string,
  numbers: readonly ReadNumber[],
): ColumnScale {
  const { kind } = options;
  const made = (described: ResonatorOptions) =>
    resonator(described, undefined, `${field}.resonator`);
  const lawOf = (of: Resonator) => (kind === "frequency" ? byFrequency(of) : byQuality(of));
  const own = made(options.resonator);
  const law = lawOf(own);
  const [best, least] = [law.of(0), law.of(law.warmest)];
  const inverse = ({ of, read, warmest }: Law, value: number): number => {
    const wanted = Math.max(Math.min(read(value), of(0)), of(warmest));
    return wanted === of(0) ? 0 : root((T) => of(T) - wanted, 0, warmest);
  };
  // Each number that is a spread, at both ends of its middle 90 %.
  const uncertain = numbers.flatMap(({ field: at, distribution }) => {
    if (!distribution) return [];
    const path = at.slice(`${field}.resonator.`.length).split(".");
    const [low, high] = [distribution.low, distribution.high].map((end) =>
      lawOf(made(replaced(options.resonator, path, end) as ResonatorOptions)),
    );
    return [{ low: low!, high: high! }];
  });

  const temperatureOf = (value: number, { field: at, written }: ReadingPlace): number => {
    const shown = law.read(value);
    if (shown < best && shown >= least) return inverse(law, value);
    const upTo = formatQuantity(law.warmest, "K");
    const wanted =
      kind === "frequency"
        ? `a frequency below ${formatQuantity(own.frequency, "Hz", 9)}, that at zero temperature, by ` +
          `${formatNumber(-least)} of it at most, where the law ends at ${upTo}`
        : `an internal quality factor below ${formatNumber(best)}, which zero temperature leaves, and from ` +
          `${formatNumber(least)}, where the law ends at ${upTo}`;
    throw new FieldError(at, wanted, written);
  };

  return {
    unit: kind === "frequency" ? "Hz" : "",
    words: kind === "frequency" ? "a frequency greater than 0" : "a quality factor greater than 0",
    convert(values, places) {
      const temperatures = Float64Array.from(values, (value, i) =>
        temperatureOf(value, places[i]!),
      );
      const slopes = Float64Array.from(temperatures, (T) => {
        const h = 1e-4 * T;
        const slope = (law.of(T + h) - law.of(T - h)) / (2 * h);
        return 1 / (kind === "frequency" ? slope * own.frequency : slope);
      });
      const relative = Array.from(values, (value, i) =>
        Math.hypot(
          ...uncertain.map(
            ({ low, high }) =>
              (inverse(high, value) - inverse(low, value)) / (2 * z95 * temperatures[i]!),
          ),
        ),
      );
      const gain = uncertain.length > 0 ? meanSquare(relative) : 0;
      return {
        temperatures,
        slopes,
        errors: gain > 0 ? [{ gain }] : [],
        warnings: belowRange(kind, own, law, temperatures).map(
          // The column that the scale is of.
          (text) => `${field.slice(field.indexOf(".") + 1)} ${text}`,
        ),
      };
    },
  };
}

/** Where readings rest on what the law leaves out. */
function belowRange(
  kind: ResonatorThermometer["kind"],
  { superconductor: { criticalTemperature } }: Resonator,
  { of }: Law,
  temperatures: Float64Array,
): readonly string[] {
  const coldest = Math.min(...temperatures);
  const excess = excessBelow * criticalTemperature;
  const told = formatQuantity(coldest, "K");
  if (coldest < excess) {
    return [
      `is read down to ${told}, below ${formatQuantity(excess, "K")}, a tenth of T_c, where films keep more ` +
        "quasiparticles than are thermal: they are taken as thermal.",
    ];
  }
  const shift = -of(coldest);
  if (kind === "quality" || shift >= smallestShift) return [];
  return [
    `is read down to ${told}, where its frequency has shifted by ${formatNumber(shift, 2)} of it; two-level ` +
      "systems, which are not in the law, may shift it by as much.",
  ];
}

function byFrequency(made: Resonator): Law {
  const { frequency, kineticInductanceFraction, thicknessFactor, frequencyShift } = made;
  const most = -linearUpTo * ((kineticInductanceFraction * thicknessFactor) / 4);
  const { criticalTemperature } = made.superconductor;
  return {
    of: frequencyShift,
    read: (value) => value / frequency - 1,
    warmest: root((T) => frequencyShift(T) - most, 0, 0.9 * criticalTemperature),
  };
}

/** Up to nine tenths of T_c, where the film still is a good superconductor. */
function byQuality(made: Resonator): Law {
  const warmest = 0.9 * made.superconductor.criticalTemperature;
  return { of: made.internalQuality, read: (value) => value, warmest };
}
