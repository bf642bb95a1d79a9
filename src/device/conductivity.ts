/**
 * Complex conductivity of a superconductor at microwave frequencies.
 * @module
 */
import type { SuperconductorState } from "../materials/superconductor.js";
import { trapezoid } from "../numerics/quadrature.js";
import { boltzmann, planck } from "../units/constants.js";
import { checked } from "./quasiparticles.js";
import { energyGap } from "./superconductor.js";

/** (σ₁ − iσ₂)/σₙ */
export interface ComplexConductivity {
  /** σ₁/σₙ: what quasiparticles, and photons above the gap, dissipate. */
  readonly real: number;
  /** σ₂/σₙ: the inertia of the pairs. */
  readonly imaginary: number;
}

/**
 * Complex conductivity over that of the normal state, the integrals without approximation:
 *
 *   σ₁/σₙ = (2/hν) ∫ [f(E) − f(E + hν)] g(E) dE from Δ
 *         + (1/hν) ∫ [1 − 2f(E + hν)] g(E) dE from Δ − hν to −Δ, where hν > 2Δ
 *   σ₂/σₙ = (1/hν) ∫ [1 − 2f(E + hν)] h(E) dE from the larger of Δ − hν and −Δ to Δ
 *
 * with g = |E² + Δ² + hνE|/(√(E² − Δ²) √((E + hν)² − Δ²)),
 * h = (E² + Δ² + hνE)/(√(Δ² − E²) √((E + hν)² − Δ²)), and the gap Δ(T). Substitutions take the roots out, so that each integral is exact to ten digits in some
 * tens of points.
 * Valid: dirty or extremely anomalous limit, no depairing, quasiparticles in equilibrium.
 * Source: Mattis & Bardeen, Phys. Rev. 111, 412 (1958), Eqs. 3.9 and 3.10.
 * @param frequency - ν, greater than 0 [Hz]
 * @param temperature - from 0 [K]
 * @example conductivityRatio({ criticalTemperature: 1.2, gapRatio: 1.764 }, 5e9, 0.2).real // 4.64e-4
 */
export function conductivityRatio(
  state: SuperconductorState,
  frequency: number,
  temperature: number,
): ComplexConductivity {
  if (!(Number.isFinite(frequency) && frequency > 0)) {
    throw new RangeError(`conductivityRatio: expected a frequency above 0 Hz, got ${frequency}`);
  }
  const T = checked("conductivityRatio", temperature);
  const gap = energyGap(state, T);
  if (gap === 0) return { real: 1, imaginary: 0 };
  const y = T === 0 ? Number.POSITIVE_INFINITY : gap / (boltzmann * T);
  const w = (planck * frequency) / gap;
  return { real: absorbed(y, w) + pairBreaking(y, w), imaginary: inertia(y, w) };
}

/**
 * Photons that quasiparticles absorb. In energies of Δ, with x = 1 + w sinh²v:
 * dx/(√(x − 1) √(x + w − 1)) = 2 dv.
 */
function absorbed(y: number, w: number): number {
  const q = Math.exp(-y);
  if (q === 0) return 0;
  const photon = Math.exp(-y * w);
  const end = Math.asinh(Math.sqrt(40 / (y * w)));
  const integrand = (v: number) => {
    const above = w * Math.sinh(v) ** 2;
    const x = 1 + above;
    const decay = Math.exp(-y * above);
    const taken = decay / ((1 + q * decay) * (1 + q * decay * photon));
    return (taken * (x * x + 1 + w * x)) / Math.sqrt((x + 1) * (x + 1 + w));
  };
  return (4 / w) * q * -Math.expm1(-y * w) * trapezoid(integrand, end);
}

/** Photons that break pairs, of energies e and w − e: e = w/2 − (w/2 − 1) cos θ. */
function pairBreaking(y: number, w: number): number {
  if (w <= 2) return 0;
  const integrand = (theta: number) => {
    const e = w / 2 - (w / 2 - 1) * Math.cos(theta);
    const other = w - e;
    return (Math.tanh((y * other) / 2) * (e * other - 1)) / Math.sqrt((e + 1) * (other + 1));
  };
  return trapezoid(integrand, Math.PI) / w;
}

/** Pairs: x = 1 − w/2 + (w/2) cos θ where the photon is too small to break one, else x = cos θ. */
function inertia(y: number, w: number): number {
  const small = w <= 2;
  const integrand = (theta: number) => {
    const c = Math.cos(theta);
    const x = small ? 1 - (w / 2) * (1 - c) : c;
    const root = small ? (1 + x) * (x + w + 1) : (x + w - 1) * (x + w + 1);
    const weight = x * x + 1 + w * x;
    // At w = 2 weight and root both vanish at the end, the weight faster.
    return root <= 0 ? 0 : (Math.tanh((y * (x + w)) / 2) * weight) / Math.sqrt(root);
  };
  return trapezoid(integrand, Math.PI) / w;
}
