/**
 * Laws of joints in the catalogue, looked up by name.
 * @module
 */
import type { TemperatureRange } from "../conductor.js";
import { ofSample } from "../materials/law.js";
import type { Catalogue } from "../materials/types.js";
import type { Provenance } from "../provenance.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import { unitFactor } from "../units/quantity.js";

/** A law that was found: its numbers by name, where it holds, where it is from. */
export interface FoundLaw {
  readonly form: string;
  /**
   * A parameter in SI. The file may write any unit, so the one it has to have is asked for here.
   * @throws FieldError when the law has none of that name, or in another dimension
   */
  value(parameter: string, unit: string): number;
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
  const { form, parameters, range, provenance } = ofSample(field, ofName, sample);
  return {
    form,
    value(parameter, unit) {
      const datum = parameters.get(parameter);
      if (!datum) throw new FieldError(`${kind}.csv: ${name}`, `a parameter "${parameter}"`, datum);
      const written = datum.provenance.unit;
      if (unitFactor(written, unit) === 1) return datum.value;
      const wanted = unit === "" ? "no unit" : `a unit such as ${unit}`;
      throw new FieldError(`${kind}.csv: ${name}, ${parameter}`, wanted, written);
    },
    range,
    provenance,
  };
}
