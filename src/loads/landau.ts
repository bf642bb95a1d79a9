/**
 * Landau's law of how the energy that a fast particle loses in a thin layer fluctuates.
 * @module
 */
import { type Interpolant, monotoneCubic } from "../numerics/interpolation.js";
import { integrate } from "../numerics/quadrature.js";
import type { Random } from "../numerics/random.js";

/** Where Landau's density is largest: λ = −0.22278, of density 0.18066. */
export const landauMode = -0.22278298;

/** E[(1 − λ)₊] = (1/2πi) ∫ e^(s ln s + s) ds/s² up a line at Re s = ½. */
const shortOfOne = 0.6280478073910283;

/**
 * A number λ of Landau's law, whose density is (1/π) ∫₀^∞ e^(−t ln t − λt) sin πt dt and falls as 1/λ²,
 * so that it has no mean. Exact, from an even number U in (−π/2, π/2) and an exponential one W:
 *   λ = (π/2 + U) tan U − ln[W cos U / (π/2 + U)].
 * Source: L. Landau, On the energy loss of fast particles by ionization, J. Phys. USSR 8, 201 (1944),
 * a stable law of exponent 1 and skewness 1; drawn as J. M. Chambers, C. L. Mallows and B. W. Stuck, A
 * method for simulating stable random variables, J. Am. Stat. Assoc. 71, 340 (1976), scaled by π/2.
 */
export function landau(random: Random): number {
  const angle = (random.uniform() - 0.5) * Math.PI;
  const turned = Math.PI / 2 + angle;
  return turned * Math.tan(angle) - Math.log((random.exponential() * Math.cos(angle)) / turned);
}

/** A number of Landau's law below a cut. */
export function landauBelow(cut: number, random: Random): number {
  for (;;) {
    const lambda = landau(random);
    if (lambda <= cut) return lambda;
  }
}

/** Share of Landau's law above λ, for λ of 0 or more: (1/π) ∫₀^∞ e^(−t ln t − λt) sin πt dt/t. */
export function landauAbove(lambda: number): number {
  return overLogarithm((t) => Math.exp(-lambda * t), lambda);
}

/**
 * Mean of the part of Landau's law below a cut, for a cut of 1 or more; tends to ln(cut) − 1 + γ with
 * Euler's γ. From E[(cut − λ)₊], the integral of the cumulative share.
 */
export function landauMeanBelow(cut: number): number {
  const share = 1 - landauAbove(cut);
  const below =
    shortOfOne + cut - 1 - overLogarithm((t) => (Math.exp(-t) - Math.exp(-cut * t)) / t, cut);
  return cut - below / share;
}

/**
 * The cut below which Landau's law has this mean.
 * @param mean - from 0 to 22
 */
export function landauCut(mean: number): number {
  if (!cuts) {
    const logarithms = Array.from({ length: 120 }, (_, i) => 0.2 * i);
    const means = logarithms.map((u) => landauMeanBelow(Math.exp(u)));
    cuts = monotoneCubic(means, logarithms);
  }
  return Math.exp(cuts.value(mean));
}

/** ln(cut) over the mean. */
let cuts: Interpolant | undefined;

/** (1/π) ∫ e^(−t ln t) f(t) sin πt dt/t in ln t; from t = 20 on nothing is left of it. */
function overLogarithm(f: (t: number) => number, lambda: number): number {
  const low = Math.log(1e-10 / Math.max(1, lambda));
  const integrand = (u: number) => {
    const t = Math.exp(u);
    return (Math.exp(-t * u) * Math.sin(Math.PI * t) * f(t)) / Math.PI;
  };
  return integrate(integrand, low, 0, 1e-9) + integrate(integrand, 0, Math.log(20), 1e-9);
}
