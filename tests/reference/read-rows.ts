/**
 * Published values, read from their files.
 *
 * A file tests/reference/NAME.csv has the columns quantity, inputs, value, unit, tolerance, source,
 * where, obtained. Inputs read `material=gold; temperature=0.1 K`. The tolerance is written `2 %` (of
 * the value), `0.0005` (in the row's unit) or `x2` (a factor either way). Obtained is one of `origins`.
 */
import { readFileSync } from "node:fs";
import { readRecords, siSpelling } from "../../src/materials/table.js";
import { parseUncertainty, type Uncertainty } from "../../src/materials/uncertainty.js";
import { FieldError } from "../../src/units/errors.js";
import { type Dimension, toSI, unitFactor } from "../../src/units/quantity.js";

const columns = [
  "quantity",
  "inputs",
  "value",
  "unit",
  "tolerance",
  "source",
  "where",
  "obtained",
] as const;

/** How a value came into the file, from the best to the weakest. */
export const origins = [
  "read in the publication",
  "read in a copy that cites it",
  "computed from the formula",
  "from memory",
] as const;

/** Inputs of one row. */
export interface Inputs {
  /** @throws FieldError when the row has no such input */
  text(name: string): string;
  /** undefined when the row has no such input */
  optional(name: string): string | undefined;
  number(name: string): number;
  /** A quantity in SI. */
  quantity(name: string, dimension: Dimension): number;
}

/** One row, its value and tolerance in SI. */
export interface ReferenceRow {
  readonly place: string;
  readonly quantity: string;
  readonly inputs: Inputs;
  readonly inputsText: string;
  readonly value: number;
  readonly unit: string;
  readonly tolerance: Uncertainty;
  readonly source: string;
}

/** Rows of a file in this folder. */
export function readReference(file: string): ReferenceRow[] {
  const csv = readFileSync(new URL(file, import.meta.url), "utf8");
  return readRecords(file, csv, columns).map((text) => {
    const { place } = text;
    const field = (column: (typeof columns)[number]) => text[column];
    for (const column of ["quantity", "value", "tolerance", "source", "where"] as const) {
      if (field(column) === "") throw new FieldError(`${place} ${column}`, "a text", "");
    }
    if (!(origins as readonly string[]).includes(field("obtained"))) {
      throw new FieldError(`${place} obtained`, `one of ${origins.join(", ")}`, field("obtained"));
    }
    const unit = siSpelling(field("unit"));
    const factor = unit === undefined ? undefined : unitFactor(field("unit"), unit);
    if (unit === undefined || factor === undefined) {
      throw new FieldError(`${place} unit`, "a unit or nothing", field("unit"));
    }
    const value = Number(field("value"));
    if (!Number.isFinite(value)) {
      throw new FieldError(`${place} value`, "a number", field("value"));
    }
    const tolerance = parseUncertainty(field("tolerance"))!;
    return {
      place,
      quantity: field("quantity"),
      inputs: readInputs(place, field("inputs")),
      inputsText: field("inputs"),
      value: value * factor,
      unit,
      tolerance:
        tolerance.kind === "absolute"
          ? { ...tolerance, amount: tolerance.amount * factor }
          : tolerance,
      source: `${field("source")}, ${field("where")}`,
    };
  });
}

function readInputs(place: string, text: string): Inputs {
  const pairs = text.split(";").map((pair) => pair.split("=").map((part) => part.trim()));
  const map = new Map(pairs.filter((pair) => pair.length === 2) as [string, string][]);
  const get = (name: string) => {
    const found = map.get(name);
    if (found === undefined) throw new FieldError(`${place} inputs`, `an input ${name}`, text);
    return found;
  };
  return {
    text: get,
    optional: (name) => map.get(name),
    number(name) {
      const value = Number(get(name));
      if (Number.isFinite(value)) return value;
      throw new FieldError(`${place} inputs`, `a number for ${name}`, get(name));
    },
    quantity: (name, dimension) => toSI(`${place} ${name}`, get(name), dimension),
  };
}

/** Whether a computed value lies within a row's tolerance. */
export function agrees({ value, tolerance }: ReferenceRow, computed: number): boolean {
  if (tolerance.kind === "absolute") return Math.abs(computed - value) <= tolerance.amount;
  if (tolerance.kind === "relative") {
    return Math.abs(computed - value) <= tolerance.share * Math.abs(value);
  }
  const ratio = computed / value;
  return ratio > 0 && Math.max(ratio, 1 / ratio) <= tolerance.factor;
}

/** Decimal digits that agree: 3 when they differ by a part in a thousand; 15 at most. */
export function digitsAgreed(value: number, computed: number): number {
  const difference = value === 0 ? Math.abs(computed) : Math.abs(computed / value - 1);
  return Math.min(15, Math.max(0, -Math.log10(difference)));
}
