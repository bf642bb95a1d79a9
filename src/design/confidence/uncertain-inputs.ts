/**
 * What of a mount is not known exactly: its spreads, and the rows of the catalogue that it uses; and how
 * these inputs are called and found.
 * @module
 */
import type { Catalogue, VariedRow } from "../../materials/types.js";
import type { Mount, PlainMount } from "../../mount/mount.js";
import { readMount, spreadsOf } from "../../mount/read.js";
import { sourceNames } from "../../mount/things/load.js";
import { FieldError } from "../../units/errors.js";
import { type Distribution, logNormal } from "../../units/spread.js";
import { replaced, withField } from "../field.js";

/** One thing that is not known exactly. */
export interface UncertainInput {
  /**
   * In words, and different from those of all others: the field of the mount, `pads: thickness`, or the
   * quantity of the catalogue, `gold: electron-phonon coupling, coefficient`.
   */
  readonly name: string;
  /** Path of the field, when it is one of the mount. */
  readonly field?: string;
  /** Key of the row, when it is one of the catalogue: `materials/gold.csv:5`. */
  readonly row?: string;
  /** SI unit; empty for a pure number. */
  readonly unit: string;
  /** In the unit; as many values lie below as above. */
  readonly median: number;
  /** Lower end of the middle 90 %, in the unit. */
  readonly low: number;
  /** Upper end of the middle 90 %, in the unit. */
  readonly high: number;
  /** The value that a share u of all values lies below, 0 < u < 1. */
  quantile(u: number): number;
  /** Of a pure number that acts by how far it is above a bound: the bound. */
  readonly above?: number;
  /** `given`, or author, title, journal and year of the row. */
  readonly source: string;
}

/** A mount in SI and a catalogue, with each input at a value. */
export interface Sample {
  readonly mount: PlainMount;
  readonly catalogue: Catalogue;
}

/** Which input it is, whatever the model of the die. */
export function inputKey({ field, row }: UncertainInput): string {
  return field ?? row!;
}

/** Puts values in the place of inputs. */
export class Inputs {
  constructor(
    readonly list: readonly UncertainInput[],
    readonly mount: PlainMount,
    readonly catalogue: Catalogue,
  ) {}

  get medians(): Float64Array {
    return Float64Array.from(this.list, ({ median }) => median);
  }

  at(values: Float64Array): Sample {
    return this.moving(this.list.keys())(values);
  }

  /** Makes samples in which only some inputs are moved. */
  moving(some: Iterable<number>): (values: Float64Array) => Sample {
    const inputs = Array.from(some, (index) => ({ index, ...this.list[index]! }));
    const fields = inputs.flatMap(({ index, field }) =>
      field === undefined ? [] : [{ index, keys: field.split(".") }],
    );
    const rows = inputs.flatMap(({ index, row, median }) =>
      row === undefined ? [] : [{ index, row, median }],
    );
    return (values) => {
      let { mount, catalogue } = this;
      for (const { index, keys } of fields) {
        mount = replaced(mount, keys, values[index]!) as PlainMount;
      }
      const factors = new Map<string, number>();
      for (const { index, row, median } of rows) {
        const factor = values[index]! / median;
        if (factor !== 1) factors.set(row, factor);
      }
      if (factors.size > 0) catalogue = catalogue.withFactors(factors);
      return { mount, catalogue };
    };
  }
}

/**
 * A value as formulas see it.
 * @param above - by the logarithm of how far it is above this; as it is where this is not a number
 */
export function toSeen(value: number, above: number): number {
  return above >= 0 ? Math.log(value - above) : value;
}

/** The value that formulas see so. */
export function fromSeen(seen: number, above: number): number {
  return above >= 0 ? above + Math.exp(seen) : seen;
}

/** Shares of all values that the formulas of a compiled mount leave out, either way. */
export const tail = 3e-6;

/**
 * Temperatures between which a held node lies for what the inputs are.
 * @param temperature - of the node in a mount [K]
 */
export function heldExtent(
  { list, mount }: Inputs,
  temperature: (mount: PlainMount) => number,
): readonly [low: number, high: number] {
  const extremes = list.flatMap(({ field, quantile }) => {
    const keys = field?.split(".");
    const at = (u: number) => temperature(replaced(mount, keys!, quantile(u)) as PlainMount);
    return keys ? [at(tail), at(1 - tail)] : [];
  });
  extremes.push(temperature(mount));
  return [Math.min(...extremes), Math.max(...extremes)];
}

/**
 * The spreads of a mount as inputs, cut off where the mount refuses a value.
 * @param accepts - whether what depends on the field can be built; throws a FieldError where not
 * @throws FieldError for a spread of which more than a tenth is refused
 */
export function fieldInputs(mount: Mount, accepts: (mount: PlainMount) => void): UncertainInput[] {
  const plain = readMount(mount);
  return spreadsOf(mount).map(({ field, unit, distribution, above }) => {
    const takes = (value: number) => {
      try {
        accepts(readMount(withField(mount, field, value)));
        return true;
      } catch (error) {
        if (error instanceof FieldError) return false;
        throw error;
      }
    };
    const quantile = cutOff(field, distribution, takes);
    const whole = quantile === distribution.quantile;
    return {
      name: nameOfField(field, plain),
      field,
      unit,
      median: distribution.median,
      low: whole ? distribution.low : quantile(0.05),
      high: whole ? distribution.high : quantile(0.95),
      quantile,
      ...(above !== undefined && { above }),
      source: "given",
    };
  });
}

/** The shares of all values that lie next to the ends of what is sampled. */
const [least, most] = [2 ** -33, 1 - 2 ** -33];

/** Quantiles without the values that the field refuses. */
function cutOff(
  field: string,
  { quantile }: Distribution,
  takes: (value: number) => boolean,
): (u: number) => number {
  const bound = (outer: number) => {
    if (takes(quantile(outer))) return outer;
    let [inside, outside] = [0.5, outer];
    for (let step = 0; step < 30; step++) {
      const middle = (inside + outside) / 2;
      if (takes(quantile(middle))) inside = middle;
      else outside = middle;
    }
    return inside;
  };
  const [from, to] = [bound(least), bound(most)];
  if (from === least && to === most) return quantile;
  if (to - from < 0.9) {
    const wanted = "a spread of which the field takes nine tenths or more";
    throw new FieldError(field, wanted, `one of which it takes ${Math.round(100 * (to - from))} %`);
  }
  return (u) => quantile(from + u * (to - from));
}

/** A row of the catalogue as an input: log-normal within its factor. */
export function rowInput({
  key,
  quantity,
  value,
  unit,
  factor,
  source,
}: VariedRow): UncertainInput {
  const law = logNormal(1 / factor, factor);
  const ends = [value / factor, value * factor];
  return {
    name: quantity,
    row: key,
    unit,
    median: value,
    low: Math.min(...ends),
    high: Math.max(...ends),
    quantile: value > 0 ? (u) => value * law.quantile(u) : (u) => value * law.quantile(1 - u),
    source,
  };
}

/** What an input may be called by. */
export type Named = Pick<UncertainInput, "name" | "field" | "row">;

/** A field in words, by its part or load and its own name: `pads: thickness`, `infrared leak: power`. */
export function nameOfField(field: string, { loads }: PlainMount): string {
  const words = (key: string) =>
    /^\d+$/.test(key)
      ? `${Number(key) + 1}`
      : key.replace(/([A-Z])/g, (letter) => ` ${letter.toLowerCase()}`);
  const [first, ...rest] = field.split(".");
  if (rest.length === 0) return words(first!);
  const [of, ...own] =
    first === "loads"
      ? [sourceNames(loads)[Number(rest[0])]!, ...rest.slice(1)]
      : [words(first!), ...rest];
  return `${of}: ${own.map(words).join(", ")}`;
}

/** Inputs of the same name, such as rows of two ranges, with the key or path of each behind it. */
export function withOwnNames<Input extends Named>(inputs: readonly Input[]): Input[] {
  const often = new Map<string, number>();
  for (const { name } of inputs) often.set(name, (often.get(name) ?? 0) + 1);
  return inputs.map((input) =>
    often.get(input.name) === 1
      ? input
      : { ...input, name: `${input.name} (${input.row ?? input.field})` },
  );
}

/**
 * The input of a name, a field or a row.
 * @param asked - who asks, for the error
 * @throws FieldError for what no input is called by
 */
export function inputNamed<Input extends Named>(
  inputs: readonly Input[],
  name: string,
  asked: string,
): Input {
  const found = inputs.find((input) => [input.name, input.field, input.row].includes(name));
  if (found) return found;
  const names = inputs.map((input) => JSON.stringify(input.name)).join(", ");
  throw new FieldError(asked, `the name of an input: ${names}`, name);
}
