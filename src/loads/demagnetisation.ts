/**
 * A demagnetisation refrigerator: a salt that holds its temperature for a while as its field is let down.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { given, type Provenance } from "../provenance.js";
import { notNegative, positive } from "../units/checks.js";
import { bohrMagneton, boltzmann, gasConstant } from "../units/constants.js";
import { FieldError } from "../units/errors.js";
import { oneForm, quantity, rareQuantity, text } from "../units/fields.js";
import { formatGiven, formatQuantity } from "../units/format.js";
import type { Power, RareQuantity, Temperature, Time } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { lawNumber, lawOf } from "./law-number.js";

/** A salt, magnetised at one temperature and let down to another. */
export type Demagnetisation = {
  /** Name of the salt in data/loads/stage.csv, such as `ferric-ammonium-alum`. */
  readonly salt: string;
  /** Largest field, T or a string such as `"4 T"`. */
  readonly field: Uncertain<RareQuantity<"T" | "mT">>;
  /** At which the salt is cut off from its bath in the largest field [K]. */
  readonly start: Uncertain<Temperature>;
  /** To hold [K]. */
  readonly temperature: Uncertain<Temperature>;
} & (
  | {
      /** Formula units: mol, or a string such as `"0.5 mol"`. */
      readonly amount: Uncertain<RareQuantity<"mol" | "mmol">>;
    }
  | {
      /** kg, or a string such as `"100 g"`. */
      readonly mass: Uncertain<RareQuantity<"kg" | "g">>;
    }
);

const common = {
  salt: text,
  field: rareQuantity({
    units: ["T", "mT"],
    words: 'a magnetic field such as "4 T" or a number in tesla',
  }),
  start: quantity("temperature"),
  temperature: quantity("temperature"),
};

export const demagnetisationFields = oneForm<Demagnetisation>()({
  amount: {
    ...common,
    amount: rareQuantity({
      units: ["mol", "mmol"],
      words: 'an amount such as "0.5 mol" or a number in moles',
    }),
  },
  mass: {
    ...common,
    mass: rareQuantity({
      units: ["kg", "g"],
      words: 'a mass such as "100 g" or a number in kilograms',
    }),
  },
});

/** A stage held at one temperature, for as long as its salt lasts. */
export interface DemagnetisedSalt {
  /** Held [K] */
  readonly temperature: number;
  /** Heat the salt takes at that temperature until its field is down to zero [J] */
  readonly heat: number;
  /** Entropy of the salt as it was cut off, and at zero field, for each mole of ions [J/(mol K)] */
  readonly entropy: {
    /** Per mole over the gas constant, at the start. */
    readonly start: number;
    /** Per mole over the gas constant, when the field is off. */
    readonly end: number;
  };
  /** Field on reaching the temperature [T] */
  readonly fieldAtHold: number;
  /** How long it holds under a load [s]; for ever under none. @throws FieldError when negative */
  holdTime(load: Power): number;
  /** The most that it can take for so long [W]. @throws FieldError */
  largestLoad(holdTime: Time): number;
  /** Where the model is used near its end. */
  readonly warnings: readonly string[];
  /** Sources of the numbers that enter. */
  readonly provenance: readonly Provenance[];
}

/** Free spins are a good model from this many ordering temperatures up. */
const freeFrom = 3;

/**
 * Heat that a salt takes at constant temperature as its field is let down to zero:
 *
 *   Q = n T [R ln(2J + 1) − S(B, T_start)],  S of free spins
 *
 * It reaches T at the field B T/T_start, at which its entropy is still that of the start.
 * Valid: above about three times the ordering temperature; refused below it. Not included: lattice and
 * addenda, losses of the heat switch, eddy currents, the field that must be left to regulate.
 * Source: Pobell, Matter and Methods at Low Temperatures (2007), chapter 9.
 * @param field - path in the user's description, for errors
 * @throws FieldError, UnknownNameError
 * @example demagnetisation({ salt: "ferric-ammonium-alum", mass: "100 g", field: "4 T", start: "4 K",
 *   temperature: "100 mK" }).holdTime("1 uW") // 1.76e5 s: 49 h
 */
export function demagnetisation(
  options: Demagnetisation,
  catalogue: Catalogue = standardCatalogue(),
  field = "demagnetisation",
): DemagnetisedSalt {
  const plain = demagnetisationFields.read(options, field);
  const { field: largest, start, temperature: T } = plain;
  const laws = catalogue.laws("loads", "stage");
  const salts = laws.filter(({ property }) => property === "paramagnetic_salt");
  const salt = lawOf(salts, plain.salt, "salt", `${field}.salt`);
  const value = (parameter: string) =>
    lawNumber(salt, parameter, `stage.csv: ${salt.sample}`).value;
  const moles = "amount" in plain ? plain.amount : plain.mass / value("molar_mass");
  const refused = (wanted: string) =>
    new FieldError(`${field}.temperature`, `a temperature ${wanted}`, formatGiven(T, "K"));
  if (T >= start) throw refused(`below the start's, ${formatQuantity(start, "K")}`);
  const ordering = value("ordering_temperature");
  const orders = formatQuantity(ordering, "K");
  if (T <= ordering) throw refused(`above ${orders}, where the spins of ${salt.sample} order`);
  const [spin, g] = [value("spin"), value("g_factor")];
  const atStart = gasConstant * freeSpinEntropy(spin, largest / start, g);
  const atEnd = gasConstant * freeSpinEntropy(spin, 0, g);
  const heat = moles * value("ions") * T * (atEnd - atStart);
  const doubt =
    `${salt.sample}: ${formatQuantity(T, "K")} is within ${freeFrom} times the ${orders} at which its spins ` +
    "order; they are not free there, and it takes less heat than computed.";
  return {
    temperature: T,
    heat,
    entropy: { start: atStart, end: atEnd },
    fieldAtHold: (largest * T) / start,
    holdTime: (load) => heat / notNegative(`${field}.load`, load, "power"),
    largestLoad: (time) => heat / positive(`${field}.holdTime`, time, "time"),
    warnings: T < freeFrom * ordering ? [doubt] : [],
    provenance: [
      ...salt.provenance,
      given(`${field}: amount of salt`, moles, "mol"),
      given(`${field}: largest field`, largest, "T"),
      given(`${field}: temperature at the start`, start, "K"),
      given(`${field}: temperature to hold`, T, "K"),
    ],
  };
}

/**
 * Entropy of a free spin over k_B: ln Z + x⟨m⟩ with Z = Σ e^(−mx), m = −J … J, x = gμ_B B/(k_B T).
 * ln(2J + 1) without field, 0 in a large one.
 * Source: Brillouin, J. Phys. Radium 8, 74 (1927).
 * @param spin - J, a multiple of a half
 * @param fieldOverTemperature - B/T [T/K]
 */
export function freeSpinEntropy(spin: number, fieldOverTemperature: number, g = 2): number {
  const x = (g * bohrMagneton * fieldOverTemperature) / boltzmann;
  let [sum, weighted] = [0, 0];
  for (let level = 0; level <= 2 * spin; level++) {
    const weight = Math.exp(-level * x);
    sum += weight;
    weighted += level * weight;
  }
  return Math.log(sum) + (x * weighted) / sum;
}
