/**
 * Mean heat of muons that cross the chip.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, Datum } from "../materials/types.js";
import { given, type Provenance } from "../provenance.js";
import { anObject, positive, positiveNumber } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import {
  type Angle,
  type Area,
  type Energy,
  type Length,
  toSI,
  wanted,
} from "../units/quantity.js";
import { boxSum, skySum } from "./angle-law.js";
import type { HeatLoad } from "./heat-load.js";
import { stoppingPower } from "./stopping-power.js";

/** A die under the open sky. */
export type Muons = {
  /** Name in the budget, `muons` by default. */
  readonly name?: string;
  /** Of the die, in the catalogue. */
  readonly material: string;
  /** Thickness of the die [m]. */
  readonly thickness: Length;
  /** Through a horizontal face [1/(m² s)]; at sea level by default. */
  readonly flux?: number;
  /**
   * n of an intensity that falls as cosⁿ of the zenith angle, 2 by default; 0 for one that is the same
   * from everywhere, as in space, with a `flux` that counts both sides of the face.
   */
  readonly exponent?: number;
  /** Momentum times c, for the stopping power [J]; that of minimum ionisation by default. */
  readonly momentum?: Energy;
} & (
  | {
      /** Of its upper face [m²]; the die lies flat and its edges count for nothing. */
      readonly area: Area;
    }
  | {
      /** Side of the die along x [m]. */
      readonly width: Length;
      /** Side of the die along y [m]. */
      readonly length: Length;
      /** About its width, so that its length rises from the horizontal [rad]; 0 by default. */
      readonly tilt?: Angle;
    }
);

/**
 * Mean heat of cosmic-ray muons in a die: rate × mean path × dE/dx. With the intensity I_v cosⁿθ
 *   rate = I_v ∫ cosⁿθ A(Ω) dΩ,  A the area the die shows,  and  P = ρ S V I_v 2π/(n + 1),
 * whatever the die's shape and tilt: what it shows less of, it is longer to cross. For a thin die
 * that lies flat the mean path is (n + 2)/(n + 1) of its thickness. S is the mass stopping power of a
 * minimum-ionising particle, or of muons of a given momentum (`stoppingPower`); at their mean energy
 * of 4 GeV they lose about a fifth more in silicon, and energy carried out by fast electrons about
 * makes up for it in half a millimetre.
 * Muons are the smaller part in an unshielded laboratory: see `background`.
 * Not included: building and altitude (twice as many at 2 km).
 * Source: Particle Data Group, Review of Particle Physics, chapters Cosmic rays and Passage of
 * particles through matter; the angular averages follow from cosⁿ.
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function muons(
  options: Muons,
  catalogue: Catalogue = standardCatalogue(),
  field = "muons",
): HeatLoad {
  anObject(field, options);
  const { name = "muons", exponent = 2 } = options;
  const die = readDie(options, field);
  if (!(typeof exponent === "number" && exponent >= 0 && exponent <= 20)) {
    throw new FieldError(`${field}.exponent`, "a power of the cosine from 0 to 20", exponent);
  }
  const material = catalogue.material(options.material, `${field}.material`);
  const density = material.constant("density");
  const stopping = stoppingOf(options, catalogue, field);
  const vertical = verticalIntensity(options.flux, exponent, catalogue, field);

  const rate = vertical.value * die.shown(exponent);
  const path = (die.volume * skySum(exponent)) / die.shown(exponent);
  const energy = path * density.value * stopping.value;
  return {
    name,
    power: rate * energy,
    provenance: [
      vertical.provenance,
      density.provenance,
      ...stopping.provenance,
      ...die.provenance,
    ],
    details: { "rate [1/s]": rate, "mean path [m]": path, "mean energy of a muon [J]": energy },
  };
}

/** Muons through a horizontal face, ∫ I_v cosⁿθ · cosθ dΩ = 2π/(n + 2) I_v [1/(m² s)]. */
export function horizontalFlux(verticalIntensity: number, exponent = 2): number {
  return ((2 * Math.PI) / (exponent + 2)) * verticalIntensity;
}

/** A die's volume [m³], and what it shows to a sky of cosⁿ [m² sr]. */
interface DieUnderSky {
  readonly volume: number;
  shown(exponent: number): number;
  readonly provenance: readonly Provenance[];
}

function readDie(options: Muons, field: string): DieUnderSky {
  const thickness = positive(`${field}.thickness`, options.thickness, "length");
  const thick = given(`${field}: thickness`, thickness, "m");
  const width = "width" in options ? options.width : undefined;
  if ("area" in options && options.area !== undefined) {
    if (width !== undefined) {
      throw new FieldError(field, "either an area, or width and length", "both");
    }
    const area = positive(`${field}.area`, options.area, "area");
    return {
      volume: area * thickness,
      shown: (exponent) => horizontalFlux(area, exponent),
      provenance: [given(`${field}: area`, area, "m^2"), thick],
    };
  }
  const sides = options as Extract<Muons, { width: Length }>;
  if (sides.width === undefined) return missingArea(field);
  const box = {
    width: positive(`${field}.width`, sides.width, "length"),
    length: positive(`${field}.length`, sides.length, "length"),
    thickness,
  };
  const tilt = toSI(`${field}.tilt`, sides.tilt ?? 0, "angle");
  return {
    volume: box.width * box.length * thickness,
    shown: (exponent) => boxSum(box, tilt, exponent),
    provenance: [
      given(`${field}: width`, box.width, "m"),
      given(`${field}: length`, box.length, "m"),
      thick,
      given(`${field}: tilt`, tilt, "rad"),
    ],
  };
}

function missingArea(field: string): never {
  throw new FieldError(`${field}.area`, `${wanted("area")}, or width and length`, undefined);
}

/** Of the catalogue at minimum ionisation, or at a momentum. */
export function stoppingOf(
  { material, momentum }: Pick<Muons, "material" | "momentum">,
  catalogue: Catalogue,
  field: string,
): { readonly value: number; readonly provenance: readonly Provenance[] } {
  if (momentum === undefined) {
    const least = catalogue.material(material, `${field}.material`).constant("mass_stopping_power");
    return { value: least.value, provenance: [least.provenance] };
  }
  const energy = positive(`${field}.momentum`, momentum, "energy");
  const stopping = stoppingPower(material, energy, catalogue, `${field}.momentum`);
  return {
    value: stopping.value,
    provenance: [...stopping.provenance, given(`${field}: momentum times c`, energy, "J")],
  };
}

function verticalIntensity(
  flux: number | undefined,
  exponent: number,
  catalogue: Catalogue,
  field: string,
): Datum {
  if (flux !== undefined) {
    const value = positiveNumber(`${field}.flux`, flux, "muons a second and square metre");
    const provenance = given(`${field}: flux`, value, "1/(m^2 s)");
    return { value: value / horizontalFlux(1, exponent), provenance };
  }
  return datum(catalogue, "muons", "vertical_intensity", "1/(m^2 s sr)");
}

/** A number of data/loads/particles.csv, which has to be in this unit, spelled so. */
export function datum(
  catalogue: Catalogue,
  property: string,
  parameter: string,
  unit: string,
): Datum {
  const law = catalogue.laws("loads", "particles").find((each) => each.property === property);
  const found = law?.parameters.get(parameter);
  const row = `particles.csv: ${property} ${parameter}`;
  if (!found) throw new FieldError(row, "a row", found);
  const written = found.provenance.unit;
  if (written === unit) return found;
  throw new FieldError(row, `the unit ${unit}`, written);
}
