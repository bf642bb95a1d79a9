/**
 * Electrons to phonons inside a metal film.
 * @module
 */
import { type Conductor, powerConductor } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { given } from "../provenance.js";
import { anObject, positive, positiveNumber } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import type { Area, Length } from "../units/quantity.js";
import { alike } from "./alike.js";

/** A coupling that was measured or assumed: P = ΣV(Tₑⁿ − Tₚⁿ). */
export interface GivenCoupling {
  /** Σ [W/(m³ Kⁿ)] */
  readonly coefficient: number;
  /** n, 3 to 8 */
  readonly exponent: number;
}

/** A metal film or block: its area and thickness, or its volume. */
export type ElectronPhonon = {
  /** Name in the catalogue. */
  readonly metal: string;
  /** Which measured coupling, where the catalogue has more than one. */
  readonly sample?: string;
  /** Your own coupling in place of the catalogue's. */
  readonly coupling?: GivenCoupling;
  /** How many alike side by side, 1 by default. */
  readonly count?: number;
} & (
  | {
      /** Area of the film [m²]. */
      readonly area: Area;
      /** Thickness of the film [m]. */
      readonly thickness: Length;
      /** Not beside area and thickness. */
      readonly volume?: undefined;
    }
  | {
      /** Volume of the film [m³]. */
      readonly volume: number;
    }
);

/**
 * Heat path between the electrons of a metal and its phonons: P = ΣV(Tₑⁿ − Tₚⁿ).
 *
 * n = 5 in a clean bulk metal; thin disordered films show 4.5 to 6. Σ is known to a factor of about
 * two. Not included: phonons of a film thinner than their wavelength.
 * Source: F. Giazotto, T. T. Heikkilä, A. Luukanen, A. M. Savin and J. P. Pekola, Rev. Mod. Phys. 78,
 * 217 (2006), section II and table I.
 * @param field - path of the film in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function electronPhonon(
  options: ElectronPhonon,
  catalogue: Catalogue = standardCatalogue(),
  field = "electronPhonon",
): Conductor {
  anObject(field, options);
  const volume =
    options.volume === undefined
      ? positive(`${field}.area`, options.area, "area") *
        positive(`${field}.thickness`, options.thickness, "length")
      : positiveNumber(`${field}.volume`, options.volume, "a volume in cubic metres");
  const { coefficient, exponent, ranges, provenance } = options.coupling
    ? givenCoupling(options.coupling, `${field}.coupling`)
    : catalogue.material(options.metal, `${field}.metal`).electronPhononCoupling(options.sample);
  const film = powerConductor(electronPhononCoefficient(coefficient, volume), exponent, {
    ranges,
    provenance,
  });
  return alike(field, options.count, film, [["volume", volume, "m^3"]]);
}

function givenCoupling({ coefficient, exponent }: GivenCoupling, field: string) {
  positiveNumber(`${field}.coefficient`, coefficient, "Σ in W/(m³ Kⁿ)");
  if (!(exponent >= 3 && exponent <= 8)) {
    throw new FieldError(`${field}.exponent`, "a number from 3 to 8", exponent);
  }
  return {
    coefficient,
    exponent,
    ranges: [],
    provenance: [
      given(`${field}: coefficient`, coefficient, `W/(m^3 K^${exponent})`),
      given(`${field}: exponent`, exponent, ""),
    ],
  };
}

/** c of Θ = cTⁿ: ΣV. @param coupling - Σ [W/(m³ Kⁿ)] @param volume - V [m³] */
export function electronPhononCoefficient(coupling: number, volume: number): number {
  return coupling * volume;
}
