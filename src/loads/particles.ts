/**
 * Mean heat of particles that cross the chip: muons, and the background of a laboratory.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, Datum } from "../materials/types.js";
import { given, type Provenance } from "../provenance.js";
import { positive, positiveNumber } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import type { Area, Energy, Length } from "../units/quantity.js";
import type { HeatLoad } from "./heat-load.js";

/** A horizontal die under the open sky. */
export interface Muons {
  /** Name in the budget, `muons` by default. */
  readonly name?: string;
  /** Of the die, in the catalogue. */
  readonly material: string;
  /** Of its upper face. */
  readonly area: Area;
  readonly thickness: Length;
  /** Through a horizontal face [1/(m² s)]; at sea level by default. */
  readonly flux?: number;
}

/**
 * Mean heat of cosmic-ray muons in a thin horizontal die: rate × mean path × dE/dx,
 *   P = F A · (4/3) t · ρ S,  F = (π/2) I_v,
 * for a vertical intensity I_v that falls as cos² of the zenith angle. S is the mass stopping power of
 * a minimum-ionising particle; muons at their mean energy of 4 GeV lose about a fifth more in
 * silicon, and energy carried out by fast electrons about makes up for it in half a millimetre.
 * Muons are the smaller part in an unshielded laboratory: see `background`.
 * Not included: the edges of the die, building and altitude (twice as many at 2 km).
 * Source: Particle Data Group, Review of Particle Physics, chapters Cosmic rays and Passage of
 * particles through matter; the angular averages follow from cos².
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function muons(
  options: Muons,
  catalogue: Catalogue = standardCatalogue(),
  field = "muons",
): HeatLoad {
  const { name = "muons" } = options;
  const area = positive(`${field}.area`, options.area, "area");
  const thickness = positive(`${field}.thickness`, options.thickness, "length");
  const material = catalogue.material(options.material, `${field}.material`);
  const density = material.constant("density");
  const stoppingPower = material.constant("mass_stopping_power");
  const flux = muonFluxOf(options.flux, catalogue, field);

  const rate = flux.value * area;
  const energy = meanPath(thickness) * density.value * stoppingPower.value;
  return {
    name,
    power: rate * energy,
    provenance: [
      flux.provenance,
      density.provenance,
      stoppingPower.provenance,
      given(`${field}: area`, area, "m^2"),
      given(`${field}: thickness`, thickness, "m"),
    ],
    details: { "rate [1/s]": rate, "mean energy of a muon [J]": energy },
  };
}

/** Muons through a horizontal face, ∫ I_v cos²θ · cosθ dΩ = (π/2) I_v [1/(m² s)]. */
export function horizontalFlux(verticalIntensity: number): number {
  return (Math.PI / 2) * verticalIntensity;
}

/** Mean path of cos² muons in a thin horizontal slab, (4/3) t: the mean of 1/cosθ over crossings. */
export function meanPath(thickness: number): number {
  return (4 / 3) * thickness;
}

/** Background heat: a counted rate, or watts per kilogram of a mass or a die. */
export type Background = {
  /** Name in the budget, `background` by default. */
  readonly name?: string;
} & (
  | {
      /** Events [1/s]. */
      readonly rate: number;
      /** Mean energy of an event. */
      readonly energy: Energy;
    }
  | ({
      /** [W/kg]; that of an unshielded laboratory by default. */
      readonly powerPerMass?: number;
    } & (
      | {
          /** [kg] */
          readonly mass: number;
        }
      | { readonly material: string; readonly area: Area; readonly thickness: Length }
    ))
);

/**
 * Mean heat of radioactivity and cosmic rays together: rate × energy, or mass × W/kg.
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function background(
  options: Background,
  catalogue?: Catalogue,
  field = "background",
): HeatLoad {
  const { name = "background" } = options;
  if ("rate" in options) {
    const rate = positiveNumber(`${field}.rate`, options.rate, "events a second");
    const energy = positive(`${field}.energy`, options.energy, "energy");
    return {
      name,
      power: rate * energy,
      provenance: [
        given(`${field}: rate`, rate, "1/s"),
        given(`${field}: mean energy of an event`, energy, "J"),
      ],
      details: { "rate [1/s]": rate, "mean energy of an event [J]": energy },
    };
  }
  const numbers = catalogue ?? standardCatalogue();
  const mass = massOf(options, numbers, field);
  const perMass = powerPerMassOf(options.powerPerMass, numbers, field);
  return {
    name,
    power: mass.value * perMass.value,
    provenance: [perMass.provenance, ...mass.provenance],
    details: { "mass [kg]": mass.value, "power per mass [W/kg]": perMass.value },
  };
}

function muonFluxOf(flux: number | undefined, catalogue: Catalogue, field: string): Datum {
  if (flux !== undefined) {
    const value = positiveNumber(`${field}.flux`, flux, "muons a second and square metre");
    return { value, provenance: given(`${field}: flux`, value, "1/(m^2 s)") };
  }
  const vertical = datum(catalogue, "muons", "vertical_intensity", "1/(m^2 s sr)");
  return { value: horizontalFlux(vertical.value), provenance: vertical.provenance };
}

function powerPerMassOf(value: number | undefined, catalogue: Catalogue, field: string): Datum {
  if (value === undefined) return datum(catalogue, "background", "power_per_mass", "W/kg");
  const perMass = positiveNumber(`${field}.powerPerMass`, value, "watts per kilogram");
  return { value: perMass, provenance: given(`${field}: power per mass`, perMass, "W/kg") };
}

function massOf(
  options: Exclude<Background, { rate: number }>,
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

/** A number of data/loads/particles.csv, which has to be in this unit, spelled so. */
function datum(catalogue: Catalogue, property: string, parameter: string, unit: string): Datum {
  const law = catalogue.laws("loads", "particles").find((each) => each.property === property);
  const found = law?.parameters.get(parameter);
  const row = `particles.csv: ${property} ${parameter}`;
  if (!found) throw new FieldError(row, "a row", found);
  const written = found.provenance.unit;
  if (written === unit) return found;
  throw new FieldError(row, `the unit ${unit}`, written);
}
