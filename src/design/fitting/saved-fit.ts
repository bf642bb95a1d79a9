/**
 * What was fitted, as text in the catalogue's columns, and back into a mount.
 * @module
 */
import { columns, readRows, sourceColumns } from "../../materials/table.js";
import { parseUncertainty } from "../../materials/uncertainty.js";
import type { Mount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import { FieldError, UnknownNameError } from "../../units/errors.js";
import { ninety, type Spread, spread } from "../../units/spread.js";
import { withField } from "../field.js";
import type { FittedParameter } from "./fit.js";

/** One row of the catalogue, as text. */
export type SavedRow = Readonly<Record<(typeof columns)[number], string>>;

/** Property and form of the rows that hold a mount's inputs. */
const form = "measured";

/** A date as the catalogue's source key has it. @throws FieldError */
export function measuredKey(date: string | undefined, field = "date"): string {
  const parts = typeof date === "string" ? /^(\d{4})-(\d{2})-(\d{2})$/.exec(date) : null;
  const valid = parts && !Number.isNaN(Date.parse(`${date}T00:00:00Z`));
  if (!valid) throw new FieldError(field, 'a date such as "2026-03-14"', date);
  return `measured-${date}`;
}

/** The row of the source, in the columns of data/sources.csv. */
export function sourcesCsv(date: string, note: string): string {
  const text = { key: measuredKey(date), title: `measured, ${date}`, note };
  const row = sourceColumns.map((name) => cell((text as Record<string, string>)[name] ?? ""));
  return `${sourceColumns.join(",")}\n${row.join(",")}\n`;
}

/** Rows under the catalogue's header. */
export function rowsCsv(rows: readonly SavedRow[], comment: string): string {
  const lines = rows.map((row) => columns.map((name) => cell(row[name])).join(","));
  return [`# ${comment.replace(/\s+/g, " ")}`, columns.join(","), ...lines, ""].join("\n");
}

function cell(text: string): string {
  return /[",\n#]|^\s|\s$/.test(text) ? `"${text.replace(/"/g, '""')}"` : text;
}

/** A number with all its digits. */
export function digits(value: number): string {
  return String(Number(value.toPrecision(12)));
}

/** Half the 90 % interval as the catalogue writes it: `x1.12`, or in the unit. */
export function uncertaintyText({ uncertainty, logarithmic }: FittedParameter): string {
  return logarithmic
    ? `x${Number(Math.exp(ninety * uncertainty).toPrecision(8))}`
    : digits(ninety * uncertainty);
}

/** Fitted inputs of a mount as rows of the catalogue: the property is the field. */
export function inputRows(
  parameters: readonly FittedParameter[],
  at: {
    readonly date: string;
    readonly file: string;
    readonly mount: string;
    readonly from: number;
    readonly to: number;
    note(parameter: FittedParameter): string;
  },
): readonly SavedRow[] {
  return parameters.map((parameter) => ({
    property: parameter.name,
    form,
    valid_from: digits(Number(at.from.toPrecision(4))),
    valid_to: digits(Number(at.to.toPrecision(4))),
    parameter: "value",
    value: digits(parameter.value),
    unit: parameter.unit,
    uncertainty: uncertaintyText(parameter),
    sample: at.mount,
    source: measuredKey(at.date),
    where: at.file,
    note: at.note(parameter),
  }));
}

/** The spread of a fitted parameter: log-normal for a logarithm, normal otherwise. */
export function spreadOf({ low, high, logarithmic }: FittedParameter): Spread<number> {
  return spread(low, high, { distribution: logarithmic ? "log-normal" : "normal" });
}

/**
 * The mount with the inputs of a saved fit in place of its own, each with its spread.
 * @param csv - what `MountFit.toCsv` gave
 * @param file - its name, for errors
 * @throws FieldError naming file, line and column, or the field of the mount
 */
export function withMeasured(mount: Mount, csv: string, file = "fit.csv"): Mount {
  const rows = readRows(file, csv).filter((row) => row.form === form);
  if (rows.length === 0) throw new FieldError(file, `rows of the form ${form}`, "none");
  return rows.reduce((changed, { place, property, value, uncertainty }) => {
    const stated = parseUncertainty(uncertainty);
    if (!stated) throw new FieldError(`${place} uncertainty`, "an uncertainty", uncertainty);
    const half =
      stated.kind === "relative"
        ? Math.abs(value) * stated.share
        : stated.kind === "absolute"
          ? stated.amount
          : undefined;
    const inside =
      half === undefined && stated.kind === "factor"
        ? spread(value / stated.factor, value * stated.factor)
        : spread(value - half!, value + half!, { distribution: "normal" });
    try {
      const next = withField(changed, property, inside);
      readMount(next);
      return next;
    } catch (error) {
      if (error instanceof FieldError) {
        throw new FieldError(`${place} ${error.field}`, error.wanted, error.value);
      }
      if (!(error instanceof UnknownNameError)) throw error;
      throw new UnknownNameError(`${place} ${error.field}`, error.kind, error.value, error.known);
    }
  }, mount);
}
