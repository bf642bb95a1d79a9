/**
 * Rows of the catalogue as things that are not known exactly: each may be larger or smaller by a factor.
 *
 * A table or a fit of many coefficients is one measurement, whose points are wrong together: it is
 * varied as a whole. Any other row is varied by itself.
 * @module
 */
import type { Provenance } from "../provenance.js";
import { FieldError } from "../units/errors.js";
import type { Row } from "./table.js";
import { asFactor, parseUncertainty } from "./uncertainty.js";

/** A row, or a table or fit of several, with its uncertainty. */
export interface VariedRow {
  /** Folder, file and line of its first row: `materials/gold.csv:5`. */
  readonly key: string;
  /** What it is, for example `gold: electron-phonon coupling, coefficient`. */
  readonly quantity: string;
  /** In SI; 1 for a table or fit, which is varied as a whole. */
  readonly value: number;
  /** Unit of the value. */
  readonly unit: string;
  /** About 90 % of what it may be lies within this factor either way, above 1. */
  readonly factor: number;
  /** Author, title, journal, year. */
  readonly source: string;
}

/** Rows of one law. */
export interface LawRows {
  readonly folder: string;
  readonly form: string;
  readonly rows: readonly Row[];
  /** Whether it is varied as a whole. */
  readonly whole: boolean;
  /** Provenance of one row. */
  provenance(row: Row): Provenance;
}

/** The key of a row. */
export function rowKey(folder: string, row: Row): string {
  return `${folder}/${row.place}`;
}

/** What of a law may be varied: what has an uncertainty on file. */
export function variedRows(law: LawRows): VariedRow[] {
  const { folder, rows, whole } = law;
  const uncertain = rows.filter((row) => halfWidth(row) > 1);
  if (uncertain.length === 0) return [];
  if (!whole) {
    return uncertain.map((row) => {
      const { quantity, value, unit, source } = law.provenance(row);
      return { key: rowKey(folder, row), quantity, value, unit, factor: halfWidth(row), source };
    });
  }
  const first = rows[0]!;
  const { quantity, source } = law.provenance({ ...first, parameter: "value" });
  const range = first.to === undefined ? "" : `, ${first.from} to ${first.to} K`;
  return [
    {
      key: rowKey(folder, first),
      quantity: `${quantity}${range}: factor`,
      value: 1,
      unit: "",
      factor: Math.max(...uncertain.map(halfWidth)),
      source,
    },
  ];
}

function halfWidth(row: Row): number {
  return asFactor(parseUncertainty(row.uncertainty), row.value);
}

/** @throws FieldError unless all keys are known and all factors greater than 0 */
export function checkFactors(
  factors: ReadonlyMap<string, number>,
  known: ReadonlySet<string>,
): void {
  for (const [key, factor] of factors) {
    if (!known.has(key)) {
      throw new FieldError("factors", "rows such as materials/gold.csv:5 (see rows())", key);
    }
    if (!(factor > 0 && factor < Number.POSITIVE_INFINITY)) {
      throw new FieldError(`factors ${key}`, "a factor greater than 0", factor);
    }
  }
}
