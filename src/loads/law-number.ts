/**
 * Numbers of the laws in data/loads.
 * @module
 */
import type { Catalogue, Datum, LawRecord } from "../materials/types.js";
import { FieldError, UnknownNameError } from "../units/errors.js";

/**
 * The law of a sample.
 * @param kind - what its name is a name of, for errors
 * @throws UnknownNameError listing the samples
 */
export function lawOf(laws: readonly LawRecord[], name: string, kind: string, field: string) {
  const found = laws.find(({ sample }) => sample === name);
  if (found) return found;
  const known = laws.map(({ sample }) => sample);
  throw new UnknownNameError(field, kind, name, known);
}

/**
 * A number of a law.
 * @param place - file and name of the law, for errors: `coax.csv: 0.085 in`
 * @throws FieldError where there is no such law, or it lacks the number
 */
export function lawNumber(law: LawRecord | undefined, parameter: string, place: string): Datum {
  const found = law?.parameters.get(parameter);
  if (found) return found;
  throw new FieldError(`${place} ${parameter}`, "a row", undefined);
}

/**
 * A number of the first law of a property in data/loads/KIND.csv, or of that of a sample.
 * @throws FieldError as above
 */
export function propertyNumber(
  catalogue: Catalogue,
  kind: string,
  property: string,
  parameter: string,
  sample?: string,
): Datum {
  const law = catalogue
    .laws("loads", kind)
    .find((each) => each.property === property && (sample ?? each.sample) === each.sample);
  return lawNumber(law, parameter, `${kind}.csv: ${property}`);
}

/** A number of data/loads/particles.csv, which has to be in this unit, spelled so. */
export function particleNumber(
  catalogue: Catalogue,
  property: string,
  parameter: string,
  unit: string,
  sample?: string,
): Datum {
  const found = propertyNumber(catalogue, "particles", property, parameter, sample);
  const written = found.provenance.unit;
  if (written === unit) return found;
  throw new FieldError(`particles.csv: ${property} ${parameter}`, `the unit ${unit}`, written);
}
