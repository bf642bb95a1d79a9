/**
 * What temperature does to a resonator: its internal quality factor and its frequency.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { given, type Provenance } from "../provenance.js";
import { FieldError } from "../units/errors.js";
import { aboveZero, number, object, optional, type Plain, quantity } from "../units/fields.js";
import type { Frequency, Length } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { type ComplexConductivity, conductivityRatio } from "./conductivity.js";
import {
  type Superconductor,
  type SuperconductorOptions,
  superconductor,
  superconductorFields,
} from "./superconductor.js";

/** A resonator as its designer knows it. */
export interface ResonatorOptions {
  /** Of the film: a name in the catalogue, or numbers. */
  readonly superconductor: string | SuperconductorOptions;
  /** Of the resonance [Hz]. */
  readonly frequency: Uncertain<Frequency>;
  /** α, kinetic over total inductance at zero temperature, 0 to 1. */
  readonly kineticInductanceFraction: Uncertain<number>;
  /** Internal quality factor of all that does not depend on temperature, such as dielectrics; none by default. */
  readonly otherQuality?: Uncertain<number>;
  /** d [m]. Without it the film is taken as much thinner than its penetration depth. */
  readonly filmThickness?: Uncertain<Length>;
  /** λ, goes with the thickness [m]. */
  readonly penetrationDepth?: Uncertain<Length>;
}

export const resonatorFields = object<ResonatorOptions>({
  superconductor: superconductorFields,
  frequency: quantity("frequency"),
  kineticInductanceFraction: number(
    "a share of the inductance above 0, 1 at most",
    (share) => share > 0 && share <= 1,
  ),
  otherQuality: optional(aboveZero),
  filmThickness: optional(quantity("length")),
  penetrationDepth: optional(quantity("length")),
});

/** A resonator as a function of temperature. */
export interface Resonator {
  /** The superconductor it is made of. */
  readonly superconductor: Superconductor;
  /** ν [Hz] */
  readonly frequency: number;
  /** α */
  readonly kineticInductanceFraction: number;
  /** β, 2 for a thin film to 1 for a thick one. */
  readonly thicknessFactor: number;
  /** (σ₁ − iσ₂)/σₙ at a temperature from 0 [K]. */
  conductivity(temperature: number): ComplexConductivity;
  /**
   * Quality factor that quasiparticles alone allow, 2σ₂/(αβσ₁): σ₂/(ασ₁) for a thin film. Infinite where
   * nothing is lost that a number can hold, 0 from T_c on.
   */
  quasiparticleQuality(temperature: number): number;
  /** Internal quality factor with the other losses, 1/(1/Q + 1/Q_other). */
  internalQuality(temperature: number): number;
  /**
   * Shift of frequency from zero temperature over the frequency, (αβ/4) (σ₂(T) − σ₂(0))/σ₂(0): α/2 times
   * for a thin film. 0 or negative; linear, so only good where it is small against α.
   */
  frequencyShift(temperature: number): number;
  /** Sources of the numbers that enter. */
  readonly provenance: readonly Provenance[];
}

/**
 * A resonator from its description.
 *
 * Not included: two-level systems in dielectrics, whose loss and shift depend on temperature too;
 * quasiparticles out of equilibrium, which limit the quality factor far below T_c.
 * Source: Zmuidzinas, Annu. Rev. Condens. Matter Phys. 3, 169 (2012), and Gao, PhD thesis, California
 * Institute of Technology (2008), chapter 2; β = 1 + (2d/λ)/sinh(2d/λ).
 * @param field - path of the resonator in the user's description, for errors
 * @throws FieldError, UnknownNameError
 * @example resonator({ superconductor: "aluminium", frequency: "5 GHz", kineticInductanceFraction: 0.1 })
 *   .internalQuality(0.2) // 4.78e5
 */
export function resonator(
  options: ResonatorOptions,
  catalogue: Catalogue = standardCatalogue(),
  field = "resonator",
): Resonator {
  const plain = resonatorFields.read(options, field);
  const { frequency, kineticInductanceFraction: alpha, otherQuality } = plain;
  const film = superconductor(plain.superconductor, catalogue, `${field}.superconductor`);
  const otherLoss = otherQuality === undefined ? 0 : 1 / otherQuality;
  const { beta, provenance: depth } = thicknessFactor(plain, field);

  const conductivity = (T: number) => conductivityRatio(film, frequency, T);
  const atZero = conductivity(0).imaginary;
  const loss = (T: number) => {
    const { real, imaginary } = conductivity(T);
    return (alpha * beta * real) / (2 * imaginary);
  };
  return {
    superconductor: film,
    frequency,
    kineticInductanceFraction: alpha,
    thicknessFactor: beta,
    conductivity,
    quasiparticleQuality: (T) => 1 / loss(T),
    internalQuality: (T) => 1 / (loss(T) + otherLoss),
    frequencyShift: (T) => ((alpha * beta) / 4) * (conductivity(T).imaginary / atZero - 1),
    provenance: [
      ...film.provenance,
      given(`${field}: frequency`, frequency, "Hz"),
      given(`${field}: kinetic inductance fraction`, alpha, ""),
      ...depth,
      ...(otherQuality === undefined
        ? []
        : [given(`${field}: quality factor of other losses`, otherQuality, "")]),
    ],
  };
}

function thicknessFactor(
  { filmThickness: d, penetrationDepth: depth }: Plain<ResonatorOptions>,
  field: string,
) {
  if (d === undefined && depth === undefined) return { beta: 2, provenance: [] };
  if (d === undefined || depth === undefined) {
    const missing = d === undefined ? "filmThickness" : "penetrationDepth";
    const wanted = "thickness and penetration depth of the film together, or neither";
    throw new FieldError(`${field}.${missing}`, wanted, undefined);
  }
  const twice = (2 * d) / depth;
  return {
    beta: 1 + (twice < 700 ? twice / Math.sinh(twice) : 0),
    provenance: [
      given(`${field}: thickness of the film`, d, "m"),
      given(`${field}: penetration depth`, depth, "m"),
    ],
  };
}
