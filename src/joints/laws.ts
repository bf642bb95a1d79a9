/**
 * Laws of joints in the catalogue, looked up by name.
 * @module
 */
import type { TemperatureRange } from "../conductor.js";
import type { Catalogue } from "../materials/types.js";
import type { Provenance } from "../provenance.js";
import { FieldError, UnknownNameError } from "../units/errors.js";

/** A law that was found: its numbers by name, where it holds, where it is from. */
export interface FoundLaw {
  readonly form: string;
  /** A parameter in SI. @throws FieldError when the law has none of that name */
  value(parameter: string): number;
  readonly range: TemperatureRange;
  readonly provenance: readonly Provenance[];
}

/**
 * The law of a joint. In data/joints/KIND.csv the property column names the joint.
 * @param wanted - `key` is the user's field that named it, `what` its kind in words
 * @throws UnknownNameError listing the names on hand, FieldError listing the samples
 */
export function recordOf(
  wanted: {
    readonly kind: string;
    readonly key: string;
    readonly what: string;
    readonly name: string;
    readonly sample: string | undefined;
  },
  catalogue: Catalogue,
  field: string,
): FoundLaw {
  const { kind, key, what, name, sample } = wanted;
  const all = catalogue.laws("joints", kind);
  const ofName = all.filter((law) => law.property === name);
  if (ofName.length === 0) {
    const known = [...new Set(all.map((law) => law.property))];
    throw new UnknownNameError(`${field}.${key}`, what, name, known);
  }
  const samples = ofName.map((law) => law.sample);
  const found = ofName.filter((law) => sample === undefined || law.sample === sample);
  if (found.length !== 1) {
    const list = samples.map((each) => JSON.stringify(each)).join(", ");
    throw new FieldError(`${field}.sample`, `one of ${list}`, sample);
  }
  const { form, parameters, range, provenance } = found[0]!;
  return {
    form,
    value(parameter) {
      const datum = parameters.get(parameter);
      if (datum) return datum.value;
      throw new FieldError(`${kind}.csv: ${name}`, `a parameter "${parameter}"`, undefined);
    },
    range,
    provenance,
  };
}
