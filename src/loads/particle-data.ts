/**
 * Numbers of data/loads/particles.csv.
 * @module
 */
import type { Catalogue, Datum } from "../materials/types.js";
import { FieldError } from "../units/errors.js";

/** A number of data/loads/particles.csv, which has to be in this unit, spelled so. */
export function datum(
  catalogue: Catalogue,
  property: string,
  parameter: string,
  unit: string,
): Datum {
  const law = catalogue.laws("loads", "particles").find((each) => each.property === property);
  const found = law?.parameters.get(parameter);
  const row = `particles.csv: ${property} ${parameter}`;
  if (!found) throw new FieldError(row, "a row", found);
  const written = found.provenance.unit;
  if (written === unit) return found;
  throw new FieldError(row, `the unit ${unit}`, written);
}
