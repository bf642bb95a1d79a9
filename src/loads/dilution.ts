/**
 * A dilution refrigerator's mixing chamber as a stage.
 * @module
 */
import { powerConductor } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { given } from "../provenance.js";
import { anObject, notNegative, positive } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { formatQuantity } from "../units/format.js";
import type { Temperature } from "../units/quantity.js";
import { positiveRare, type RareQuantity } from "../units/rare-quantity.js";
import type { Cooling } from "./stage.js";

/** Helium-3 that passes in a time: mol/s, or a string such as `"0.6 mmol/s"`. */
export type Circulation = RareQuantity<"mol/s" | "mmol/s" | "umol/s">;

/** A dilution refrigerator by its circulation. */
export interface Dilution {
  /** In errors and warnings; `mixing chamber` by default. */
  readonly name?: string;
  /** ṅ₃ */
  readonly circulation: Circulation;
  /** At which helium-3 leaves the last heat exchanger [K]. Without it the exchanger is ideal. */
  readonly exchangerTemperature?: Temperature;
  /** Measured without load [K]; what leaks in is then counted too. */
  readonly base?: Temperature;
}

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
  anObject(field, options);
  const { name = "mixing chamber" } = options;
  const circulation = positiveRare(`${field}.circulation`, options.circulation, circulationUnits);
  const law = catalogue.laws("loads", "stage").find(({ property }) => property === "dilution")!;
  const dilute = law.parameters.get("dilute")!.value;
  const concentrated = law.parameters.get("concentrated")!.value;
  const exchanger =
    options.exchangerTemperature === undefined
      ? undefined
      : positive(`${field}.exchangerTemperature`, options.exchangerTemperature, "temperature");

  const lowest = exchanger === undefined ? 0 : exchanger * Math.sqrt(concentrated / dilute);
  const base =
    options.base === undefined
      ? Math.max(lowest, coldest)
      : positive(`${field}.base`, options.base, "temperature");
  if (base < lowest) {
    throw new FieldError(
      `${field}.base`,
      `a temperature of ${formatQuantity(lowest, "K")} or more, since helium-3 that comes in at ` +
        `${formatQuantity(exchanger!, "K")} cools no further`,
      options.base,
    );
  }
  const coefficient = circulation * (exchanger === undefined ? dilute - concentrated : dilute);
  return {
    name,
    conductor: powerConductor(coefficient, 2, {
      ranges: [{ ...law.range, of: `${name}: dilution of degenerate helium-3` }],
    }),
    base,
    largestPower: Number.POSITIVE_INFINITY,
    power: (T) => coefficient * (T * T - base * base),
    temperature: (load) =>
      Math.sqrt(notNegative(`${name}.load`, load, "power") / coefficient + base * base),
    provenance: [
      ...law.provenance,
      given(`${field}: circulation`, circulation, "mol/s"),
      ...(exchanger === undefined
        ? []
        : [given(`${field}: temperature of the last heat exchanger`, exchanger, "K")]),
      ...(options.base === undefined
        ? []
        : [given(`${field}: temperature without load`, base, "K")]),
    ],
  };
}

const circulationUnits = {
  si: "mol/s",
  units: ["mol/s", "mmol/s", "umol/s"],
  words: 'a circulation such as "0.6 mmol/s" or a number in mol/s',
} as const;
