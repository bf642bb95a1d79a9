/**
 * The one idea of the library: every heat path is a conductor.
 *
 * The heat that flows from a hot end to a cold end is Θ(T_hot) − Θ(T_cold), with Θ(T) = ∫₀ᵀ G dT.
 * A wire bond, a clamp, a solid-solid boundary, electron-phonon coupling and a strip of sapphire
 * differ only in their G(T).
 * @module
 */
import type { Provenance } from "./provenance.js";

/** One term c·Tᵖ of a conductor's integral Θ(T). */
export interface PowerTerm {
  /** c [W/Kᵖ] */
  readonly coefficient: number;
  /** p, greater than 0; need not be an integer. */
  readonly exponent: number;
}

/**
 * Temperatures between which a law is backed by its source [K]; or values of another number that the law
 * is made with, such as a force.
 */
export interface TemperatureRange {
  /** Lowest temperature [K], or value. */
  readonly from: number;
  /** Highest temperature [K], or value. */
  readonly to: number;
  /** Which law, and what happens outside; shown in the warning. */
  readonly of: string;
  /**
   * `warn`: the law is continued outside. `doubt`: it holds there, too, but another model may be the right
   * one. `refuse`: a result outside is an error, because no valid extrapolation continues the law there.
   */
  readonly outside: "warn" | "doubt" | "refuse";
  /** Of another quantity than temperature, such as a force: the value that the law was given. */
  readonly given?: GivenValue;
}

/** The value of a quantity that a law was given. */
export interface GivenValue {
  /** What it is: `force`. */
  readonly quantity: string;
  /** In SI. */
  readonly value: number;
  /** Its SI unit. */
  readonly unit: string;
}

/** The temperatures outside which a law only warns. @param of - which law, for the warning */
export function warnOutside(of: string, from = 0, to = Number.POSITIVE_INFINITY): TemperatureRange {
  return { from, to, of, outside: "warn" };
}

/** What a law carries beside its functions. */
export interface Backing {
  /** Where the law, and each law it was made of, is backed by its source. */
  readonly ranges?: readonly TemperatureRange[];
  /** The numbers it was made of. */
  readonly provenance?: readonly Provenance[];
}

/** A law whose integral may be a sum of powers. */
export interface Powers {
  /** The integral (Θ or H) as a sum of power laws, where it is one; lets a solver skip the functions. */
  readonly powers?: readonly PowerTerm[];
  /** The powers hold up to this temperature [K]; above it the functions are called. */
  readonly powersUpTo?: number;
}

/** A heat path between two places. */
export interface Conductor extends Powers, Backing {
  /** G(T) = dΘ/dT [W/K]; finite and positive for T > 0. */
  conductance(temperature: number): number;
  /** Θ(T) = ∫₀ᵀ G dT [W]. Only differences of Θ have a meaning, so any constant may be added. */
  integral(temperature: number): number;
}

/**
 * A body between several terminals, such as a die between its pads, condensed to them (static
 * condensation, the Schur complement of its inner points). In Θ its conduction is linear, so the heat
 * from terminal i into the body is Σⱼ Yᵢⱼ Θ(Tⱼ) − sᵢ.
 */
export interface CondensedBody {
  /** Θ(T) and its derivative, for a square of the body. */
  readonly law: Conductor;
  /** Y, row by row; symmetric, each row sums to 0; pure numbers. */
  readonly admittance: Float64Array;
  /** sᵢ, the part of the body's own load that leaves it at each terminal [W]; sums to the load. */
  readonly outflow: Float64Array;
}

/** A heat load that depends on the temperature of the node it falls on. */
export interface Load {
  /** Heat flow [W] at a temperature [K] */
  power(temperature: number): number;
  /** dP/dT [W/K] */
  slope(temperature: number): number;
}

/** What stores heat at a node. */
export interface HeatStore extends Powers, Backing {
  /** C(T) = dH/dT [J/K]; finite and positive for T > 0. */
  heatCapacity(temperature: number): number;
  /** H(T) = ∫₀ᵀ C dT [J]. Only differences of H have a meaning, so any constant may be added. */
  enthalpy(temperature: number): number;
}

/**
 * Conductor with Θ = c·Tᵖ, the law of most joints below 1 K.
 * @param coefficient - c [W/Kᵖ]
 * @param exponent - p, a pure number greater than 0
 * @example powerConductor(1e-5, 2).conductance(0.1) // 2e-6
 */
export function powerConductor(
  coefficient: number,
  exponent: number,
  backing: Backing = {},
): Conductor {
  return {
    conductance: (T) => coefficient * exponent * T ** (exponent - 1),
    integral: (T) => coefficient * T ** exponent,
    powers: [{ coefficient, exponent }],
    ...backing,
  };
}

/**
 * The same conductor, `factor` times as large: n bonds side by side, a cross-section over a length.
 * @param factor - pure number greater than 0
 */
export function scaled(conductor: Conductor, factor: number): Conductor {
  return {
    conductance: (T) => factor * conductor.conductance(T),
    integral: (T) => factor * conductor.integral(T),
    ...scaledPowers(conductor, factor),
  };
}

/** The same store, `factor` times as large. @param factor - pure number greater than 0 */
export function scaledStore(store: HeatStore, factor: number): HeatStore {
  return {
    heatCapacity: (T) => factor * store.heatCapacity(T),
    enthalpy: (T) => factor * store.enthalpy(T),
    ...scaledPowers(store, factor),
  };
}

/** Powers times a factor, and what else stands beside the functions of a law. */
export function scaledPowers(law: Powers & Backing, factor: number): Powers & Backing {
  const { powers, powersUpTo, ranges, provenance } = law;
  const made: { -readonly [K in keyof (Powers & Backing)]: (Powers & Backing)[K] } = {};
  if (powers) made.powers = powers.map((p) => ({ ...p, coefficient: factor * p.coefficient }));
  if (powersUpTo !== undefined) made.powersUpTo = powersUpTo;
  if (ranges) made.ranges = ranges;
  if (provenance) made.provenance = provenance;
  return made;
}

/**
 * Heat from the hot end to the cold end of a conductor [W]; negative if `hot` is the colder one.
 * @param hot - [K]
 * @param cold - [K]
 * @example heatFlow(powerConductor(1e-5, 2), 0.11, 0.1) // 2.1e-8
 */
export function heatFlow(conductor: Conductor, hot: number, cold: number): number {
  return conductor.integral(hot) - conductor.integral(cold);
}
