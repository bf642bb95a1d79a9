/**
 * Thermal conductivity of phonons scattered only at the faces of the body, and their mean free path.
 * @module
 */
import { positive } from "../units/checks.js";
import { boltzmann, reducedPlanck } from "../units/constants.js";
import { FieldError } from "../units/errors.js";
import type { Length } from "../units/quantity.js";
import type { SoundSpeeds } from "./types.js";

/**
 * Thermal conductivity of phonons per mean free path and cubed temperature, κ/(Λ T³) [W/(m² K⁴)].
 *
 *   κ = (2π² k_B⁴ / (15 ħ³)) · ⅓ (1/v_L² + 2/v_T²) · Λ · T³
 *
 * which is κ = ⅓ C v Λ summed over one longitudinal and two transverse branches of the Debye solid.
 * Valid where the faces alone limit Λ: below about a hundredth of the Debye temperature.
 * Silicon at Λ = 1 mm: 1.11 W/(m K) at 1 K.
 * Source: Casimir, Physica 5, 495 (1938).
 */
export function phononConductivity({
  longitudinal,
  transverse,
}: Pick<SoundSpeeds, "longitudinal" | "transverse">): number {
  const slowness = (1 / longitudinal ** 2 + 2 / transverse ** 2) / 3;
  return ((2 * Math.PI ** 2 * boltzmann ** 4) / (15 * reducedPlanck ** 3)) * slowness;
}

/** x at the maximum of x³/(eˣ − 1). */
const dominant = 2.8214393721220787;

/**
 * Wavelength of the phonons that carry most of the energy at a temperature, λ = h v/(2.82 k_B T) [m].
 * Since λ T is constant, the same formula gives from a thickness the temperature [K] below which a film is
 * thinner than that.
 * Source: Planck's law for phonons, whose energy per frequency has its maximum at h f = 2.82 k_B T.
 * @param speed - of sound [m/s]
 * @example dominantWavelength(1290, 0.11) // 1.99e-7
 */
export function dominantWavelength(speed: number, temperature: number): number {
  return (2 * Math.PI * reducedPlanck * speed) / (dominant * boltzmann * temperature);
}

/** A plate in which phonons run along the faces. */
export interface PlateShape {
  /** Thickness of the plate [m]. */
  readonly thickness: Length;
  /** Longest path along the plate [m]: the width of the die. */
  readonly width: Length;
  /** Share of phonons that a face reflects specularly, 0 (default) up to below 1. */
  readonly specularity?: number;
}

/**
 * Mean free path of phonons in a thin plate [m].
 *
 *   Λ = ¾ t ln(ℓ/t) · (1 + p)/(1 − p), at most ℓ
 *
 * with thickness t, width ℓ and share of specular reflections p. The thin-film limit of Fuchs, with the
 * width in place of the mean free path in the bulk.
 * Valid: width at least about four times the thickness; a plate less wide is refused, take
 * `rodMeanFreePath`.
 * Measured dies are a factor of four either way from this: polished pure silicon longer (Klitsner et
 * al., Phys. Rev. B 38, 7576 (1988): above 99 % specular reflection below 1 K), sapphire and doped
 * silicon shorter (Bon-Mardion et al., arXiv:2605.06146 (2026)).
 * Sources: Fuchs, Proc. Camb. Phil. Soc. 34, 100 (1938); Ziman, Electrons and Phonons (1960),
 * section 11.4, for (1 + p)/(1 − p).
 * @throws FieldError when a length is not positive, the plate not thin, or p not in [0, 1)
 * @example plateMeanFreePath({ thickness: "0.5 mm", width: "20 mm" }) // 1.38e-3
 */
export function plateMeanFreePath(plate: PlateShape): number {
  const thickness = positive("plate.thickness", plate.thickness, "length");
  const width = positive("plate.width", plate.width, "length");
  if (width < 4 * thickness) {
    const wanted = `at least four times the thickness (${4 * thickness} m), or rodMeanFreePath`;
    throw new FieldError("plate.width", wanted, plate.width);
  }
  const diffuse = 0.75 * thickness * Math.log(width / thickness);
  return Math.min(width, diffuse * specularFactor("plate.specularity", plate.specularity));
}

/** A rod, square or round, along which phonons run. */
export interface RodShape {
  /** Side of the square, or diameter [m]. */
  readonly width: Length;
  /** Shape of the cross-section. */
  readonly section?: "square" | "round";
  /** Share of phonons that a face reflects specularly, 0 (default) up to below 1. */
  readonly specularity?: number;
}

/**
 * Mean free path of phonons in a long rod [m]: its diameter, or 1.115 times the side of a square
 * (2/√π, the diameter of the circle of equal area, within 1.2 %), times (1 + p)/(1 − p). With mirrors that
 * is too long for a square, whose chords differ: their sum gives 0.92, 0.86 and 0.84 of it for a p of 0.2,
 * 0.5 and 0.8.
 * Source: Casimir, Physica 5, 495 (1938); factor for the square from memory.
 * @throws FieldError when a length is not positive or p not in [0, 1)
 */
export function rodMeanFreePath(rod: RodShape): number {
  const width = positive("rod.width", rod.width, "length");
  const section = rod.section ?? "square";
  if (section !== "square" && section !== "round") {
    throw new FieldError("rod.section", '"square" or "round"', section);
  }
  const casimir = section === "square" ? 1.115 * width : width;
  return casimir * specularFactor("rod.specularity", rod.specularity);
}

function specularFactor(field: string, share = 0): number {
  if (!(share >= 0 && share < 1)) {
    throw new FieldError(field, "a share from 0 up to below 1", share);
  }
  return (1 + share) / (1 - share);
}
