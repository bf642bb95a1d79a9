/**
 * Rows of the catalogue as quantities that are not known exactly: each may be larger or smaller by a
 * factor.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { datumOf, type FactorOf, halfWidth, type Law } from "./law.js";
import type { VariedRow } from "./types.js";

/** What of a law may be varied: what has an uncertainty on file. */
export function variedRows({ key, label, from, to, parameters }: Law, of: FactorOf): VariedRow[] {
  const all = [...parameters.values()];
  if (key === undefined) {
    return all.flatMap((parameter) => {
      if (parameter.key === undefined) return [];
      const { value, provenance } = datumOf(parameter, of);
      const { quantity, unit, source } = provenance;
      const factor = halfWidth(parameter.row);
      return [{ key: parameter.key, quantity, value, unit, factor, source }];
    });
  }
  const range = to === undefined ? "" : `, ${from} to ${to} K`;
  return [
    {
      key,
      quantity: `${label}${range}: factor`,
      value: 1,
      unit: "",
      factor: Math.max(...all.map(({ row }) => halfWidth(row))),
      source: all[0]!.datum.provenance.source,
    },
  ];
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
