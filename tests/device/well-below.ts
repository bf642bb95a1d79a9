/** A closed form to compare the density of quasiparticles with. */
import { energyGap, type Superconductor } from "../../src/device/superconductor.js";
import { boltzmann } from "../../src/units/constants.js";

/**
 * Density of quasiparticles well below T_c [1/m³]:
 *
 *   n ≈ 2 N₀ √(2π k_B T Δ(0)) e^(−Δ(0)/k_B T)
 *
 * Valid: below T_c/5; there it is low by 2 to 4 %.
 * Source: Gao, PhD thesis, California Institute of Technology (2008), section 2.4.
 */
export function quasiparticleDensityWellBelow(film: Superconductor, temperature: number): number {
  const [gap, kT] = [energyGap(film, 0), boltzmann * temperature];
  if (kT === 0) return 0;
  return 2 * film.densityOfStates! * Math.sqrt(2 * Math.PI * kT * gap) * Math.exp(-gap / kT);
}
