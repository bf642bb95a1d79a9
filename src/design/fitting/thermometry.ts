/**
 * What was measured after cool-down: heater power against thermometer readings, from a CSV text.
 * @module
 */
import {
  readColumnNames,
  readNumberTable,
  unitError,
  type WrittenColumn,
} from "../../materials/number-table.js";
import { readLines } from "../../materials/table.js";
import { FieldError, UnknownNameError } from "../../units/errors.js";
import { formatNumber, formatQuantity } from "../../units/format.js";
import { type Temperature, unitFactor } from "../../units/quantity.js";
import type { ColumnScale } from "./column-scale.js";
import { readScale, type ThermometerScale } from "./thermometer-scale.js";

/** One column: a number a line, and how sure each is. */
export interface Readings {
  /** Head of the column as it was written: `die [mK]`. */
  readonly column: string;
  /** What was read, line by line [W] or [K]. */
  readonly values: Float64Array;
  /** Standard uncertainty of each by itself, in the same unit; absent where the file states none. */
  readonly uncertainties?: Float64Array;
  /** Heat that a resistance thermometer brings to its place, line by line [W]; none when absent. */
  readonly heats?: Float64Array;
}

/** An error that the readings of some thermometers share, as from one calibration. */
export interface SharedError {
  /** Their columns; `stage` may be one of them. */
  readonly thermometers: readonly string[];
  /** Standard uncertainty of the scale: readings are (1 + gain) times too high; 0 when absent. */
  readonly gain?: number;
  /** Standard uncertainty of what is added to the readings [K]; 0 when absent. */
  readonly offset?: Temperature;
}

/** Lines of heater power and temperatures. */
export interface Thermometry {
  /** Name of the file, for errors and for provenance. */
  readonly file: string;
  /** Heater power [W]. */
  readonly power: Readings;
  /** By the name of the column: what the thermometers at several places said [K]. */
  readonly thermometers: ReadonlyMap<string, Readings>;
  /** File and line of each, `cooldown.csv:12`. */
  readonly places: readonly string[];
  /** Errors of the scales that columns were turned into temperatures by, for all their lines alike. */
  readonly sharedErrors?: readonly SharedError[];
  /** Where a scale is at the end of what it is good for. */
  readonly warnings?: readonly string[];
}

/** How columns are to be read. */
export interface ThermometryOptions {
  /** What turns a column that holds no temperature into one, by the column's name. */
  readonly scales?: Readonly<Record<string, ThermometerScale>>;
}

/** Name of the column of the heater power. */
const powerName = "heater power";
const uncertain = / uncertainty$/;

/**
 * Reads a CSV text whose first line names the columns with their units, in any order:
 *
 *     heater power [nW],die [mK],die uncertainty [mK],stage [mK],stage uncertainty [mK]
 *
 * Every column in a unit of temperature is a thermometer, called as the mount's places are or as the fit
 * is told; a column of the same name with `uncertainty` behind it holds the standard uncertainty of each
 * reading, that is one standard deviation. A column in ohms, in hertz or of quality factors is one, too, where
 * `scales` says how it is turned into a temperature. Columns in other units are left alone, and so are texts,
 * and numbers that are no readings under empty brackets, `line []`. Lines that start with # are comments.
 * @param csv - the text, not its path
 * @param file - its name, for errors
 * @throws FieldError naming file, line and column: a missing or double column, one whose unit is missing or
 * unknown, a number that is none, a temperature or an uncertainty that is not above 0, a temperature above
 * that of a room, one below the stage with the heater on, an uncertainty larger than what was read, a reading
 * outside of its scale; UnknownNameError for a scale without a column
 */
export function readThermometry(
  csv: string,
  file = "measurements.csv",
  options: ThermometryOptions = {},
): Thermometry {
  const columns = readColumnNames(csv, file);
  refuseUnits(csv, file, columns);
  const scales = new Map<string, ColumnScale>();
  for (const [name, scale] of Object.entries(options.scales ?? {})) {
    const known = columns.map((column) => column.name);
    if (!known.includes(name)) throw new UnknownNameError("scales", "column", name, known);
    scales.set(name, readScale(scale, `scales.${name}`));
  }
  const isScaled = (name: string) => scales.has(base(name));
  const temperatures = columns
    .filter(
      ({ name, unit }) =>
        isScaled(name) || (unit !== undefined && unitFactor(unit, "K") !== undefined),
    )
    .map(({ name }) => name);
  const names = temperatures.filter((name) => !uncertain.test(name));
  const header = columns.map(head).join(",");
  if (names.length === 0) {
    const wanted = `a column ${powerName} [W], and thermometers such as die [mK]`;
    throw new FieldError(file, wanted, header);
  }
  const alone = temperatures.find((name) => uncertain.test(name) && !names.includes(base(name)));
  if (alone !== undefined) {
    throw new FieldError(`${file} ${alone}`, `a column ${base(alone)} that it belongs to`, header);
  }
  const powers = columns.filter(({ name }) => name === `${powerName} uncertainty`);
  const read = [
    { name: powerName, unit: "W" },
    ...temperatures.map((name) => ({ name, unit: scales.get(base(name))?.unit ?? "K" })),
    ...powers.map(({ name }) => ({ name, unit: "W" })),
  ];
  const rows = readNumberTable(csv, file, read);
  const headOf = (name: string) => {
    const own = columns.find((each) => each.name === name);
    return own ? head(own) : name;
  };
  const indexOf = (name: string) => read.findIndex((each) => each.name === name);
  const column = (name: string): Float64Array | undefined => {
    const at = indexOf(name);
    if (at < 0) return undefined;
    return Float64Array.from(rows, ({ values, written, place }) => {
      const value = values[at]!;
      const isReading = !uncertain.test(name) && name !== powerName;
      if (isReading && !isScaled(name) && value > warmest) {
        const wanted = `a temperature up to ${warmest} K, that of a room (is the column's unit right?)`;
        const likely = value > 1e3 * warmest ? "" : likelyUnit(headOf(name), 1e-3, "K");
        throw new FieldError(`${place} ${name}`, wanted, written[at], likely);
      }
      if (value > 0 || (value === 0 && name === powerName)) return value;
      const what = isReading ? "a temperature" : "an uncertainty";
      const ofScale = isReading ? scales.get(name)?.words : undefined;
      const wanted =
        name === powerName ? "a power, 0 or more" : (ofScale ?? `${what} greater than 0`);
      throw new FieldError(`${place} ${name}`, wanted, written[at]);
    });
  };
  const sharedErrors: SharedError[] = [];
  const warnings: string[] = [];
  const readings = (name: string): Readings => {
    const [values, uncertainties] = [column(name)!, column(`${name} uncertainty`)];
    refuseUncertainties(name, values, uncertainties);
    const scale = scales.get(name);
    const own = { column: headOf(name) };
    if (!scale) return { ...own, values, ...(uncertainties && { uncertainties }) };
    const at = indexOf(name);
    const scaled = scale.convert(
      values,
      rows.map(({ place, written }) => ({ field: `${place} ${name}`, written: written[at]! })),
    );
    sharedErrors.push(...scaled.errors.map((error) => ({ thermometers: [name], ...error })));
    warnings.push(...scaled.warnings.map((text) => `${file}: ${text}`));
    return {
      ...own,
      values: scaled.temperatures,
      ...(uncertainties && {
        uncertainties: uncertainties.map((u, i) => u * Math.abs(scaled.slopes[i]!)),
      }),
      ...(scaled.heats && { heats: scaled.heats }),
    };
  };
  /** An uncertainty as large as what was read is one in another unit. */
  const refuseUncertainties = (
    name: string,
    values: Float64Array,
    uncertainties: Float64Array | undefined,
  ) => {
    // A small power may be known to its own size; the largest one is not.
    const most = name === powerName ? Math.max(...values) : 0;
    const isLarge = (u: number, i: number) => values[i]! > 0 && u >= Math.max(values[i]!, most);
    const large = uncertainties?.findIndex(isLarge) ?? -1;
    if (large < 0) return;
    const column = `${name} uncertainty`;
    const at = indexOf(column);
    const si = read[at]!.unit;
    const reading = formatQuantity(values[large]!, si, 4);
    const likely = si === "K" || si === "W" ? likelyUnit(headOf(column), 1e-3, si) : "";
    const { place, written } = rows[large]!;
    const wanted = `an uncertainty below what was read, ${reading}`;
    throw new FieldError(`${place} ${column}`, wanted, written[at], likely);
  };
  const data: Thermometry = {
    file,
    power: readings(powerName),
    thermometers: new Map(names.map((name) => [name, readings(name)])),
    places: rows.map(({ place }) => place),
    ...(sharedErrors.length > 0 && { sharedErrors }),
    ...(warnings.length > 0 && { warnings }),
  };
  refuseCold(data);
  return data;
}

/** A room's temperature on a hot day [K]: no reading of a cooled mount lies above. */
const warmest = 310;

function head({ name, unit }: WrittenColumn): string {
  return unit === undefined ? name : `${name} [${unit}]`;
}

/** @throws FieldError for numbers without a unit, and for a unit that is none or has a number in it */
function refuseUnits(csv: string, file: string, columns: readonly WrittenColumn[]): void {
  const [header, ...lines] = readLines(file, csv);
  columns.forEach(({ name, unit }, i) => {
    const ours = name.startsWith(powerName);
    const si = ours ? "W" : "K";
    if (unit === undefined) {
      const isNumber = lines.some(({ record }) => /^[-+.]?\d/.test(record[i] ?? ""));
      if (!ours && !isNumber) return;
      const wanted = `a unit such as [${si}]${ours ? "" : ", or [] where the numbers are no readings"}`;
      throw new FieldError(`${header!.place} ${name}`, wanted, "none");
    }
    if (unit === "" ? ours : unitFactor(unit, unit) === undefined) {
      throw unitError(`${header!.place} ${name}`, si, unit);
    }
  });
}

/** @throws FieldError where a thermometer is colder than the stage, with the heater on, by more than noise */
function refuseCold({ power, thermometers, places }: Thermometry): void {
  const stage = thermometers.get("stage");
  if (!stage) return;
  for (const [name, { column, values, uncertainties }] of thermometers) {
    values.forEach((value, i) => {
      const at = stage.values[i]!;
      const noise = 5 * Math.hypot(uncertainties?.[i] ?? 0, stage.uncertainties?.[i] ?? 0);
      if (!(power.values[i]! > 0) || value >= 0.9 * at - noise) return;
      const wanted =
        `${column} no colder than ${stage.column} with the heater on, ${formatQuantity(at, "K", 4)} ` +
        "(is the unit of both columns right?)";
      // Of the two columns that which is farther from where detectors work.
      const [wrong, factor] = at > 3 ? [stage.column, 1e-3] : [column, 1e3];
      const isUnit = value < 3e-2 * at && unitOf(wrong, "K") !== undefined;
      const likely = isUnit ? `for ${wrong} ${likelyUnit(wrong, factor, "K")}` : "";
      throw new FieldError(`${places[i]!} ${name}`, wanted, formatQuantity(value, "K", 4), likely);
    });
  }
}

const units = {
  K: ["K", "mK", "uK", "nK"],
  W: ["W", "mW", "uW", "nW", "pW", "fW"],
} as const;

/** Size of the unit in the head of a column; undefined where it is not of this kind. */
export function unitOf(column: string, si: keyof typeof units): number | undefined {
  const unit = /\[([^\]]*)\]$/.exec(column)?.[1];
  return unit === undefined ? undefined : unitFactor(unit, si);
}

/** `likely [mK] is meant`. @param factor - that the numbers under the head are to be multiplied by */
export function likelyUnit(column: string, factor: number, si: keyof typeof units): string {
  const wanted = (unitOf(column, si) ?? 1) * factor;
  const found = units[si].find((unit) => Math.abs(unitFactor(unit, si)! / wanted - 1) < 1e-6);
  return found
    ? `likely [${found}] is meant`
    : `likely ${formatNumber(factor)} times that is meant`;
}

function base(name: string): string {
  return name.replace(uncertain, "");
}

/** The thermometer of a name. @throws FieldError listing those there are */
export function thermometer(data: Thermometry, name: string, field: string): Readings {
  const found = data.thermometers.get(name);
  if (found) return found;
  const names = [...data.thermometers.keys()].join(", ");
  throw new FieldError(field, `a thermometer of ${data.file}: ${names}`, name);
}
