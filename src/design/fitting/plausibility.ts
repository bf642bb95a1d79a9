/**
 * Faults of whole columns, found before a fit by what the mount as it starts would do: temperatures or powers
 * in another unit, a power in the wrong decade, a stage that moved and that no column holds.
 *
 * A reading tells how much heat the mount needs to be as warm. Over what column and loads say it is a factor
 * that films better or worse than thought change in all lines alike, and by 3 at most in nine of ten mounts;
 * a column in the wrong unit changes it by thousands, or by less in lines with little heater power than in
 * those with much. Every fault is tried, and the likeliest is named where it explains far more than none.
 * The die has few nodes for this, so that some thousand solves take a moment.
 * @module
 */
import { FieldError } from "../../units/errors.js";
import { formatQuantity } from "../../units/format.js";
import { z95 } from "../../units/spread.js";
import type { HeatedMount } from "./heated-mount.js";
import { likelyUnit, unitOf } from "./thermometry.js";

/** By what films differ from what was thought, as the logarithm of a factor: 3 either way in nine of ten. */
const ofFilms = Math.log(3) / z95;
/** Scatter of that between lines, since the path is not of one law. */
const ofLines = 0.5;
/** By what part of themselves readings may be off without anything being wrong with their column. */
const ofReadings = 0.02;
/** No line counts for more than this many standard deviations: it may be a glitch. */
const mostOff = 3;
/** Lines looked at, and how many of them count as independent of each other. */
const lines = { most: 9, independent: 6 };
/** Ratios of heat are followed as far as this, in steps, and up to so many times the temperature of the loads alone. */
const farthest = Math.log(1e10);
const step = Math.log(10);
const hottest = 20;
/** Twice the logarithm of how much likelier a fault must make the readings for a word, and for a refusal. */
const likelier = { told: 4, refused: 10 };

/** A column, or all of temperature, to be multiplied by a factor to be right. */
interface Fault {
  /** Name of a thermometer, `stage`, `power` or `all`. */
  readonly of: string;
  readonly factor: number;
  /** How unlikely it is before anything is read: twice the logarithm. */
  readonly cost: number;
}
const none: Fault = { of: "power", factor: 1, cost: 0 };
const thousands = [
  { factor: 1e-3, cost: 4 },
  { factor: 1e3, cost: 4 },
  { factor: 1e-6, cost: 6 },
  { factor: 1e6, cost: 6 },
  { factor: 1e-9, cost: 6 },
  { factor: 1e9, cost: 6 },
];
const decades = [0.01, 0.1, 10, 100].map((factor) => ({ factor, cost: 4 }));

/** The heat that a reading needs, over what powers and loads say. */
interface Ratio {
  readonly line: number;
  readonly thermometer: number;
  /** Logarithm of all the heat that the mount needs to be as warm as it was read [W]. */
  readonly needed: number;
  /** Standard deviation of this logarithm. */
  readonly uncertainty: number;
}

/**
 * What is doubtful about the columns of a file, in words; nothing where all is plausible.
 * @throws FieldError naming a column that can't be in its unit, with what is likely meant; or asking for the
 * column of the stage where readings say that it moved, or was colder than the mount has it
 */
export function doubtfulColumns(model: HeatedMount): readonly string[] {
  refuseMissingStage(model);
  const search = new Search(model);
  const asItIs = search.misfit(none);
  // No fault could be worth a word.
  if (asItIs <= likelier.told) return [];
  const tried = search.faults.map((fault) => ({ ...fault, misfit: search.misfit(fault) }));
  const least = tried.reduce((a, b) => (b.misfit + b.cost < a.misfit + a.cost ? b : a));
  const gain = asItIs - least.misfit;
  if (!(gain - least.cost > likelier.told)) return [];
  const isUnit = least.factor <= 1e-3 || least.factor >= 1e3;
  const { place, name, wanted, got, likely, column } = search.words(least);
  if (isUnit && gain > likelier.refused) {
    throw new FieldError(`${place} ${name}`, `${column} ${wanted}`, got, likely);
  }
  const by = Math.round(Math.max(least.factor, 1 / least.factor));
  const side = least.factor < 1 ? "too high" : "too low";
  return [
    `${column} looks ${by} times ${side}: at ${place} it is ${got}, expected ${wanted}. ` +
      "Is it in the wrong decade or unit, or does the mount start far from what was built?",
  ];
}

/** Readings against what a die of few nodes would be like. */
class Search {
  readonly #model: HeatedMount;
  readonly #mount: ReturnType<HeatedMount["estimate"]>;
  readonly #lines: readonly number[];
  /** Heat from which that of a reading is searched for: that of the loads, where there are any [W]. */
  readonly #anchor: number;
  readonly #kept = new Map<string, readonly Ratio[]>();

  constructor(model: HeatedMount) {
    this.#model = model;
    this.#mount = model.estimate();
    const { power, places } = model.data;
    const stage = (line: number) => model.stageAt(line) ?? 0;
    const sorted = places
      .map((_, line) => line)
      .sort((a, b) => stage(a) - stage(b) || power.values[a]! - power.values[b]!);
    const count = Math.min(lines.most, sorted.length);
    const last = sorted.length - 1;
    this.#lines = Array.from(
      { length: count },
      (_, i) => sorted[count > 1 ? Math.round((i * last) / (count - 1)) : 0]!,
    );
    this.#anchor = this.#mount.loads || 1e-12;
  }

  /** All that may be wrong with the columns that there are. */
  get faults(): readonly Fault[] {
    const { thermometers, stage } = this.#model;
    const names = thermometers
      .filter(({ readings }) => unitOf(readings.column, "K") !== undefined)
      .map(({ name }) => name);
    const temperatures = [
      ...names,
      ...(stage ? ["stage"] : []),
      ...(names.length + Number(stage !== undefined) > 1 ? ["all"] : []),
    ];
    return [
      ...[...thousands, ...decades].map((by) => ({ of: "power", ...by })),
      ...temperatures.flatMap((of) => thousands.map((by) => ({ of, ...by }))),
    ];
  }

  /** Twice the negative logarithm of how likely the readings are, but for a constant. */
  misfit({ of, factor }: Fault): number {
    const ofPower = of === "power" ? factor : 1;
    const ratios = this.#ratios(of === "power" ? none : { of, factor }).flatMap(
      ({ line, needed, uncertainty }) => {
        const stated = ofPower * this.#model.data.power.values[line]! + this.#mount.loads;
        return stated > 0 ? [{ off: needed - Math.log(stated), uncertainty }] : [];
      },
    );
    const share = Math.min(1, lines.independent / ratios.length);
    const at = (common: number) =>
      ratios.reduce(
        (sum, { off, uncertainty }) => {
          const z = (off - common) / uncertainty;
          return sum + share * Math.min(z * z, mostOff ** 2);
        },
        (common / ofFilms) ** 2,
      );
    return Math.min(at(0), ...ratios.map(({ off }) => at(off)));
  }

  /** What the readings need, with columns of temperature times a factor. */
  #ratios({ of, factor }: Pick<Fault, "of" | "factor">): readonly Ratio[] {
    const key = `${of} ${factor}`;
    const found = this.#kept.get(key);
    if (found) return found;
    const by = (name: string) => (of === "all" || of === name ? factor : 1);
    const ratios = this.#lines.flatMap((line) => {
      const held = this.#model.stageAt(line);
      const stage = held === undefined ? undefined : held * by("stage");
      const cold = stage ?? this.#mount.stage;
      return this.#model.thermometers.map(({ name, readings }, thermometer): Ratio => {
        const T = readings.values[line]! * by(name);
        const error = Math.max((readings.uncertainties?.[line] ?? 0) * by(name), ofReadings * T);
        // Of heat that goes as the difference of fourth powers, as through boundaries and most films.
        const slope = (4 * T ** 3) / Math.max(Math.abs(T ** 4 - cold ** 4), error * T ** 3);
        return {
          line,
          thermometer,
          needed: this.#needed(thermometer, T, stage),
          uncertainty: Math.hypot(ofLines, slope * error),
        };
      });
    });
    this.#kept.set(key, ratios);
    return ratios;
  }

  /** Logarithm of the heat, loads among it, with which a thermometer is at a temperature [W]. */
  #needed(thermometer: number, temperature: number, stage: number | undefined): number {
    const from = Math.log(this.#anchor);
    const at = (heat: number) =>
      this.#mount.temperature(Math.exp(heat), stage, thermometer) ?? Number.POSITIVE_INFINITY;
    const there = at(from);
    // So far off that it can't be meant; a mount that hot takes long to solve.
    if (temperature > hottest * there) return from + farthest;
    let [low, high] = [from, from];
    if (there > temperature) {
      while (at(low) > temperature) {
        [low, high] = [low - step, low];
        if (low < from - farthest) return low;
      }
    } else {
      while (at(high) <= temperature) [low, high] = [high, high + step];
    }
    for (let turn = 0; turn < 8; turn++) {
      const half = (low + high) / 2;
      if (at(half) > temperature) high = half;
      else low = half;
    }
    return (low + high) / 2;
  }

  /** A fault in words, at the line with the largest power. */
  words({ of, factor }: Fault) {
    const { data, thermometers, stage } = this.#model;
    const { power, places } = data;
    const line = this.#lines.reduce((a, b) => (power.values[b]! > power.values[a]! ? b : a));
    const place = places[line]!;
    const first = Math.max(
      0,
      thermometers.findIndex(({ name }) => name === of),
    );
    const { name, readings } = thermometers[first]!;
    const reading = `${name} at ${formatQuantity(readings.values[line]!, "K", 4)}`;
    if (of === "power") {
      const ratio = this.#ratios(none).find(
        (each) => each.line === line && each.thermometer === first,
      )!;
      const needed = Math.max(Math.exp(ratio.needed) - this.#mount.loads, 0);
      return {
        place,
        name: "heater power",
        column: power.column,
        wanted: `about ${formatQuantity(needed, "W", 2)}, which the mount as it starts needs for ${reading}`,
        got: formatQuantity(power.values[line]!, "W"),
        likely: likelyUnit(power.column, factor, "W"),
      };
    }
    const ofStage = of === "stage" ? stage! : undefined;
    const held = this.#model.stageAt(line);
    const given = held !== undefined && of === "all" ? held * factor : held;
    const heat = power.values[line]! + this.#mount.loads;
    const expected = this.#mount.temperature(heat, given, first);
    const about = expected === undefined ? "colder" : `about ${formatQuantity(expected, "K")}`;
    const column = ofStage ?? readings;
    return {
      place,
      name: ofStage ? "stage" : name,
      column: column.column,
      wanted: ofStage
        ? `just below ${reading}`
        : `${about}, which the mount as it starts gives with ${formatQuantity(power.values[line]!, "W")}`,
      got: formatQuantity(column.values[line]!, "K", 4),
      likely:
        likelyUnit(column.column, factor, "K") +
        (of === "all" ? ", in all columns of temperature" : ""),
    };
  }
}

/** @throws FieldError where no column holds the stage's temperature, and that was not the mount's */
function refuseMissingStage(model: HeatedMount): void {
  if (model.stage) return;
  const { data, thermometers } = model;
  const { power, places, file } = data;
  const held = model.estimate().stage;
  const fails = (why: string): never => {
    throw new FieldError(file, `a column stage [mK], since ${why}`, "none");
  };
  for (const { readings } of thermometers) {
    const { values, uncertainties, column } = readings;
    const kelvin = (line: number) => formatQuantity(values[line]!, "K", 4);
    const noise = (line: number) => Math.max(0.1 * values[line]!, 5 * (uncertainties?.[line] ?? 0));
    const cold = places.flatMap((_, line) => (values[line]! + noise(line) < held ? [line] : []));
    // One alone is a glitch.
    if (cold.length > 1) {
      const below = `below the mount's stage, ${formatQuantity(held, "K", 4)}`;
      fails(`${column} is ${kelvin(cold[0]!)} at ${places[cold[0]!]!}, ${below}`);
    }
    const alike = new Map<number, number[]>();
    places.forEach((_, line) => {
      const watts = power.values[line]!;
      alike.set(watts, [...(alike.get(watts) ?? []), line]);
    });
    const moved = [...alike].flatMap(([watts, same]) => {
      const [low, high] = [Math.min, Math.max].map((end) => {
        const at = end(...same.map((line) => values[line]!));
        return same.find((line) => values[line] === at)!;
      }) as [number, number];
      const most = noise(low) + noise(high);
      return values[high]! - values[low]! > most ? [{ watts, low, high }] : [];
    });
    if (moved.length > 1) {
      const { watts, low, high } = moved[0]!;
      const at = (line: number) => `${kelvin(line)} (${places[line]!})`;
      fails(`at ${formatQuantity(watts, "W")} ${column} is both ${at(low)} and ${at(high)}`);
    }
  }
}
