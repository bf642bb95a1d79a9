/**
 * A dilution refrigerator's mixing chamber as a stage.
 * @module
 */
import { powerConductor } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { given } from "../provenance.js";
import { rangeWarnings } from "../ranges.js";
import { anObject, notNegative } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { object, optional, quantity, rareQuantity, text, type Unnamed } from "../units/fields.js";
import { formatGiven, formatQuantity } from "../units/format.js";
import type { RareQuantity, Temperature } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import type { Cooling } from "./stage.js";

/** Helium-3 that passes in a time: mol/s, or a string such as `"0.6 mmol/s"`. */
export type Circulation = RareQuantity<"mol/s" | "mmol/s" | "umol/s">;

/** A dilution refrigerator by its circulation. */
export interface Dilution {
  /** In errors and warnings; `mixing chamber` by default. */
  readonly name?: string;
  /** ṅ₃ [mol/s]. */
  readonly circulation: Uncertain<Circulation>;
  /** At which helium-3 leaves the last heat exchanger [K]. Without it the exchanger is ideal. */
  readonly exchangerTemperature?: Uncertain<Temperature>;
  /** Measured without load [K]; what leaks in is then counted too. */
  readonly base?: Uncertain<Temperature>;
}

/** Reads a dilution refrigerator, without its name. */
export const dilutionFields = object<Unnamed<Dilution>>({
  circulation: rareQuantity({
    units: ["mol/s", "mmol/s", "umol/s"],
    words: 'a circulation such as "0.6 mmol/s" or a number in mol/s',
  }),
  exchangerTemperature: optional(quantity("temperature")),
  base: optional(quantity("temperature")),
});

/** Stands for zero temperature, which a network can't hold; changes nothing above it that is measured. */
const coldest = 1e-6;

/**
 * Cooling power of dilution:
 *
 *   Q̇ = ṅ₃ (95 T² − 11 T_ex²) with the exchanger's temperature, or
 *   Q̇ = ṅ₃ 84 T² with an ideal exchanger, T_ex = T   [J/(mol K²)]
 *
 * less what makes it vanish at `base`, where that is given.
 * Valid: below about 0.1 K, where both liquids are degenerate. Machines take 10 to 20 % less.
 * Source: Pobell, Matter and Methods at Low Temperatures (2007), chapter 7.
 * @param field - path of the refrigerator in the user's description, for errors
 * @throws FieldError
 * @example dilution({ circulation: "1 mmol/s" }).power(0.1) // 8.4e-4 W
 */
export function dilution(
  options: Dilution,
  catalogue: Catalogue = standardCatalogue(),
  field = "dilution",
): Cooling {
  const { name: written = "mixing chamber", ...machine } = anObject(field, options);
  const name = text.read(written, `${field}.name`);
  const plain = dilutionFields.read(machine, field);
  const { circulation, exchangerTemperature: exchanger } = plain;
  const law = catalogue.laws("loads", "stage").find(({ property }) => property === "dilution")!;
  const dilute = law.parameters.get("dilute")!.value;
  const concentrated = law.parameters.get("concentrated")!.value;

  const lowest = exchanger === undefined ? 0 : exchanger * Math.sqrt(concentrated / dilute);
  const { base = Math.max(lowest, coldest) } = plain;
  if (base < lowest) {
    const [least, warm] = [lowest, exchanger!].map((T) => formatQuantity(T, "K"));
    const wanted = `a temperature of ${least} or more, since helium-3 that comes in at ${warm} cools no further`;
    throw new FieldError(`${field}.base`, wanted, formatGiven(base, "K"));
  }
  const coefficient = circulation * (exchanger === undefined ? dilute - concentrated : dilute);
  const conductor = powerConductor(coefficient, 2, {
    ranges: [{ ...law.range, of: `${name}: dilution of degenerate helium-3` }],
  });
  return {
    name,
    conductor,
    base,
    largestPower: Number.POSITIVE_INFINITY,
    power: (T) => coefficient * (T * T - base * base),
    temperature: (load) =>
      Math.sqrt(notNegative(`${name}.load`, load, "power") / coefficient + base * base),
    warningsAt: (T) => rangeWarnings([{ name, law: conductor, used: [T, T] }]),
    provenance: [
      ...law.provenance,
      given(`${field}: circulation`, circulation, "mol/s"),
      ...(exchanger === undefined
        ? []
        : [given(`${field}: temperature of the last heat exchanger`, exchanger, "K")]),
      ...(plain.base === undefined ? [] : [given(`${field}: temperature without load`, base, "K")]),
    ],
  };
}
