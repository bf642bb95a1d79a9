/**
 * The numbers of one material, read from its laws with the factors on their rows.
 * @module
 */
import type { Provenance } from "../provenance.js";
import { bcsGapRatio } from "../units/constants.js";
import { FieldError } from "../units/errors.js";
import { datumOf, type FactorOf, type Law, ofSample, tabulated } from "./law.js";
import type { SuperconductorState } from "./superconductor.js";
import type { Datum, SoundSpeeds } from "./types.js";

/** A metal's superconducting state. */
export interface SuperconductingMetal extends SuperconductorState {
  readonly provenance: readonly Provenance[];
}

/** Lookup of the numbers of one material. */
export class MaterialFacts {
  constructor(
    readonly name: string,
    readonly laws: ReadonlyMap<string, readonly Law[]>,
    readonly factorOf: FactorOf,
  ) {}

  has(property: string): boolean {
    return this.laws.has(property);
  }

  /** The only law of a property, or that of a sample. @throws FieldError listing what is on hand */
  law(property: string, sample?: string): Law {
    const all = this.laws.get(property);
    if (!all) {
      const known = [...this.laws.keys()].join(", ");
      throw new FieldError(`${this.name}.${property}`, `a property on hand (${known})`, undefined);
    }
    return ofSample(`${this.name}.${property}`, all, sample);
  }

  datum(law: Law, parameter: string): Datum {
    return datumOf(law.parameters.get(parameter)!, this.factorOf);
  }

  /** A property that is one number. @throws FieldError when it is not on hand */
  constant(property: string, sample?: string): Datum {
    const law = this.law(property, sample);
    if (law.form === "constant") return this.datum(law, "value");
    throw new FieldError(`${this.name}.${property}`, "a property that is one number", law.form);
  }

  #optional(property: string): Datum | undefined {
    return this.has(property) ? this.constant(property) : undefined;
  }

  /** ρ of the pure metal at a warm temperature. @throws FieldError when it has none */
  warmResistivity(T: number, field: string): Datum {
    const law = this.law("resistivity");
    const nominal = tabulated(law);
    if (!(T >= nominal.from && T <= nominal.to)) {
      const range = `${nominal.from} and ${nominal.to} K`;
      const wanted = `a temperature between ${range}, where its resistivity is tabulated`;
      throw new FieldError(field, wanted, T);
    }
    const value = (law.key === undefined ? 1 : this.factorOf(law.key)) * nominal.value(T);
    const [, { provenance }] = nominal.points.reduce((a, b) =>
      Math.abs(b[0] - T) < Math.abs(a[0] - T) ? b : a,
    );
    const quantity = `${this.name}: resistivity ${T} K`;
    return { value, provenance: { ...provenance, quantity, value } };
  }

  soundSpeeds(sample?: string): SoundSpeeds {
    const longitudinal = this.constant("sound_speed_longitudinal", sample);
    const transverse = this.constant("sound_speed_transverse", sample);
    return {
      longitudinal: longitudinal.value,
      transverse: transverse.value,
      provenance: [longitudinal.provenance, transverse.provenance],
    };
  }

  /**
   * Undefined for a material that does not superconduct.
   * @param of - for which its gap is asked: one fitted to the conductivity may differ from that of tunnelling
   */
  superconductor(of: "conductivity" | "heat capacity"): SuperconductingMetal | undefined {
    const Tc = this.#optional("critical_temperature");
    if (!Tc) return undefined;
    const fitted = of === "conductivity" ? this.#optional("conductivity_gap_ratio") : undefined;
    const gap = fitted ?? this.#optional("gap_ratio");
    const lattice = of === "conductivity" ? this.#optional("lattice_conductivity") : undefined;
    return {
      criticalTemperature: Tc.value,
      gapRatio: gap?.value ?? bcsGapRatio,
      provenance: [Tc, gap, lattice].flatMap((each) => (each ? [each.provenance] : [])),
    };
  }
}
