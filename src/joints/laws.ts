/**
 * Laws of joints in the catalogue, looked up by name.
 * @module
 */
import type { GivenValue, TemperatureRange } from "../conductor.js";
import { ofSample } from "../materials/law.js";
import type { Catalogue, Datum } from "../materials/types.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import { unitFactor } from "../units/quantity.js";

/**
 * The law of a joint. In data/joints/KIND.csv the property column names the joint.
 * @param wanted - `key` is the user's field that named it, `what` its kind in words
 * @returns its numbers by name, where it holds, where it is from
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
) {
  const { kind, key, what, name, sample } = wanted;
  const all = catalogue.laws("joints", kind);
  const ofName = all.filter((law) => law.property === name);
  if (ofName.length === 0) {
    const known = [...new Set(all.map((law) => law.property))];
    throw new UnknownNameError(`${field}.${key}`, what, name, known);
  }
  const { form, parameters, range } = ofSample(field, ofName, sample);
  const datumOf = (parameter: string, unit: string) => {
    const datum = parameters.get(parameter);
    if (!datum) throw new FieldError(`${kind}.csv: ${name}`, `a parameter "${parameter}"`, datum);
    const written = datum.provenance.unit;
    if (unitFactor(written, unit) === 1) return datum;
    const wanted = unit === "" ? "no unit" : `a unit such as ${unit}`;
    throw new FieldError(`${kind}.csv: ${name}, ${parameter}`, wanted, written);
  };
  return {
    form,
    /**
     * A parameter in SI. The file may write any unit, so the one it has to have is asked for here.
     * @throws FieldError when the law has none of that name, or in another dimension
     */
    value: (parameter: string, unit: string) => datumOf(parameter, unit).value,
    range,
    /**
     * The range of a number that the law is given, from its rows `QUANTITY_from` and `QUANTITY_to`; the note of
     * the former says on which bodies it was measured.
     * @throws FieldError when the law has no such rows: a law without a range would be continued silently
     */
    rangeOf(given: GivenValue): TemperatureRange {
      const { quantity, unit } = given;
      const [from, to] = ["from", "to"].map((end) => datumOf(`${quantity}_${end}`, unit)) as [
        Datum,
        Datum,
      ];
      const { note } = from.provenance;
      const of = note ? `${range.of}: ${note}` : range.of;
      return { from: from.value, to: to.value, of, outside: "warn", given };
    },
    /** Of the numbers that enter. */
    get provenance() {
      const entering = [...parameters].filter(([parameter]) => !/_(from|to)$/.test(parameter));
      return entering.map(([, { provenance }]) => provenance);
    },
  };
}
