/**
 * The named laws of thermal conductivity and of measured heat capacity, one by one. T is the temperature
 * as a number in kelvin, κ is in W/(m K), c in J/(kg K).
 * @module
 */
import { horner } from "../numerics/distributions.js";
import { lorenz } from "../units/constants.js";
import { FieldError } from "../units/errors.js";
import { type Curve, type FormSpec, optional, type ParameterSpec, pure } from "./form.js";

/** What a law needs beside its own parameters. */
export interface Given {
  /**
   * ρ₀ [Ω m], from the ratio r that the user gave: ρ(warm)/(r − 1), since the warm metal of which r was
   * measured has ρ₀ in it too (Matthiessen's rule).
   * @param pureOverResidual - 1 for a publication whose ratio is that of the pure metal: ρ(warm)/r
   */
  residualResistivity(pureOverResidual: number): number;
  /** κ/T³ of phonons [W/(m K⁴)] */
  readonly phonons: number;
}

/** An option of a conductivity that a law needs. */
export type Need = "residualResistivityRatio" | "meanFreePath";

export interface ConductivityForm {
  readonly spec: FormSpec;
  readonly needs?: Need;
  /** @param p - value of a parameter in SI; 0 for an optional one that is absent */
  build(p: (name: string) => number, given: Given, names: readonly string[]): Curve;
}

const conductivity: ParameterSpec = { unit: "W/(m K)", least: 1e-9, most: 1e5 };
/** Exponent of the power law that continues a law below its range; without it the law ends there. */
const below: readonly [string, ParameterSpec] = ["continues_below_as_power", optional(pure(0, 6))];
const takes = (...rows: (readonly [string, ParameterSpec])[]) => new Map([...rows, below]);

/** κ = coefficient · T^exponent. */
const power: ConductivityForm = {
  spec: { parameters: takes(["coefficient", conductivity], ["exponent", pure(-3, 6)]) },
  build: (p) => powerCurve(p("coefficient"), p("exponent")),
};

function powerCurve(a: number, n: number): Curve {
  if (n === -1) return { value: (T) => a / T, integral: (T) => a * Math.log(T) };
  const curve = {
    value: (T: number) => a * T ** n,
    integral: (T: number) => (a / (n + 1)) * T ** (n + 1),
  };
  return n > -1 ? { powers: [{ coefficient: a / (n + 1), exponent: n + 1 }], ...curve } : curve;
}

/** κ = coefficient · T^(base + slope · T^bend), the form of Runyan & Jones (2008). */
const powerOfPower: ConductivityForm = {
  spec: {
    parameters: takes(
      ["coefficient", conductivity],
      ["base", pure(-10, 10)],
      ["slope", pure(-10, 10)],
      ["bend", pure(-3, 3)],
    ),
  },
  build(p) {
    const [a, b, c, n] = [p("coefficient"), p("base"), p("slope"), p("bend")];
    return { value: (T) => a * T ** (b + c * T ** n) };
  },
};

const coefficients = { name: /^c\d{1,2}$/, spec: pure() };

/** The logarithm of κ is c0 + c1 x + c2 x² + …, x that of T, to base 10 (NIST's fits) or e. */
function logPolynomial(log: (x: number) => number, power: (x: number) => number): ConductivityForm {
  return {
    spec: { parameters: takes(["c0", pure()]), series: coefficients },
    build(p, _given, names) {
      const orders = names.filter((n) => coefficients.name.test(n)).map((n) => Number(n.slice(1)));
      const c = Array.from({ length: Math.max(...orders) + 1 }, (_, i) => p(`c${i}`));
      return { value: (T) => power(horner(c, log(T))) };
    },
  };
}

/** log₁₀ κ = (a + c√T + eT + gT^1.5 + iT²)/(1 + b√T + dT + fT^1.5 + hT²): NIST's copper page. */
const log10RationalSqrt: ConductivityForm = {
  spec: { parameters: takes(...[..."abcdefghi"].map((name) => [name, pure()] as const)) },
  build(p) {
    const over = ["a", "c", "e", "g", "i"].map(p);
    const under = [1, ...["b", "d", "f", "h"].map(p)];
    return { value: (T) => 10 ** (horner(over, Math.sqrt(T)) / horner(under, Math.sqrt(T))) };
  },
};

/** κ = constant + slope · T. */
const affine: ConductivityForm = {
  spec: {
    parameters: takes(
      ["constant", { unit: "W/(m K)", least: -1e5, most: 1e5 }],
      ["slope", { unit: "W/(m K^2)", least: -1e5, most: 1e5 }],
    ),
  },
  build(p) {
    const [a, b] = [p("constant"), p("slope")];
    return { value: (T) => a + b * T, integral: (T) => a * T + (b * T * T) / 2 };
  },
};

/** κ = slope · T · exp(−gap/T): electrons of a superconductor well below T_c. */
const exponentialGap: ConductivityForm = {
  spec: {
    parameters: takes(
      ["slope", { unit: "W/(m K^2)", least: 1e-9, most: 1e5 }],
      ["gap", { unit: "K", least: 0, most: 500 }],
    ),
  },
  build(p) {
    const [a, gap] = [p("slope"), p("gap")];
    return { value: (T) => a * T * Math.exp(-gap / T) };
  },
};

/** κ = limit − amplitude · exp(−rate · T). */
const saturatingExponential: ConductivityForm = {
  spec: {
    parameters: takes(
      ["limit", conductivity],
      ["amplitude", conductivity],
      ["rate", { unit: "1/K", least: 1e-9, most: 1e3 }],
    ),
  },
  build(p) {
    const [limit, amplitude, rate] = [p("limit"), p("amplitude"), p("rate")];
    return {
      value: (T) => limit - amplitude * Math.exp(-rate * T),
      integral: (T) => limit * T + (amplitude / rate) * Math.exp(-rate * T),
    };
  },
};

/** 1 where the publication's ratio is ρ(pure, warm)/ρ₀, which leaves ρ₀ out of the warm metal. */
const ownRatio: readonly [string, ParameterSpec] = ["pure_over_residual", optional(pure(1, 1))];

/** κ = lorenz_ratio · L₀ T/ρ₀: electrons scattered by defects alone (Wiedemann & Franz). */
const wiedemannFranz: ConductivityForm = {
  spec: { parameters: takes(["lorenz_ratio", pure(0.1, 2)], ownRatio) },
  needs: "residualResistivityRatio",
  build: (p, { residualResistivity }) =>
    powerCurve((p("lorenz_ratio") * lorenz) / residualResistivity(p("pure_over_residual")), 1),
};

const resistance: ParameterSpec = { unit: "m K/W", least: -1, most: 1 };

/**
 * κ = 1/(W₀ + Wᵢ + Wᵢ₀), electrons scattered by defects, by phonons, and the interaction of the two:
 *
 *   W₀ = β/T,  β = ρ₀/L₀
 *   Wᵢ = P1 T^P2 / [1 + P1 P3 T^(P2+P4) exp(−(P5/T)^P6)] + W_c
 *   W_c = Σ amplitude · ln(T/zero) · exp(−[ln(T/peak)/width]²)
 *   Wᵢ₀ = P7 Wᵢ W₀/(Wᵢ + W₀),  P7 = interaction / (β/0.0003)^interaction_exponent
 *
 * Source: Hust & Lankford, NBSIR 84-3007 (1984), section 2; their ρ₀ = ρ(273 K)/(RRR − 1), as here for a
 * ratio from 273 K.
 */
const defectPhonon: ConductivityForm = {
  spec: {
    parameters: takes(
      ["P1", { unit: "m K/W", least: 1e-12, most: 1 }],
      ["P2", pure(0, 6)],
      ["P3", { unit: "W/(m K)", least: 0, most: 1e5 }],
      ["P4", pure(-2, 2)],
      ["P5", { unit: "K", least: 1, most: 1000 }],
      ["P6", pure(0.5, 6)],
      ["interaction", pure(0, 3)],
      ["interaction_exponent", optional(pure(0, 1))],
      ownRatio,
      ...[1, 2, 3].flatMap((i) => [
        [`correction_${i}_amplitude`, optional(resistance)] as const,
        [`correction_${i}_zero`, optional({ unit: "K", least: 1, most: 2000 })] as const,
        [`correction_${i}_peak`, optional({ unit: "K", least: 1, most: 2000 })] as const,
        [`correction_${i}_width`, optional(pure(0.05, 5))] as const,
      ]),
    ),
  },
  needs: "residualResistivityRatio",
  build(p, { residualResistivity }) {
    const [P1, P2, P3] = [p("P1"), p("P2"), p("P3")];
    const [P4, P5, P6] = [p("P4"), p("P5"), p("P6")];
    const beta = residualResistivity(p("pure_over_residual")) / lorenz;
    const P7 = p("interaction") / (beta / 0.0003) ** p("interaction_exponent");
    const corrections = [1, 2, 3]
      .map((i) => ({
        amplitude: p(`correction_${i}_amplitude`),
        zero: p(`correction_${i}_zero`),
        peak: p(`correction_${i}_peak`),
        width: p(`correction_${i}_width`),
      }))
      .filter((c) => c.amplitude !== 0);
    return {
      value(T) {
        const rise = P1 * T ** P2;
        let phonons = rise / (1 + P3 * rise * T ** P4 * Math.exp(-((P5 / T) ** P6)));
        for (const { amplitude, zero, peak, width } of corrections) {
          phonons +=
            amplitude * Math.log(T / zero) * Math.exp(-((Math.log(T / peak) / width) ** 2));
        }
        const defects = beta / T;
        const both = (P7 * phonons * defects) / (phonons + defects);
        return 1 / (defects + phonons + both);
      },
    };
  },
};

/** κ = measured_over_computed · (phonons of the Debye solid, scattered at the faces): see phonons.ts. */
const debyeBoundary: ConductivityForm = {
  spec: { parameters: takes(["measured_over_computed", pure(1e-3, 1e3)]) },
  needs: "meanFreePath",
  build: (p, { phonons }) => powerCurve(p("measured_over_computed") * phonons, 3),
};

/** Laws of thermal conductivity by the name used in the form column; `table` stands beside them. */
export const conductivityForms: ReadonlyMap<string, ConductivityForm> = new Map([
  ["power", power],
  ["power-of-power", powerOfPower],
  ["log10-polynomial", logPolynomial(Math.log10, (x) => 10 ** x)],
  ["natural-log-polynomial", logPolynomial(Math.log, Math.exp)],
  ["log10-rational-sqrt", log10RationalSqrt],
  ["affine", affine],
  ["exponential-gap", exponentialGap],
  ["saturating-exponential", saturatingExponential],
  ["wiedemann-franz", wiedemannFranz],
  ["defect-phonon", defectPhonon],
  ["debye-boundary", debyeBoundary],
]);

/** A law of heat capacity by name: it needs nothing beside its own parameters. */
export interface HeatCapacityForm {
  readonly spec: FormSpec;
  /** @param p - as of a conductivity */
  build(p: (name: string) => number): Curve;
}

const coefficient: ParameterSpec = { unit: "J/(kg K)", least: 1e-9, most: 1e4 };
const exponent = pure(0.5, 6);

/** c = Σ coefficient_i · T^exponent_i, of one to three terms: glasses, and metals per mass. */
const powerSum: HeatCapacityForm = {
  spec: {
    parameters: new Map([
      ["coefficient_1", coefficient],
      ["exponent_1", exponent],
      ["coefficient_2", optional(coefficient)],
      ["exponent_2", optional(exponent)],
      ["coefficient_3", optional(coefficient)],
      ["exponent_3", optional(exponent)],
    ]),
  },
  build(p) {
    const powers = [1, 2, 3]
      .map((i) => ({ c: p(`coefficient_${i}`), n: p(`exponent_${i}`) }))
      .filter(({ c }) => c > 0)
      .filter(({ c, n }) => {
        if (n > 0) return true;
        throw new FieldError("heat_capacity", "an exponent beside each coefficient", c);
      })
      .map(({ c, n }) => ({ coefficient: c / (n + 1), exponent: n + 1 }));
    return sumOfPowers(powers);
  },
};

/** The curve whose integral is this sum of powers. */
export function sumOfPowers(powers: NonNullable<Curve["powers"]>) {
  return {
    value: (T: number) =>
      powers.reduce((sum, p) => sum + p.coefficient * p.exponent * T ** (p.exponent - 1), 0),
    integral: (T: number) => powers.reduce((sum, p) => sum + p.coefficient * T ** p.exponent, 0),
    powers,
  };
}

/** Laws of heat capacity by the name used in the form column. */
export const heatCapacityForms: ReadonlyMap<string, HeatCapacityForm> = new Map([
  ["power-sum", powerSum],
]);
