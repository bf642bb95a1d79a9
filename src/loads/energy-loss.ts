/**
 * Energy that one muon leaves on a path of given length: its mean, or drawn about it.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import type { Random } from "../numerics/random.js";
import { positive } from "../units/checks.js";
import type { Energy, Length } from "../units/quantity.js";
import { landauBelow, landauCut, landauMode } from "./landau.js";
import { type Ionisation, ionisation, leastLossMomentum } from "./stopping-power.js";

/** 1 − γ, with Euler's γ. */
const euler = 1 - 0.5772156649015329;

/** Loss on a path that a muon of one momentum may take. */
export interface EnergyLoss {
  /** Energy [J] on a path [m]; mean of what is drawn. */
  mean(path: number): number;
  /** The likeliest [J]; the mean itself where nothing fluctuates. */
  mostProbable(path: number): number;
  /** Energy [J], greater than 0 */
  draw(path: number, random: Random): number;
}

/** The mean loss on every path: density × stopping power × length. */
export function meanLoss(density: number, stopping: number): EnergyLoss {
  const mean = (path: number) => density * stopping * path;
  return { mean, mostProbable: mean, draw: mean };
}

/**
 * Loss that fluctuates by Landau's law about the mean, on a scale ξ = (K/2)(Z/A) ρx/β²:
 *   Δ = Δ̄ + ξ(λ − λ̄),  λ̄ = γ − 1 − β² − ln(ξ/W),
 * γ here Euler's and W the most that one electron can receive. Landau's λ has no mean, since he let an
 * electron receive any energy; here its law is cut where the mean of the rest is λ̄, which is close to
 * W e^(−β²) above the likeliest loss. So the mean stays density × stopping power × length, and the
 * likeliest loss is that of the Particle Data Group to what Δ̄ differs from Bethe's formula.
 * Fast electrons that leave the die take some of the tail with them: not included.
 * Landau's law is one for ξ/W below about 0.01. Where λ̄ < 0 (ξ/W above 0.2, decimetres of silicon for a
 * muon of least loss) a normal law of the variance ξW(1 − β²/2) takes its place. On paths so short that
 * ξ < I/10 (a micrometre of silicon), with hardly one collision, the mean is taken.
 * Source: Particle Data Group, Prog. Theor. Exp. Phys. 2022, 083C01 (2022), Passage of particles
 * through matter, section 34.2.9; B. Rossi, High-Energy Particles (1952), section 2.7, for the variance.
 */
export function landauLoss(density: number, stopping: number, terms: Ionisation): EnergyLoss {
  const { betaSquared, largestTransfer, excitation } = terms;
  const { mean } = meanLoss(density, stopping);
  const scale = (path: number) => terms.scale * density * path;
  const meanNumber = (xi: number) => -euler - betaSquared - Math.log(xi / largestTransfer);
  return {
    mean,
    mostProbable(path) {
      const xi = scale(path);
      return mean(path) + xi * (landauMode - meanNumber(xi));
    },
    draw(path, random) {
      const [average, xi] = [mean(path), scale(path)];
      if (xi < excitation / 10) return average;
      const middle = meanNumber(xi);
      const cut = middle < 0 ? undefined : landauCut(middle);
      const width = Math.sqrt(xi * largestTransfer * (1 - betaSquared / 2));
      for (;;) {
        const beside =
          cut === undefined ? width * random.normal() : xi * (landauBelow(cut, random) - middle);
        if (average + beside > 0) return average + beside;
      }
    },
  };
}

/** A layer that a muon crosses straight. */
export interface Layer {
  /** Material, by its name in the catalogue. */
  readonly material: string;
  /** Thickness along the path [m]. */
  readonly thickness: Length;
  /** Of the muon, times c [J]; that of least loss by default. */
  readonly momentum?: Energy;
}

/**
 * The likeliest energy that a muon loses in a layer:
 *   Δ_p = ξ [ln(2m_ec²β²γ²/I) + ln(ξ/I) + 0.200 − β² − δ],  ξ = (K/2)(Z/A) ρx/β²,
 * about 136 keV in half a millimetre of silicon, where the mean is 194 keV.
 * Source: Particle Data Group, Prog. Theor. Exp. Phys. 2022, 083C01 (2022), Passage of particles
 * through matter, equation 34.12; H. Bichsel, Straggling in thin silicon detectors, Rev. Mod. Phys. 60,
 * 663 (1988).
 * @returns energy [J] and what it was made of
 * @throws FieldError, UnknownNameError
 */
export function mostProbableLoss(
  { material, thickness, momentum }: Layer,
  catalogue: Catalogue = standardCatalogue(),
  field = "mostProbableLoss",
) {
  const path = positive(`${field}.thickness`, thickness, "length");
  const at = `${field}.momentum`;
  const energy =
    momentum === undefined
      ? leastLossMomentum(material, catalogue, `${field}.material`)
      : positive(at, momentum, "energy");
  const density = catalogue.material(material, `${field}.material`).constant("density");
  const terms = ionisation(material, energy, catalogue, at);
  const { betaSquared, betaGamma, excitation, densityEffect } = terms;
  const xi = terms.scale * density.value * path;
  const bracket =
    Math.log((2 * terms.electron * betaGamma ** 2) / excitation) +
    Math.log(xi / excitation) +
    0.2 -
    betaSquared -
    densityEffect;
  return { value: xi * bracket, provenance: [density.provenance, ...terms.provenance] };
}
