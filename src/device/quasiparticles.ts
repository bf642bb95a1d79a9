/**
 * Quasiparticles: electrons that heat, light or a particle has unpaired.
 * @module
 */
import { boltzmann } from "../units/constants.js";
import { FieldError } from "../units/errors.js";
import { energyGap, overQuasiparticles, type Superconductor } from "./superconductor.js";

/**
 * Density of quasiparticles in thermal equilibrium [1/m³], the integral without approximation:
 *
 *   n = 4 N₀ ∫ E f(E)/√(E² − Δ²) dE from Δ(T),  f = 1/(1 + e^(E/k_B T))
 *
 * 0 where it is smaller than any number. From T_c on 4 N₀ k_B T ln 2.
 * Not included: quasiparticles that readout, light and particles keep alive. In aluminium 17 to
 * 72 per µm³ were measured below 160 mK, above what is thermal there (de Visser et al., Appl. Phys.
 * Lett. 100, 162601 (2012)).
 * Source: Kaplan et al., Phys. Rev. B 14, 4854 (1976).
 * @param temperature - from 0 [K]
 * @throws FieldError when the superconductor has no density of states
 * @example quasiparticleDensity(superconductor({ material: "aluminium", criticalTemperature: "1.2 K",
 *   gapRatio: 1.764 }), 0.2) // 1.266e20: 127 per µm³
 */
export function quasiparticleDensity(superconductor: Superconductor, temperature: number): number {
  const { name, densityOfStates: N0 } = superconductor;
  if (N0 === undefined) {
    const wanted = 'a density of states such as "1.72e10 1/(eV um^3)", to count quasiparticles';
    throw new FieldError(`${name}.densityOfStates`, wanted, undefined);
  }
  const T = checked("quasiparticleDensity", temperature);
  if (T === 0) return 0;
  const gap = energyGap(superconductor, T);
  if (gap === 0) return 4 * N0 * boltzmann * T * Math.LN2;
  return 4 * N0 * gap * overQuasiparticles(gap / (boltzmann * T), (energy) => energy);
}

/** @throws RangeError unless it is a temperature from 0 [K] */
export function checked(where: string, temperature: number): number {
  if (Number.isFinite(temperature) && temperature >= 0) return temperature;
  throw new RangeError(`${where}: expected a temperature from 0 K, got ${temperature}`);
}
