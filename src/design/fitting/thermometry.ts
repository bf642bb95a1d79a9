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
import { FieldError } from "../../units/errors.js";
import { formatQuantity } from "../../units/format.js";
import { unitFactor } from "../../units/quantity.js";

/** One column: a number a line, and how sure each is. */
export interface Readings {
  /** Head of the column as it was written: `die [mK]`. */
  readonly column: string;
  /** What was read, line by line [W] or [K]. */
  readonly values: Float64Array;
  /** Standard uncertainty of each by itself, in the same unit; absent where the file states none. */
  readonly uncertainties?: Float64Array;
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
 * reading, that is one standard deviation. Columns in other units are left alone, and so are texts, and
 * numbers that are no readings under empty brackets, `line []`. Lines that start with # are comments.
 * @param csv - the text, not its path
 * @param file - its name, for errors
 * @throws FieldError naming file, line and column: a missing or double column, one whose unit is missing or
 * unknown, a number that is none, a temperature or an uncertainty that is not above 0, a temperature above
 * that of a room, one below the stage with the heater on
 */
export function readThermometry(csv: string, file = "measurements.csv"): Thermometry {
  const columns = readColumnNames(csv, file);
  refuseUnits(csv, file, columns);
  const temperatures = columns
    .filter(({ unit }) => unit !== undefined && unitFactor(unit, "K") !== undefined)
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
    ...temperatures.map((name) => ({ name, unit: "K" })),
    ...powers.map(({ name }) => ({ name, unit: "W" })),
  ];
  const rows = readNumberTable(csv, file, read);
  const column = (name: string): Float64Array | undefined => {
    const at = read.findIndex((each) => each.name === name);
    if (at < 0) return undefined;
    return Float64Array.from(rows, ({ values, written, place }) => {
      const value = values[at]!;
      const isReading = !uncertain.test(name) && name !== powerName;
      if (isReading && value > warmest) {
        const wanted = `a temperature up to ${warmest} K, that of a room (is the column's unit right?)`;
        throw new FieldError(`${place} ${name}`, wanted, written[at]);
      }
      if (value > 0 || (value === 0 && name === powerName)) return value;
      const what = isReading ? "a temperature" : "an uncertainty";
      const wanted = name === powerName ? "a power, 0 or more" : `${what} greater than 0`;
      throw new FieldError(`${place} ${name}`, wanted, written[at]);
    });
  };
  const readings = (name: string): Readings => {
    const uncertainties = column(`${name} uncertainty`);
    const own = columns.find((each) => each.name === name);
    return {
      column: own ? head(own) : name,
      values: column(name)!,
      ...(uncertainties && { uncertainties }),
    };
  };
  const data: Thermometry = {
    file,
    power: readings(powerName),
    thermometers: new Map(names.map((name) => [name, readings(name)])),
    places: rows.map(({ place }) => place),
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
      throw new FieldError(`${places[i]!} ${name}`, wanted, formatQuantity(value, "K", 4));
    });
  }
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
