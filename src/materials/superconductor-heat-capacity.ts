/**
 * Heat capacity of the electrons of a superconductor.
 * @module
 */
import { integrateBy } from "../numerics/quadrature.js";
import {
  type FallingRatio,
  gapOverTemperature,
  gapSquareFall,
  once,
  partedSeries,
  seriesIn,
  type WeightedRatio,
} from "./superconductor.js";

const kept = new Map<number, WeightedRatio>();
/** Below this T/T_c the ratio is smaller than any number: e^(−880). */
const tableLow = 0.002;

/**
 * Heat capacity of the electrons of a superconductor over what they would have in the normal state,
 * C_es/(γT), and its integral J(t) = ∫₀ᵗ τ R(τ) dτ, so that the electrons' enthalpy is γ T_c² J(T/T_c).
 *
 *   C_es/(γT) = (6/π²) ∫₀^∞ f(1 − f) [e² + ½ (Δ(0)/k_B T)² g] du,  g = −d(Δ²/Δ(0)²)/d ln T,
 *   e = √(u² + y²),  f = 1/(1 + eᵉ),  y = Δ(T)/(k_B T)
 *
 * Tabulated once for each gap ratio to a relative 1e-9. At T_c the ratio is 1 + 12/(7 ζ(3)) = 2.426 in
 * weak coupling; the enthalpy is continuous, there is no latent heat.
 * A gap ratio other than 1.764 stretches the weak-coupling gap with its shape kept, and the jump goes
 * as its square.
 * Below T_c/500 it is 0, smaller than any number. Below about T_c/4 real samples hold more heat than
 * this: aluminium up to four times as much at the lowest temperatures of Phillips, Phys. Rev. 114, 676
 * (1959).
 * Sources: Bardeen, Cooper & Schrieffer, Phys. Rev. 108, 1175 (1957); Mühlschlegel, Z. Phys. 155, 313
 * (1959), who tabulated it; other gap ratios: Padamsee, Neighbor & Shiffman, J. Low Temp. Phys. 12, 387
 * (1973).
 * @param gapRatio - Δ(0)/(k_B T_c)
 */
export function electronHeatRatio(gapRatio: number): WeightedRatio {
  return once(kept, gapRatio, () => fallingHeat(gapRatio));
}

function fallingHeat(gapRatio: number): FallingRatio {
  // R eʸ (1 + y)^(−5/2) stays of order one and is smooth in √(1 − t).
  const table = partedSeries(
    (s) => {
      const t = 1 - s * s;
      const y = gapOverTemperature(t, gapRatio);
      return scaledIntegral(t, y, gapRatio) / growth(y);
    },
    tableLow,
    14,
  );
  const scaledAt = (t: number, y: number) =>
    seriesIn(table, Math.sqrt(1 - t), tableLow) * growth(y);
  return {
    ratio(t) {
      if (t > 1) return 1;
      if (t < tableLow) return 0;
      const y = gapOverTemperature(t, gapRatio);
      return scaledAt(t, y) * Math.exp(-y);
    },
    scaled: (t) => scaledAt(Math.max(t, tableLow), gapOverTemperature(t, gapRatio)),
  };
}

/** (1 + y)^(5/2) */
function growth(y: number): number {
  return (1 + y) * (1 + y) * Math.sqrt(1 + y);
}

/** e − y at which to cut the integral. */
const cuts = [0, 0.5, 1.5, 4, 8, 14, 22, 40];

/** R·eʸ by quadrature in u; the exponential is taken from e − y = u²/(e + y), without cancellation. */
function scaledIntegral(t: number, y: number, gapRatio: number): number {
  const fall = 0.5 * (gapRatio / t) ** 2 * gapSquareFall(t);
  const integrand = (u: number) => {
    const e = Math.hypot(u, y);
    const above = Math.exp(-(u * u) / (e + y || 1));
    return (above / (1 + Math.exp(-e)) ** 2) * (e * e + fall);
  };
  let sum = 0;
  for (let i = 1; i < cuts.length; i++) {
    const [from, to] = [cuts[i - 1]!, cuts[i]!].map((d) => Math.sqrt(d * (d + 2 * y)));
    sum += integrateBy(integrand, from!, to!, 20);
  }
  return (6 / Math.PI ** 2) * sum;
}
