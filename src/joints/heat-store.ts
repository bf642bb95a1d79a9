/**
 * Heat stores: a piece of a material, or a measured heat capacity.
 * @module
 */
import { type HeatStore, scaledPowers } from "../conductor.js";
import { type HeatCapacityOptions, heatCapacityFields } from "../materials/options.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { given, givenCount } from "../provenance.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import type { Area, Length, RareQuantity, Temperature } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { addedUp } from "./combine.js";
import { temperatureExponent } from "./given.js";

/** A volume: cubic metres, or a string such as `"190 mm^3"`. */
export type Volume = RareQuantity<"m^3" | "cm^3" | "mm^3" | "um^3">;
/** A heat capacity: joules a kelvin, or a string such as `"3 nJ/K"`. */
export type HeatCapacityValue = RareQuantity<
  "J/K" | "mJ/K" | "uJ/K" | "nJ/K" | "pJ/K" | "fJ/K" | "aJ/K"
>;

/** What a volume may be written in. */
export const volumes = {
  units: ["m^3", "cm^3", "mm^3", "um^3"],
  words: 'a volume such as "190 mm^3" or a number in cubic metres',
} as const;
/** What a heat capacity may be written in. */
export const heatCapacities = {
  units: ["J/K", "mJ/K", "uJ/K", "nJ/K", "pJ/K", "fJ/K", "aJ/K"],
  words: 'a heat capacity such as "3 nJ/K" or a number in joules a kelvin',
} as const;

/** A piece of a material: its volume, or its area and thickness. */
export type HeatStoreOptions = HeatCapacityOptions & {
  /** Name in the catalogue. */
  readonly material: string;
  /** How many alike, 1 by default. */
  readonly count?: number;
} & (
    | {
        /** How much of it. Give this, or area and thickness. */
        readonly volume: Uncertain<Volume>;
      }
    | {
        /** Area of a film [m²], with its thickness. */
        readonly area: Uncertain<Area>;
        /** Thickness of a film [m], with its area. */
        readonly thickness: Uncertain<Length>;
      }
  );

const common = {
  material: read.text,
  count: read.optional(read.count),
  ...heatCapacityFields,
};

const fields = read.oneForm<HeatStoreOptions>()({
  volume: { ...common, volume: read.rareQuantity(volumes) },
  area: { ...common, area: read.quantity("area"), thickness: read.quantity("length") },
});

/**
 * Heat capacity and enthalpy of a piece of a material: C = V (γT R(T/T_c) + βT³), or the law that was
 * measured for it.
 * @param field - path of the piece in the user's description, for errors
 * @throws FieldError, UnknownNameError
 * @example heatStore({ material: "silicon", volume: "200 mm^3" }).heatCapacity(0.1) // 1.2e-10
 */
export function heatStore(
  options: HeatStoreOptions,
  catalogue: Catalogue = standardCatalogue(),
  field = "heatStore",
): HeatStore {
  const plain = fields.read(options, field);
  const volume = "volume" in plain ? plain.volume : plain.area * plain.thickness;
  const count = plain.count ?? 1;
  const { material, part, state, criticalTemperature, sample } = plain;
  const law = catalogue.material(material, `${field}.material`).heatCapacity(
    {
      ...(part !== undefined && { part }),
      ...(state !== undefined && { state }),
      ...(criticalTemperature !== undefined && { criticalTemperature }),
      ...(sample !== undefined && { sample }),
    },
    field,
  );
  const all = volume * count;
  return {
    heatCapacity: (T) => all * law.value(T),
    enthalpy: (T) => all * law.enthalpy(T),
    ...scaledPowers(law, all),
    provenance: [
      ...law.provenance,
      given(`${field}: volume`, volume, "m^3"),
      ...givenCount(field, count),
    ],
  };
}

/** A heat capacity at one temperature, and how it varies. */
export interface GivenHeatStore {
  /** C₀ of one. */
  readonly heatCapacity: Uncertain<HeatCapacityValue>;
  /** T₀, where it was measured [K]. */
  readonly at: Uncertain<Temperature>;
  /** n of C ∝ Tⁿ: 1 for electrons in a metal (default), 3 for phonons. */
  readonly exponent?: Uncertain<number>;
  /** How many alike, 1 by default. */
  readonly count?: number;
}

const givenFields = read.object<GivenHeatStore>({
  heatCapacity: read.rareQuantity(heatCapacities),
  at: read.quantity("temperature"),
  exponent: read.optional(temperatureExponent),
  count: read.optional(read.count),
});

/**
 * A heat store that was measured: C = C₀ (T/T₀)ⁿ.
 * @param field - path of it in the user's description, for errors
 * @throws FieldError
 * @example givenHeatStore({ heatCapacity: "3 nJ/K", at: "100 mK", exponent: 3 }).heatCapacity(0.2) // 2.4e-8
 */
export function givenHeatStore(options: GivenHeatStore, field = "givenHeatStore"): HeatStore {
  const { heatCapacity, at, exponent = 1, count = 1 } = givenFields.read(options, field);
  const coefficient = (count * heatCapacity) / ((exponent + 1) * at ** exponent);
  return {
    heatCapacity: (T) => coefficient * (exponent + 1) * T ** exponent,
    enthalpy: (T) => coefficient * T ** (exponent + 1),
    powers: [{ coefficient, exponent: exponent + 1 }],
    provenance: [
      given(`${field}: heat capacity`, heatCapacity, "J/K", `at ${at} K`),
      given(`${field}: exponent of the temperature`, exponent, ""),
      ...givenCount(field, count),
    ],
  };
}

/**
 * Stores at one temperature: C = ΣCᵢ, H = ΣHᵢ. Exact.
 * @throws FieldError when none is given
 */
export function storesTogether(stores: readonly HeatStore[]): HeatStore {
  if (stores.length === 0)
    throw new FieldError("storesTogether", "at least one heat store", stores);
  if (stores.length === 1) return stores[0]!;
  return {
    heatCapacity: (T) => stores.reduce((sum, each) => sum + each.heatCapacity(T), 0),
    enthalpy: (T) => stores.reduce((sum, each) => sum + each.enthalpy(T), 0),
    ...addedUp(stores),
  };
}
