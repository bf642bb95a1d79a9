/**
 * What the detector's film is made of, as far as temperature matters to it.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import { gap, type SuperconductorState } from "../materials/superconductor.js";
import type { Catalogue } from "../materials/types.js";
import { trapezoid } from "../numerics/quadrature.js";
import { given, type Provenance } from "../provenance.js";
import { bcsGapRatio, boltzmann } from "../units/constants.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import * as read from "../units/fields.js";
import type { RareQuantity, Temperature } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";

/** States for each energy and volume of one spin: 1/(J m³), or a string such as `"1.72e10 1/(eV um^3)"`. */
export type DensityOfStates = RareQuantity<"1/(eV um^3)">;

/**
 * A superconductor of the catalogue by name, or by its numbers; a number given here wins over the
 * catalogue's, since films differ from the bulk.
 */
export interface SuperconductorOptions {
  /** Name in the catalogue. */
  readonly material?: string;
  /** Sample of the catalogue, where a property has more than one. */
  readonly sample?: string;
  /** T_c [K] */
  readonly criticalTemperature?: Uncertain<Temperature>;
  /** Δ(0)/(k_B T_c); that of weak coupling, 1.764, where neither this nor the catalogue says. */
  readonly gapRatio?: Uncertain<number>;
  /** N₀ at the Fermi level in the normal state, of one spin [1/(J m³)]. */
  readonly densityOfStates?: Uncertain<DensityOfStates>;
}

const states = {
  si: "1/(J m^3)",
  units: ["1/(eV um^3)"],
  words: 'a density of states such as "1.72e10 1/(eV um^3)" or a number in 1/(J m^3)',
} as const;

/** Reads a superconductor: its name, or its numbers. */
export const superconductorFields = read.either<string, SuperconductorOptions>(
  read.isOneValue,
  read.text,
  read.object<SuperconductorOptions>({
    material: read.optional(read.text),
    sample: read.optional(read.text),
    criticalTemperature: read.optional(read.quantity("temperature")),
    // Coupling is never weaker than weak, and lead's, among the strongest, is 2.2.
    gapRatio: read.optional(
      read.number("a ratio Delta(0)/(k_B T_c) from 1 to 3, such as 1.764", (r) => r >= 1 && r <= 3),
    ),
    densityOfStates: read.optional(read.rareQuantity(states)),
  }),
);

/** A superconductor in SI. */
export interface Superconductor extends SuperconductorState {
  /** As it is called in errors. */
  readonly name: string;
  /** N₀ of one spin [1/(J m³)]; undefined where nobody said. */
  readonly densityOfStates?: number;
  /** Sources of the numbers that enter. */
  readonly provenance: readonly Provenance[];
}

/**
 * A superconductor from the catalogue or from numbers.
 * @param options - a material's name stands for `{ material: name }`
 * @param field - path in the user's description, for errors
 * @throws FieldError, UnknownNameError
 * @example superconductor({ material: "aluminium", criticalTemperature: "1.2 K" })
 */
export function superconductor(
  options: string | SuperconductorOptions,
  catalogue: Catalogue = standardCatalogue(),
  field = "superconductor",
): Superconductor {
  const plain = superconductorFields.read(options, field);
  const wanted: read.Plain<SuperconductorOptions> =
    typeof plain === "string" ? { material: plain } : plain;
  const material =
    wanted.material === undefined
      ? undefined
      : catalogue.material(wanted.material, `${field}.material`);
  if (wanted.sample !== undefined) {
    const samples = [...new Set([...(material?.properties.values() ?? [])].flat())];
    if (!samples.includes(wanted.sample)) {
      throw new UnknownNameError(`${field}.sample`, "sample", wanted.sample, samples);
    }
  }
  const provenance: Provenance[] = [];
  const onFile = (property: string) => {
    const samples = material?.properties.get(property);
    if (!samples) return undefined;
    const named = wanted.sample !== undefined && samples.includes(wanted.sample);
    return material!.constant(property, named ? wanted.sample : undefined);
  };
  const numberOf = (property: string, own: number | undefined, unit: string) => {
    const what = `${field}: ${property.replaceAll("_", " ")}`;
    const used =
      own === undefined ? onFile(property) : { value: own, provenance: given(what, own, unit) };
    if (used) provenance.push(used.provenance);
    return used?.value;
  };

  const criticalTemperature = numberOf("critical_temperature", wanted.criticalTemperature, "K");
  if (criticalTemperature === undefined) {
    const missing = material
      ? `a critical temperature, since the catalogue has none for ${material.name}`
      : "a critical temperature, or a material of the catalogue";
    throw new FieldError(`${field}.criticalTemperature`, missing, undefined);
  }
  const gapRatio =
    numberOf("gap_ratio", wanted.gapRatio, "") ??
    numberOf("gap_ratio_of_weak_coupling", bcsGapRatio, "")!;
  const densityOfStates = numberOf("density_of_states", wanted.densityOfStates, states.si);
  return {
    name: material?.name ?? field,
    criticalTemperature,
    gapRatio,
    ...(densityOfStates !== undefined && { densityOfStates }),
    provenance,
  };
}

/** Up to this T/T_c the gap is polished to the last digit, so that small shifts are smooth. */
const polished = 0.4;

/**
 * Energy gap Δ(T) [J]; 0 from T_c.
 *
 * Its shape is that of weak coupling, whatever the ratio Δ(0)/(k_B T_c). Well below T_c it follows
 * from ln(Δ(0)/Δ) = 2 ∫ dE f(E)/√(E² − Δ²) to the last digit, since a shift of frequency of 1e-9 is measured.
 * Source: Bardeen, Cooper & Schrieffer, Phys. Rev. 108, 1175 (1957).
 * @param temperature - from 0 [K]
 */
export function energyGap(state: SuperconductorState, temperature: number): number {
  const t = temperature / state.criticalTemperature;
  return state.gapRatio * boltzmann * state.criticalTemperature * gapShare(t);
}

/** Δ(T)/Δ(0) */
function gapShare(t: number): number {
  let share = gap(t);
  if (t > polished || t === 0) return share;
  for (let turn = 0; turn < 2; turn++) {
    share = Math.exp(-2 * overQuasiparticles((bcsGapRatio * share) / t, () => 1));
  }
  return share;
}

/**
 * ∫₀^∞ g(cosh v) f dv with f = 1/(1 + e^(y cosh v)): what an integral over quasiparticles of energy
 * E = Δ cosh v, dE = √(E² − Δ²) dv, becomes without its root.
 * @param y - Δ/(k_B T), greater than 0
 */
export function overQuasiparticles(y: number, g: (energy: number) => number): number {
  const q = Math.exp(-y);
  if (q === 0) return 0;
  // e^(−y(cosh v − 1)) is 1e-17 at the end.
  const end = 2 * Math.asinh(Math.sqrt(20 / y));
  const integrand = (v: number) => {
    const above = 2 * Math.sinh(v / 2) ** 2;
    const decay = Math.exp(-y * above);
    return (g(1 + above) * decay) / (1 + q * decay);
  };
  return q * trapezoid(integrand, end);
}
