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
  const [N0, T] = [statesOf(superconductor), checked("quasiparticleDensity", temperature)];
  if (T === 0) return 0;
  const gap = energyGap(superconductor, T);
  if (gap === 0) return 4 * N0 * boltzmann * T * Math.LN2;
  return 4 * N0 * gap * overQuasiparticles(gap / (boltzmann * T), (energy) => energy);
}

/**
 * The closed form of the same well below T_c, for comparison with hand calculations [1/m³]:
 *
 *   n ≈ 2 N₀ √(2π k_B T Δ(0)) e^(−Δ(0)/k_B T)
 *
 * Valid: below T_c/5; there it is low by 2 to 4 %.
 * Source: Gao, PhD thesis, California Institute of Technology (2008), section 2.4.
 */
export function quasiparticleDensityWellBelow(
  superconductor: Superconductor,
  temperature: number,
): number {
  const [N0, T] = [statesOf(superconductor), checked("quasiparticleDensityWellBelow", temperature)];
  const [gap, kT] = [energyGap(superconductor, 0), boltzmann * T];
  return T === 0 ? 0 : 2 * N0 * Math.sqrt(2 * Math.PI * kT * gap) * Math.exp(-gap / kT);
}

/** N₀ [1/(J m³)] @throws FieldError when nobody said */
export function statesOf({ name, densityOfStates }: Superconductor): number {
  if (densityOfStates !== undefined) return densityOfStates;
  const wanted = 'a density of states such as "1.72e10 1/(eV um^3)", to count quasiparticles';
  throw new FieldError(`${name}.densityOfStates`, wanted, undefined);
}

/** @throws RangeError unless it is a temperature from 0 [K] */
export function checked(where: string, temperature: number): number {
  if (Number.isFinite(temperature) && temperature >= 0) return temperature;
  throw new RangeError(`${where}: expected a temperature from 0 K, got ${temperature}`);
}
