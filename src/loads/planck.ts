/**
 * Blackbody radiation: what share lies in a band, and how many photons it is.
 * @module
 */
import { integrateBy } from "../numerics/quadrature.js";
import { boltzmann, planck, speedOfLight, stefanBoltzmann } from "../units/constants.js";
import { oneOf } from "../units/fields.js";

/** ζ(3), Apéry's constant: 2ζ(3) = ∫₀^∞ t²/(eᵗ − 1) dt */
const apery = 1.2020569031595942;
/** ∫₀^∞ tⁿ/(eᵗ − 1) dt for n = 1, 2, 3 */
const whole = [Number.NaN, Math.PI ** 2 / 6, 2 * apery, Math.PI ** 4 / 15] as const;

/**
 * Share of a blackbody's power at wavelengths up to λ, which depends on λT only:
 *   F(0→λT) = (15/π⁴) ∫ₓ^∞ t³/(eᵗ − 1) dt,  x = hc/(λ k_B T).
 * Source: M. F. Modest, Radiative Heat Transfer, 3rd ed. (2013), equation 1.23.
 * @param lambdaT - wavelength times temperature [m K], 0 to Infinity; 2898 µm K is the spectrum's peak
 * @returns 0 to 1, to 1e-12
 * @example bandFraction(2898e-6) // 0.2501
 */
export function bandFraction(lambdaT: number): number {
  return planckIntegral(3, reducedFrequency(lambdaT), Number.POSITIVE_INFINITY) / whole[3];
}

/**
 * Share of a blackbody's photons at wavelengths up to λ: ∫ₓ^∞ t²/(eᵗ − 1) dt / 2ζ(3).
 * @param lambdaT - wavelength times temperature [m K]
 */
export function photonFraction(lambdaT: number): number {
  return planckIntegral(2, reducedFrequency(lambdaT), Number.POSITIVE_INFINITY) / whole[2];
}

/**
 * Power of a blackbody's face, σT⁴ [W/m²].
 * @param temperature - [K]
 * @example exitance(300) // 459.3
 */
export function exitance(temperature: number): number {
  return stefanBoltzmann * temperature ** 4;
}

/**
 * Photons of a blackbody's face, 4π ζ(3) k_B³T³/(h³c²) = 1.5205e15 T³ [1/(s m²)].
 * @param temperature - [K]
 * @example photonExitance(1) // 1.5205e15
 */
export function photonExitance(temperature: number): number {
  return (4 * Math.PI * apery * (boltzmann * temperature) ** 3) / (planck ** 3 * speedOfLight ** 2);
}

/**
 * Power of a blackbody in one mode of one polarisation between two frequencies:
 *   P = ∫ hν/(exp(hν/k_BT) − 1) dν;  over all frequencies π²k_B²T²/(6h).
 * Source: J. Zmuidzinas, Appl. Opt. 42, 4989 (2003), for the single mode; the law is M. Planck's.
 * @param temperature - [K] @param from - [Hz] @param to - [Hz] @returns [W]
 */
export function planckPower(temperature: number, from: number, to: number): number {
  if (temperature === 0) return 0;
  const energy = boltzmann * temperature;
  const integral = planckIntegral(1, (planck * from) / energy, (planck * to) / energy);
  return (energy ** 2 / planck) * integral;
}

/**
 * Photons of a blackbody in one mode of one polarisation between two frequencies:
 *   Ṅ = ∫ dν/(exp(hν/k_BT) − 1) = (k_BT/h) [ln(1 − e⁻ˣ)].
 * @param temperature - [K] @param from - [Hz], above 0, where they are without end @returns [1/s]
 */
export function planckPhotonRate(temperature: number, from: number, to: number): number {
  if (temperature === 0) return 0;
  const energy = boltzmann * temperature;
  return (
    (energy / planck) * (logEmpty((planck * to) / energy) - logEmpty((planck * from) / energy))
  );
}

/** ln(1 − e⁻ˣ), to all digits at either end. */
function logEmpty(x: number): number {
  return x < Math.LN2 ? Math.log(-Math.expm1(-x)) : Math.log1p(-Math.exp(-x));
}

/**
 * Power of one mode where hν ≪ k_BT: P = k_B T Δν [W].
 * @param temperature - [K]
 * @param bandwidth - [Hz]
 * @example rayleighJeansPower(10, 1e9) // 1.380649e-13
 */
export function rayleighJeansPower(temperature: number, bandwidth: number): number {
  return boltzmann * temperature * bandwidth;
}

/** Photons of k_BT dν over hν between two frequencies: k_BT/h · ln(ν₂/ν₁) [1/s]. */
export function rayleighJeansPhotonRate(temperature: number, from: number, to: number): number {
  return ((boltzmann * temperature) / planck) * Math.log(to / from);
}

/** How the power of a mode hangs on the temperature of its source. */
export type ModeLaw = "planck" | "rayleigh-jeans";

export const modeLaw = oneOf("planck", "rayleigh-jeans");

/** Power [W] and photons [1/s] of a mode of a source, between two frequencies above 0 [Hz]. */
export function modeOf(law: ModeLaw, temperature: number, from: number, to: number) {
  return law === "planck"
    ? {
        power: planckPower(temperature, from, to),
        photonRate: planckPhotonRate(temperature, from, to),
      }
    : {
        power: rayleighJeansPower(temperature, to - from),
        photonRate: rayleighJeansPhotonRate(temperature, from, to),
      };
}

/** What Planck's law leaves of k_BT a mode: x/(eˣ − 1), x = hν/(k_BT). 0.582 at x = 1. */
export function rayleighJeansCorrection(frequency: number, temperature: number): number {
  const x = (planck * frequency) / (boltzmann * temperature);
  return x === 0 ? 1 : x / Math.expm1(x);
}

/** Mean number of photons in a mode, 1/(exp(hν/k_BT) − 1); none at 0 K. */
export function occupation(frequency: number, temperature: number): number {
  return temperature === 0 ? 0 : 1 / Math.expm1((planck * frequency) / (boltzmann * temperature));
}

function reducedFrequency(lambdaT: number): number {
  return (planck * speedOfLight) / (boltzmann * lambdaT);
}

/** ∫ tⁿ/(eᵗ − 1) dt from low to high, for n = 1, 2, 3. */
export function planckIntegral(n: 1 | 2 | 3, low: number, high: number): number {
  // The difference of two long integrals would lose the digits of a narrow band.
  if (high - low < 0.2 && high < 1.5 * low) {
    return integrateBy((t) => t ** n / Math.expm1(t), low, high, 10);
  }
  if (low > 1) return beyond(n, low) - beyond(n, high);
  if (high <= 1) return upTo(n, high) - upTo(n, low);
  return whole[n] - beyond(n, high) - upTo(n, low);
}

// Bernoulli numbers over factorials: t/(eᵗ − 1) = 1 − t/2 + Σ B₂ₖ t²ᵏ/(2k)!
const series = [
  1 / 12,
  -1 / 720,
  1 / 30240,
  -1 / 1209600,
  1 / 47900160,
  -691 / 1307674368000,
  1 / 74724249600,
];

/** ∫₀ˣ tⁿ/(eᵗ − 1) dt for x up to 1, to 1e-13. */
function upTo(n: number, x: number): number {
  const start = x ** n / n - x ** (n + 1) / (2 * (n + 1));
  return series.reduce(
    (sum, term, k) => sum + (term * x ** (n + 2 * k + 2)) / (n + 2 * k + 2),
    start,
  );
}

/** ∫ₓ^∞ tⁿ/(eᵗ − 1) dt for x above 1: Σ e⁻ᵏˣ (xⁿ/k + n xⁿ⁻¹/k² + n(n − 1) xⁿ⁻²/k³ …). */
function beyond(n: number, x: number): number {
  if (x > 745) return 0; // e⁻ˣ is no longer a number of its own
  let sum = 0;
  for (let k = 1; k <= 45; k++) {
    let term = x ** n / k;
    let bracket = term;
    for (let j = n; j > 0; j--) {
      term *= j / (k * x);
      bracket += term;
    }
    sum += Math.exp(-k * x) * bracket;
  }
  return sum;
}
