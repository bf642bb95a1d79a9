/**
 * Mean energy that a heavy charged particle loses on its way through matter.
 * @module
 */

import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import type { Provenance } from "../provenance.js";
import { elementaryCharge } from "../units/constants.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import { formatGiven } from "../units/format.js";
import { lawNumber, propertyNumber } from "./law-number.js";

/** −⟨dE/dx⟩/ρ and what it was made of. */
export interface StoppingPower {
  /** Energy lost for each mass an area crossed [J m²/kg]; 1 MeV cm²/g is 1.602e-14 */
  readonly value: number;
  /** Sources of the numbers that enter. */
  readonly provenance: readonly Provenance[];
}

export function stoppingMaterials(catalogue: Catalogue = standardCatalogue()): readonly string[] {
  return betheLaws(catalogue).map((law) => law.property);
}

function betheLaws(catalogue: Catalogue) {
  return catalogue.laws("loads", "stopping-power").filter((law) => law.form === "bethe");
}

/** What a muon's loss by ionisation depends on. */
export interface Ionisation {
  /** β² and βγ of the muon. */
  readonly betaSquared: number;
  readonly betaGamma: number;
  /** ξ over ρx: (K/2)(Z/A)/β² [J m²/kg], the scale of the loss's fluctuations. */
  readonly scale: number;
  /** W, the most that one electron can receive [J]. */
  readonly largestTransfer: number;
  /** I, the mean excitation energy [J]. */
  readonly excitation: number;
  /** δ, the density effect. */
  readonly densityEffect: number;
  /** m_ec² [J] */
  readonly electron: number;
  readonly provenance: readonly Provenance[];
}

/**
 * Mean mass stopping power of a muon by ionisation, Bethe's formula with Sternheimer's density effect:
 *   K (Z/A)/β² [½ ln(2m_ec²β²γ²W/I²) − β² − δ/2],  W the most that one electron can receive.
 * Valid from βγ of 0.1 to 1000; 0.1 % against the muon tables of silicon at its minimum, 1 % to
 * 10 GeV/c, 3 % at 100 GeV/c, since loss by radiation and small corrections are not included.
 * Source: Particle Data Group, Prog. Theor. Exp. Phys. 2022, 083C01 (2022), Passage of particles
 * through matter, equation 34.5; R. M. Sternheimer et al., At. Data Nucl. Data Tables 30, 261 (1984).
 * @param momentum - times the speed of light [J]
 * @param field - path of the momentum in the user's description, for errors
 * @throws FieldError outside the valid range; UnknownNameError listing the materials
 */
export function stoppingPower(
  material: string,
  momentum: number,
  catalogue: Catalogue = standardCatalogue(),
  field = "momentum",
): StoppingPower {
  const terms = ionisation(material, momentum, catalogue, field);
  const { betaSquared, betaGamma, largestTransfer, excitation, densityEffect } = terms;
  const energies = 2 * terms.electron * betaGamma ** 2 * largestTransfer;
  const bracket = Math.log(energies / excitation ** 2) / 2 - betaSquared - densityEffect / 2;
  return { value: 2 * terms.scale * bracket, provenance: terms.provenance };
}

/**
 * What a muon's loss depends on: the terms of Bethe's formula.
 * @param momentum - times the speed of light [J]
 * @param field - path of the momentum in the user's description, for errors
 * @throws FieldError outside βγ of 0.1 to 1000; UnknownNameError listing the materials
 */
export function ionisation(
  material: string,
  momentum: number,
  catalogue: Catalogue = standardCatalogue(),
  field = "momentum",
): Ionisation {
  const law = betheLaws(catalogue).find((each) => each.property === material);
  if (!law) {
    throw new UnknownNameError(field, "stopping power of", material, stoppingMaterials(catalogue));
  }
  const electron = propertyNumber(catalogue, "stopping-power", "electron", "rest_energy");
  const muon = restEnergyOfMuon(catalogue);
  const coefficient = propertyNumber(catalogue, "stopping-power", "bethe", "coefficient");
  const betaGamma = momentum / muon.value;
  if (!(betaGamma >= 0.1 && betaGamma <= 1000)) {
    const wanted =
      "a momentum times c from 10.6 MeV to 105 GeV, where Bethe's formula holds for muons";
    throw new FieldError(field, wanted, formatGiven(momentum / elementaryCharge, "eV"));
  }
  const number = (name: string) => lawNumber(law, name, `stopping-power.csv: ${material}`).value;
  const gamma = Math.hypot(1, betaGamma);
  const betaSquared = (betaGamma / gamma) ** 2;
  const ratio = electron.value / muon.value;
  return {
    betaSquared,
    betaGamma,
    scale: (coefficient.value * number("charge_over_mass")) / betaSquared / 2,
    largestTransfer: (2 * electron.value * betaGamma ** 2) / (1 + 2 * gamma * ratio + ratio ** 2),
    excitation: number("mean_excitation_energy"),
    densityEffect: sternheimer(betaGamma, number),
    electron: electron.value,
    provenance: [...law.provenance, electron.provenance, muon.provenance, coefficient.provenance],
  };
}

/**
 * Momentum times c at which a muon loses least in a material [J]: βγ of about 3.5.
 * @throws UnknownNameError listing the materials
 */
export function leastLossMomentum(
  material: string,
  catalogue: Catalogue = standardCatalogue(),
  field = "momentum",
): number {
  const muon = restEnergyOfMuon(catalogue).value;
  // The loss falls, then rises: thirds close in on the place between.
  let [low, high] = [1, 10];
  const lossAt = (betaGamma: number) =>
    stoppingPower(material, betaGamma * muon, catalogue, field).value;
  while (high - low > 1e-4) {
    const third = (high - low) / 3;
    if (lossAt(low + third) < lossAt(high - third)) high -= third;
    else low += third;
  }
  return ((low + high) / 2) * muon;
}

/** Sternheimer's δ, in the form with 2 ln 10. */
function sternheimer(betaGamma: number, number: (name: string) => number): number {
  const x = Math.log10(betaGamma);
  const linear = 2 * Math.LN10 * x - number("c");
  if (x >= number("x1")) return linear;
  if (x >= number("x0")) return linear + number("a") * (number("x1") - x) ** number("k");
  return number("delta0") * 10 ** (2 * (x - number("x0")));
}

function restEnergyOfMuon(catalogue: Catalogue) {
  return propertyNumber(catalogue, "stopping-power", "muon", "rest_energy");
}
