/**
 * What was measured after cool-down: heater power against thermometer readings, from a CSV text.
 * @module
 */
import { readColumnNames, readNumberTable } from "../../materials/number-table.js";
import { FieldError } from "../../units/errors.js";
import { unitFactor } from "../../units/quantity.js";

/** One column: a number a line, and how sure each is. */
export interface Readings {
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

/** Name of the column of the heat put in. */
const powerName = "heater power";
const uncertain = / uncertainty$/;

/**
 * Reads a CSV text whose first line names the columns with their units, in any order:
 *
 *     heater power [nW],die [mK],die uncertainty [mK],stage [mK],stage uncertainty [mK]
 *
 * Every column in a unit of temperature is a thermometer, called as the mount's places are or as the fit
 * is told; a column of the same name with `uncertainty` behind it holds the standard uncertainty of each
 * reading, that is one standard deviation. Columns in other units are left alone, lines that start with
 * # are comments.
 * @param csv - the text, not its path
 * @param file - its name, for errors
 * @throws FieldError naming file, line and column: a missing or double column, a number that is none, a
 * temperature or an uncertainty that is not above 0
 */
export function readThermometry(csv: string, file = "measurements.csv"): Thermometry {
  const columns = readColumnNames(csv, file);
  const temperatures = columns
    .filter(({ unit }) => unit !== undefined && unitFactor(unit, "K") !== undefined)
    .map(({ name }) => name);
  const names = temperatures.filter((name) => !uncertain.test(name));
  const header = columns
    .map(({ name, unit }) => (unit === undefined ? name : `${name} [${unit}]`))
    .join(",");
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
    return Float64Array.from(rows, ({ values, place }) => {
      const value = values[at]!;
      if (value > 0 || (value === 0 && name === powerName)) return value;
      const what = uncertain.test(name) ? "an uncertainty" : "a temperature";
      const wanted = name === powerName ? "a power, 0 or more" : `${what} greater than 0`;
      throw new FieldError(`${place} ${name}`, wanted, value);
    });
  };
  const readings = (name: string): Readings => {
    const uncertainties = column(`${name} uncertainty`);
    return { values: column(name)!, ...(uncertainties && { uncertainties }) };
  };
  return {
    file,
    power: readings(powerName),
    thermometers: new Map(names.map((name) => [name, readings(name)])),
    places: rows.map(({ place }) => place),
  };
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
