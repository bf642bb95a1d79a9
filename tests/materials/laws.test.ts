import { describe, expect, it } from "vitest";
import { conductivityForms } from "../../src/materials/laws.js";
import { lorenz } from "../../src/units/constants.js";

const given = { residualResistivity: () => 1e-9, phonons: 2 };

function curve(form: string, parameters: Record<string, number>) {
  const names = Object.keys(parameters);
  return conductivityForms.get(form)!.build((p) => parameters[p] ?? 0, given, names);
}

describe("the laws of thermal conductivity", () => {
  it("power: coefficient times T to the exponent", () => {
    const law = curve("power", { coefficient: 3, exponent: 2 });
    expect(law.value(2)).toBe(12);
    expect(law.integral!(2)).toBe(8);
    expect(curve("power", { coefficient: 3, exponent: -1 }).integral!(Math.E)).toBeCloseTo(3, 12);
  });

  it("power-of-power: carbon fibre rod at 0.3, 1 and 4.2 K", () => {
    // Runyan & Jones, Cryogenics 48, 448 (2008), table 2, evaluated
    const law = curve("power-of-power", {
      coefficient: 8.39e-3,
      base: 2.12,
      slope: -1.05,
      bend: 0.181,
    });
    expect(law.value(0.3)).toBeCloseTo(1.806e-3, 6);
    expect(law.value(1)).toBeCloseTo(8.39e-3, 12);
    expect(law.value(4.2)).toBeCloseTo(24.92e-3, 5);
  });

  it("log10-polynomial: polyamide at 4 K, coefficients in any order", () => {
    // NIST polyamide fit: 0.01245 W/(m K)
    const c = [-2.6135, 2.3239, -4.7586, 7.1602, -4.9155, 1.6324, -0.2507, 0.0131];
    const entries = c.map((value, i) => [`c${i}`, value] as const);
    const law = curve("log10-polynomial", Object.fromEntries(entries.reverse()));
    expect(law.value(4)).toBeCloseTo(0.01245, 5);
  });

  it("natural-log-polynomial: a line in logarithms is a power", () => {
    const law = curve("natural-log-polynomial", { c0: Math.log(5), c1: 1.5 });
    expect(law.value(4)).toBeCloseTo(40, 12);
  });

  it("log10-rational-sqrt: copper of RRR 50 at 20 K", () => {
    // NIST OFHC copper, table: 1368 W/(m K)
    const values = [
      1.8743, -0.41538, -0.6018, 0.13294, 0.26426, -0.0219, -0.051276, 0.0014871, 0.003723,
    ];
    const law = curve(
      "log10-rational-sqrt",
      Object.fromEntries(values.map((value, i) => ["abcdefghi"[i]!, value])),
    );
    expect(law.value(20)).toBeCloseTo(1368, -1);
  });

  it("affine, exponential-gap and saturating-exponential: their equations", () => {
    const affine = curve("affine", { constant: 2.28e-3, slope: 2.4e-3 });
    expect(affine.value(1.4)).toBeCloseTo(5.64e-3, 12);
    expect(affine.integral!(2) - affine.integral!(1)).toBeCloseTo(2.28e-3 + 3.6e-3, 12);
    // Barucci et al., Cryogenics 48, 166 (2008): 0.075 T exp(−1.636·4.38/T), 5.8e-5 at 1 K
    expect(curve("exponential-gap", { slope: 0.075, gap: 7.166 }).value(1)).toBeCloseTo(5.8e-5, 6);
    const kevlar = curve("saturating-exponential", { limit: 5.03, amplitude: 5.07, rate: 0.00487 });
    // Ventura & Martelli, Cryogenics 49, 735 (2009): 0.13 at 7 K, 3.8 at 290 K
    expect(kevlar.value(7)).toBeCloseTo(0.13, 2);
    expect(kevlar.value(290)).toBeCloseTo(3.8, 1);
    const h = 1e-4;
    const slope = (kevlar.integral!(50 + h) - kevlar.integral!(50 - h)) / (2 * h);
    expect(slope / kevlar.value(50)).toBeCloseTo(1, 8);
  });

  it("wiedemann-franz: L₀T/ρ₀", () => {
    expect(curve("wiedemann-franz", { lorenz_ratio: 1 }).value(2)).toBeCloseTo(
      (2 * lorenz) / 1e-9,
      9,
    );
  });

  it("defect-phonon: goes to Wiedemann and Franz when cold and shows the interaction term", () => {
    const base = { P1: 1.754e-8, P2: 2.763, P3: 1102, P4: -0.165, P5: 70, P6: 1.765 };
    const law = curve("defect-phonon", { ...base, interaction: 0 });
    expect(law.value(0.1) / ((0.1 * lorenz) / 1e-9)).toBeCloseTo(1, 6);
    const more = curve("defect-phonon", { ...base, interaction: 0.838 });
    expect(more.value(30)).toBeLessThan(law.value(30));
    // With W₀ = Wᵢ the interaction adds half of P7 of either.
    const T = 30;
    const defects = 1e-9 / lorenz / T;
    const phonons = 1 / law.value(T) - defects;
    const both = (0.838 * phonons * defects) / (phonons + defects);
    expect(1 / more.value(T)).toBeCloseTo(phonons + defects + both, 12);
  });

  it("debye-boundary: a cube of the temperature", () => {
    expect(curve("debye-boundary", { measured_over_computed: 0.5 }).value(2)).toBe(8);
  });
});
