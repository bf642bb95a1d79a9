/**
 * What was fitted, as text in the catalogue's columns, and back into a mount.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import { columns, type Row, readRows, sourceColumns } from "../../materials/table.js";
import { parseUncertainty, type Uncertainty } from "../../materials/uncertainty.js";
import type { Mount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import { type Correlation, withCorrelations } from "../../mount/things/correlations.js";
import { FieldError, UnknownNameError } from "../../units/errors.js";
import { longestText } from "../../units/quantity.js";
import { spread, z95 } from "../../units/spread.js";
import { csvLine } from "../../units/table.js";
import { withField } from "../field.js";
import { withCatalogueFields } from "./catalogue-fields.js";
import type { FittedParameter } from "./fit.js";

/** One row of the catalogue, as text. */
export type SavedRow = Readonly<Record<(typeof columns)[number], string>>;

/** Form of the rows that hold a mount's inputs. */
export const form = "measured";

/** Begins the parameter of a row that tells how an input varies with another. */
export const correlationWith = "correlation with ";

/** Why inputs of a fit vary together. */
export const fittedTo = (file: string) => `fitted together to ${file}`.slice(0, longestText);

/** A date as the catalogue's source key has it. @throws FieldError */
export function measuredKey(date: string | undefined): string {
  const parts = typeof date === "string" ? /^(\d{4})-(\d{2})-(\d{2})$/.exec(date) : null;
  const valid = parts && !Number.isNaN(Date.parse(`${date}T00:00:00Z`));
  if (!valid) throw new FieldError("date", 'a date such as "2026-03-14"', date);
  return `measured-${date}`;
}

/** A fit as two texts, for `catalogue.withLaws` or `catalogue.withMaterial`. */
export interface SavedFit {
  /** The fitted numbers, in the catalogue's columns. */
  readonly csv: string;
  /** Their source, in the columns of data/sources.csv. */
  readonly sources: string;
}

/**
 * Rows under the catalogue's header, and the row of their source.
 * @param fit - `what` was fitted, in words
 * @throws FieldError without a date
 */
export function savedFit(
  fit: { readonly what: string; readonly file: string; readonly date: string | undefined },
  { from, to }: { readonly from: number; readonly to: number },
  rows: readonly Partial<SavedRow>[],
): SavedFit {
  const { what, file, date } = fit;
  const source = measuredKey(date);
  const all = { valid_from: digits(from), valid_to: digits(to), source, where: file };
  const text = { key: source, title: `measured, ${date}`, note: `fit to ${file}` };
  const comment = `${what} fitted by coldpath to ${file}.`;
  const lines = rows.map((row) => ({ ...all, ...row }));
  return {
    csv: `# ${comment.replace(/\s+/g, " ")}\n${table(columns, lines)}`,
    sources: table(sourceColumns, [text]),
  };
}

function table<Column extends string>(
  columns: readonly Column[],
  rows: readonly Partial<Readonly<Record<Column, string>>>[],
): string {
  const lines = rows.map((row) => csvLine(columns.map((name) => row[name] ?? "")));
  return [csvLine(columns), ...lines, ""].join("\n");
}

/** A number with all its digits. */
export function digits(value: number): string {
  return String(Number(value.toPrecision(12)));
}

/** Half the 90 % interval as the catalogue writes it: `x1.12`, or in the unit. */
export function uncertaintyText({ uncertainty, logarithmic }: FittedParameter): string {
  return logarithmic
    ? `x${Number(Math.exp(z95 * uncertainty).toPrecision(8))}`
    : digits(z95 * uncertainty);
}

/**
 * The mount with the inputs of a saved fit in place of its own, or of the catalogue's, each with its spread, and
 * all that vary together.
 * @param csv - what `MountFit.toInputsCsv` gave
 * @param file - its name, for errors
 * @throws FieldError naming file, line and column, or the field of the mount
 */
export function withMeasured(mount: Mount, csv: string, file = "fit.csv"): Mount {
  const rows = readRows(file, csv).filter((row) => row.form === form);
  if (rows.length === 0) throw new FieldError(file, `rows of the form ${form}`, "none");
  const isCorrelation = ({ parameter }: Row) => parameter.startsWith(correlationWith);
  const inputs = rows.filter((row) => !isCorrelation(row));
  const fields = inputs.map(({ property }) => property);
  const begun = withCatalogueFields(mount, fields, standardCatalogue()).mount;
  const measured = inputs.reduce((changed, { place, property, value, uncertainty }) => {
    const stated = parseUncertainty(uncertainty);
    if (!stated) throw new FieldError(`${place} uncertainty`, "an uncertainty", uncertainty);
    const inside = spreadAs(stated, value);
    try {
      const next = withField(changed, property, inside);
      readMount(next);
      return next;
    } catch (error) {
      if (error instanceof FieldError) {
        throw error.at(`${place} ${error.field}`);
      }
      if (!(error instanceof UnknownNameError)) throw error;
      throw new UnknownNameError(`${place} ${error.field}`, error.kind, error.value, error.known);
    }
  }, begun);
  const correlations = rows.filter(isCorrelation).map((row): Correlation => {
    const { place, property, parameter, value, where } = row;
    const other = parameter.slice(correlationWith.length);
    for (const name of [property, other]) {
      if (inputs.some((input) => input.property === name)) continue;
      throw new FieldError(`${place} ${parameter}`, `a row with the value of ${name}`, "none");
    }
    if (!(Math.abs(value) <= 1)) {
      throw new FieldError(`${place} value`, "a coefficient of correlation from -1 to 1", value);
    }
    return { of: [other, property], coefficient: value, reason: fittedTo(where || file) };
  });
  const names = inputs.map(({ property }) => property);
  const whole = withCorrelations(measured, names, correlations);
  readMount(whole);
  return whole;
}

function spreadAs(stated: Uncertainty, value: number) {
  if (stated.kind === "factor") return spread(value / stated.factor, value * stated.factor);
  const half = stated.kind === "relative" ? Math.abs(value) * stated.share : stated.amount;
  return spread(value - half, value + half, { distribution: "normal" });
}
