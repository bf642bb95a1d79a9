/**
 * Thermal conductivity of a superconducting metal from that of the normal one: by unpaired electrons
 * and by the phonons that they scatter.
 * @module
 */
import { type TemperatureRange, warnOutside } from "../conductor.js";
import { runningIntegral } from "../numerics/chebyshev.js";
import type { Curve } from "./form.js";
import type { Piece } from "./piecewise.js";
import {
  gapOverTemperature,
  type SuperconductorState,
  type WeightedRatio,
  weightedRatio,
} from "./superconductor.js";

/** What scatters the phonons of a superconducting metal. */
export interface MetalPhonons {
  /** κ/T³ where the faces alone scatter them [W/(m K⁴)] */
  readonly boundary: number;
  /** κ/T² where normal electrons alone scatter them [W/(m K³)] */
  readonly lattice: number;
}

/** Below this T/T_c no unpaired electron is left to scatter a phonon: 2/(1 + eʸ) is 1e-15. */
const faces = 0.05;

/**
 * The pieces of a normal metal with its electrons paired below T_c:
 *
 *   κ = (κₙ − κ_g(0)) R(T/T_c) + κ_g(y),  κ_g(y) = 1/[1/(b T³) + (2/(1 + eʸ))/(g T²)],  y = Δ(T)/(k_B T)
 *
 * R is the ratio of Bardeen, Rickayzen & Tewordt (1959). Phonons are scattered by the faces (b) and by
 * the unpaired electrons (g in the normal state), whose scattering falls as their absorption of
 * ultrasound does, by 2/(1 + eʸ) (Bardeen, Cooper & Schrieffer, Phys. Rev. 108, 1175 (1957)). κₙ has the
 * phonons of the normal state in it, less than a hundredth; so κ meets κₙ at T_c.
 */
export function condensed(
  pieces: readonly Piece[],
  state: SuperconductorState,
  phonons: MetalPhonons,
): Piece[] {
  const { criticalTemperature: Tc, gapRatio } = state;
  const electrons = weightedRatio(gapRatio);
  const lattice = latticeCurve(state, phonons, electrons);
  return pieces.flatMap(({ from, to, curve }): Piece[] => {
    if (from >= Tc) return [{ from, to, curve }];
    const value = (T: number) => curve.value(T) * electrons.ratio(T / Tc) + lattice.value(T);
    const [power] = curve.powers?.length === 1 ? curve.powers : [];
    const linear = power?.exponent === 2 ? 2 * power.coefficient : undefined;
    const integral = (T: number) =>
      linear! * Tc ** 2 * electrons.integral(T / Tc) + lattice.integral(T);
    const cold: Curve = linear === undefined ? { value } : { value, integral };
    const below = { from, to: Math.min(to, Tc), curve: cold };
    return to > Tc ? [below, { from: Tc, to, curve }] : [below];
  });
}

/** κ_g(y) − κ_g(0) R from zero temperature to T_c, where it is 0, and its integral. */
function latticeCurve(
  { criticalTemperature: Tc, gapRatio }: SuperconductorState,
  { boundary, lattice }: MetalPhonons,
  electrons: WeightedRatio,
): Required<Pick<Curve, "value" | "integral">> {
  const value = (T: number) => {
    const left = 2 / (1 + Math.exp(gapOverTemperature(T / Tc, gapRatio)));
    const [byFaces, byElectrons] = [1 / (boundary * T ** 3), 1 / (lattice * T ** 2)];
    return 1 / (byFaces + left * byElectrons) - electrons.ratio(T / Tc) / (byFaces + byElectrons);
  };
  const start = faces * Tc;
  const integralBelow = (T: number) => (boundary / 4) * T ** 4;
  let above: ((T: number) => number) | undefined;
  return {
    value,
    integral(T) {
      if (T <= start) return integralBelow(T);
      above ??= runningIntegral(value, start, Tc);
      return integralBelow(start) + above(T);
    },
  };
}

/** The warning where phonons carry most and their mean free path was not given. */
export function ofGrains(
  label: string,
  { criticalTemperature }: SuperconductorState,
): TemperatureRange {
  const law =
    `${label}: below T_c/5 phonons carry most, here between grains of a usual size; ` +
    "give meanFreePath";
  return warnOutside(law, Number((0.2 * criticalTemperature).toPrecision(3)));
}
