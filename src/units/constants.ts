/**
 * Constants of nature in SI.
 * Exact by definition: BIPM, The International System of Units (SI), 9th edition (2019), table 1.
 * @module
 */

// Exact by definition
/** Boltzmann constant [J/K] */
export const boltzmann = 1.380649e-23;
/** Elementary charge [C] */
export const elementaryCharge = 1.602176634e-19;
/** Planck constant [J s] */
export const planck = 6.62607015e-34;
/** Speed of light in vacuum [m/s] */
export const speedOfLight = 299792458;
/** Avogadro constant [1/mol] */
export const avogadro = 6.02214076e23;

// Derived from them, exact
/** Gas constant [J/(mol K)] */
export const gasConstant = avogadro * boltzmann;
/** Reduced Planck constant [J s] */
export const reducedPlanck = planck / (2 * Math.PI);
/** Sommerfeld value of the Lorenz number, (π²/3)(k_B/e)² = 2.4430e-8 [W Ω/K²] */
export const lorenz = (Math.PI ** 2 / 3) * (boltzmann / elementaryCharge) ** 2;
/** Stefan-Boltzmann constant, 2π⁵k_B⁴/(15h³c²) [W/(m² K⁴)] */
export const stefanBoltzmann =
  (2 * Math.PI ** 5 * boltzmann ** 4) / (15 * planck ** 3 * speedOfLight ** 2);
/** BCS ratio Δ(0)/(k_B T_c) = π e^(−γ), γ Euler's constant = 1.76388 */
export const bcsGapRatio = Math.PI * Math.exp(-0.5772156649015329);

// Measured
/** Bohr magneton [J/T]; Tiesinga et al., CODATA 2018, Rev. Mod. Phys. 93, 025010 (2021), to 3e-10 */
export const bohrMagneton = 9.2740100783e-24;
