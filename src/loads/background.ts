/**
 * Mean heat of the background of a laboratory: radioactivity and cosmic rays together.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, Datum } from "../materials/types.js";
import { given, type Provenance } from "../provenance.js";
import { anObject, positive, positiveNumber } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import type { Area, Energy, Length } from "../units/quantity.js";
import { type EnergySpectrum, readSpectrum, type Spectrum } from "./energy-spectrum.js";
import type { HeatLoad } from "./heat-load.js";
import { datum } from "./particles.js";

/**
 * Background heat: a counted rate of hits of a mean energy or of a spectrum; or watts per kilogram of a
 * mass or a die.
 */
export type Background = {
  /** Name in the budget, `background` by default. */
  readonly name?: string;
} & (
  | {
      /** Hits [1/s]. */
      readonly rate: number;
      /** Mean energy of a hit [J]. */
      readonly energy: Energy;
    }
  | {
      /** Hits [1/s]; the spectrum's own when absent. */
      readonly rate?: number;
      /** Energies of the hits and how often each comes. */
      readonly spectrum: EnergySpectrum;
    }
  | ({
      /** Heat for each mass [W/kg]; that of an unshielded laboratory by default. */
      readonly powerPerMass?: number;
      /** How the heat is shared among hits; only draws of hits need it. */
      readonly spectrum?: EnergySpectrum;
    } & (
      | {
          /** Mass of the die [kg]. */
          readonly mass: number;
        }
      | {
          /** Material of the die, for its mass. */
          readonly material: string;
          /** Area of the die [m²], for its mass. */
          readonly area: Area;
          /** Thickness of the die [m], for its mass. */
          readonly thickness: Length;
        }
    ))
);

/** A background as loads and draws take it. */
export interface BackgroundFigures {
  /** Power [W]. */
  readonly power: number;
  /** Hits [1/s] and their energies; absent where only heat per mass was given. */
  readonly hits?: { readonly rate: number; readonly spectrum: Spectrum };
  readonly provenance: readonly Provenance[];
  readonly details: Readonly<Record<string, number>>;
}

/**
 * Mean heat of radioactivity and cosmic rays together: rate × mean energy, or mass × W/kg.
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function background(
  options: Background,
  catalogue?: Catalogue,
  field = "background",
): HeatLoad {
  const { power, provenance, details } = readBackground(options, catalogue, field);
  return { name: options.name ?? "background", power, provenance, details };
}

/** @throws FieldError, UnknownNameError */
export function readBackground(
  options: Background,
  catalogue: Catalogue | undefined,
  field: string,
): BackgroundFigures {
  anObject(field, options);
  if ("mass" in options || "material" in options) {
    return byMass(options, catalogue ?? standardCatalogue(), field);
  }
  if ("energy" in options) {
    if ("spectrum" in options && options.spectrum !== undefined) {
      throw new FieldError(field, "either an energy or a spectrum", "both");
    }
    const rate = positiveNumber(`${field}.rate`, options.rate, "events a second");
    const energy = positive(`${field}.energy`, options.energy, "energy");
    return figures(rate, { rate: undefined, mean: energy, draw: () => energy }, [
      given(`${field}: rate`, rate, "1/s"),
      given(`${field}: mean energy of an event`, energy, "J"),
    ]);
  }
  const spectrum = spectrumOf(options.spectrum, field);
  if (spectrum.rate !== undefined && options.rate !== undefined) {
    throw new FieldError(`${field}.rate`, "no rate, since the spectrum has its own", options.rate);
  }
  const what = "events a second, or a spectrum with a rate of its own";
  const rate = spectrum.rate ?? positiveNumber(`${field}.rate`, options.rate, what);
  return figures(rate, spectrum, [
    given(`${field}: rate`, rate, "1/s", spectrum.rate === undefined ? "" : "of the spectrum"),
    given(`${field}: mean energy of an event`, spectrum.mean, "J", "of the spectrum"),
  ]);
}

function figures(
  rate: number,
  spectrum: Spectrum,
  provenance: readonly Provenance[],
): BackgroundFigures {
  return {
    power: rate * spectrum.mean,
    hits: { rate, spectrum },
    provenance,
    details: { "rate [1/s]": rate, "mean energy of an event [J]": spectrum.mean },
  };
}

type OfMass = Extract<Background, { readonly powerPerMass?: number }>;

function byMass(options: OfMass, catalogue: Catalogue, field: string): BackgroundFigures {
  const mass = massOf(options, catalogue, field);
  const perMass = powerPerMassOf(options.powerPerMass, catalogue, field);
  const power = mass.value * perMass.value;
  const provenance = [perMass.provenance, ...mass.provenance];
  const details = { "mass [kg]": mass.value, "power per mass [W/kg]": perMass.value };
  if (options.spectrum === undefined) return { power, provenance, details };
  const spectrum = spectrumOf(options.spectrum, field);
  if (spectrum.rate !== undefined) {
    throw new FieldError(
      `${field}.spectrum`,
      "shares or weights, since powerPerMass tells how many hits there are",
      "rates",
    );
  }
  const rate = power / spectrum.mean;
  return {
    power,
    hits: { rate, spectrum },
    provenance: [
      ...provenance,
      given(`${field}: mean energy of an event`, spectrum.mean, "J", "of the spectrum"),
    ],
    details: { ...details, "rate [1/s]": rate, "mean energy of an event [J]": spectrum.mean },
  };
}

function spectrumOf(spectrum: EnergySpectrum | undefined, field: string): Spectrum {
  if (spectrum !== undefined) return readSpectrum(`${field}.spectrum`, spectrum);
  throw new FieldError(field, "an energy, a spectrum, a mass or a die", "none of them");
}

function powerPerMassOf(value: number | undefined, catalogue: Catalogue, field: string): Datum {
  if (value === undefined) return datum(catalogue, "background", "power_per_mass", "W/kg");
  const perMass = positiveNumber(`${field}.powerPerMass`, value, "watts per kilogram");
  return { value: perMass, provenance: given(`${field}: power per mass`, perMass, "W/kg") };
}

function massOf(
  options: OfMass,
  catalogue: Catalogue,
  field: string,
): { readonly value: number; readonly provenance: readonly Provenance[] } {
  if ("mass" in options) {
    const value = positiveNumber(`${field}.mass`, options.mass, "a mass in kilograms");
    return { value, provenance: [given(`${field}: mass`, value, "kg")] };
  }
  const area = positive(`${field}.area`, options.area, "area");
  const thickness = positive(`${field}.thickness`, options.thickness, "length");
  const density = catalogue.material(options.material, `${field}.material`).constant("density");
  return {
    value: density.value * area * thickness,
    provenance: [
      density.provenance,
      given(`${field}: area`, area, "m^2"),
      given(`${field}: thickness`, thickness, "m"),
    ],
  };
}
