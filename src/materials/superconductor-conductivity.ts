/**
 * Thermal conductivity of a superconducting metal from that of the normal one: by unpaired electrons
 * and by the phonons that they scatter.
 * @module
 */
import { type TemperatureRange, warnOutside } from "../conductor.js";
import { runningIntegral } from "../numerics/chebyshev.js";
import type { Curve } from "./form.js";
import type { Piece } from "./piecewise.js";
import { gapOverTemperature, type SuperconductorState, weightedRatio } from "./superconductor.js";

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
 *   κ = κₙ R(T/T_c) + 1/[1/(b T³) + (2/(1 + eʸ))/(g T²)],  y = Δ(T)/(k_B T)
 *
 * R is the ratio of Bardeen, Rickayzen & Tewordt (1959). Phonons are scattered by the faces (b) and by
 * the unpaired electrons (g in the normal state), whose scattering falls as their absorption of
 * ultrasound does, by 2/(1 + eʸ) (Bardeen, Cooper & Schrieffer, Phys. Rev. 108, 1175 (1957)). At T_c
 * phonons carry less than a hundredth of what electrons do; above T_c they are left out.
 *
 * Without phonons κ falls to zero: below 0.0024 T_c e^(−y) is smaller than any number of the computer.
 */
export function condensed(
  pieces: readonly Piece[],
  state: SuperconductorState,
  phonons?: MetalPhonons,
): Piece[] {
  const { criticalTemperature: Tc, gapRatio } = state;
  const electrons = weightedRatio(gapRatio);
  const lattice = phonons && latticeCurve(state, phonons);
  return pieces.flatMap(({ from, to, curve }): Piece[] => {
    if (from >= Tc) return [{ from, to, curve }];
    const value = (T: number) =>
      curve.value(T) * electrons.ratio(T / Tc) + (lattice ? lattice.value(T) : 0);
    const [power] = curve.powers?.length === 1 ? curve.powers : [];
    const linear = power?.exponent === 2 ? 2 * power.coefficient : undefined;
    const integral = (T: number) =>
      linear! * Tc ** 2 * electrons.integral(T / Tc) + (lattice ? lattice.integral(T) : 0);
    const cold: Curve = linear === undefined ? { value } : { value, integral };
    const below = { from, to: Math.min(to, Tc), curve: cold };
    return to > Tc ? [below, { from: Tc, to, curve }] : [below];
  });
}

/** κ of the phonons from zero temperature to T_c, and its integral. */
function latticeCurve(
  { criticalTemperature: Tc, gapRatio }: SuperconductorState,
  { boundary, lattice }: MetalPhonons,
): Required<Pick<Curve, "value" | "integral">> {
  const value = (T: number) => {
    const left = 2 / (1 + Math.exp(gapOverTemperature(T / Tc, gapRatio)));
    return 1 / (1 / (boundary * T ** 3) + left / (lattice * T ** 2));
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

/** The warning that goes with the electrons of a superconductor alone. */
export function electronsOnly(
  label: string,
  { criticalTemperature }: SuperconductorState,
): TemperatureRange {
  const law =
    `${label}, electrons only: below T_c/5 they carry practically nothing and the phonons, which ` +
    "carry most, are left out for want of a mean free path";
  return warnOutside(law, Number((0.2 * criticalTemperature).toPrecision(3)));
}
