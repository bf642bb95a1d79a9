/**
 * Heat stored at a node: enthalpy from temperature and temperature from enthalpy.
 * @module
 */
import type { HeatStore } from "../conductor.js";
import { anObject } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { checkPowers } from "./checks.js";
import type { NetworkDescription } from "./description.js";
import { power } from "./power-laws.js";

/** After a Newton step this short [parts of T] the next is below the last digit. */
const stepTolerance = 1e-9;
/** Enough for bisection alone. */
const mostSteps = 200;

/** A heat store prepared for many calls; immutable. */
export class StoredHeat {
  readonly #store: HeatStore;
  readonly #coefficients: Float64Array;
  readonly #exponents: Float64Array;
  readonly #upTo: number;
  /** The exponent of a store that is one power law at every temperature; 0 for others. */
  readonly #onePower: number;
  /** Enthalpy of the store's function less that of its powers at `upTo` [J]. */
  readonly #offset: number;
  /** Lowest enthalpy [J]. */
  readonly #least: number;

  /** @throws FieldError unless the power laws of the store make one whose C is positive */
  constructor(node: string, store: HeatStore) {
    const powers = anObject(`${node}.store`, store).powers ?? [];
    const upTo = store.powersUpTo ?? Number.POSITIVE_INFINITY;
    checkPowers(`${node}.store`, powers, upTo);
    this.#store = store;
    this.#coefficients = Float64Array.from(powers, (p) => p.coefficient);
    this.#exponents = Float64Array.from(powers, (p) => p.exponent);
    this.#upTo = powers.length > 0 ? upTo : 0;
    this.#onePower =
      powers.length === 1 && upTo === Number.POSITIVE_INFINITY ? powers[0]!.exponent : 0;
    this.#least = powers.length > 0 ? 0 : Number.NEGATIVE_INFINITY;
    this.#offset =
      this.#upTo > 0 && upTo < Number.POSITIVE_INFINITY
        ? store.enthalpy(upTo) - this.#sum(upTo, 0)
        : 0;
  }

  /** H [J] */
  enthalpy(T: number): number {
    return T <= this.#upTo ? this.#sum(T, 0) : this.#store.enthalpy(T) - this.#offset;
  }

  /** C = dH/dT [J/K] */
  heatCapacity(T: number): number {
    return T <= this.#upTo ? this.#sum(T, 1) : this.#store.heatCapacity(T);
  }

  /**
   * Temperature at an enthalpy H [K]: by roots for a single T² or T⁴ law, else by Newton's method within
   * shrinking bounds.
   * @param guess - a temperature to start from [K]
   * @returns NaN where no temperature has this enthalpy
   */
  temperature(enthalpy: number, guess: number): number {
    if (!(enthalpy > this.#least && enthalpy < Number.POSITIVE_INFINITY)) return Number.NaN;
    if (this.#onePower === 2) return Math.sqrt(enthalpy / this.#coefficients[0]!);
    if (this.#onePower === 4) return Math.sqrt(Math.sqrt(enthalpy / this.#coefficients[0]!));
    let low = 0;
    let high = Number.POSITIVE_INFINITY;
    let T = guess;
    for (let step = 0; step < mostSteps; step++) {
      const change = this.#newtonStep(enthalpy, T);
      if (Math.abs(change) <= stepTolerance * T) return T + change;
      if (change > 0) low = T;
      else high = T;
      T += change;
      if (T > low && T < high) continue;
      if (Number.isNaN(T)) return Number.NaN;
      T = high === Number.POSITIVE_INFINITY ? 4 * low : low === 0 ? high / 4 : (low + high) / 2;
      if (T < Number.MIN_VALUE * 2 ** 52 || T === low || T === high)
        return T > low ? T : Number.NaN;
    }
    return Number.NaN;
  }

  /** (H − H(T))/C(T), with both sums of power laws in one loop. */
  #newtonStep(enthalpy: number, T: number): number {
    if (!(T <= this.#upTo)) return (enthalpy - this.enthalpy(T)) / this.heatCapacity(T);
    const coefficients = this.#coefficients;
    const exponents = this.#exponents;
    let stored = 0;
    let capacity = 0;
    for (let i = 0; i < coefficients.length; i++) {
      const p = exponents[i]!;
      const part = coefficients[i]! * power(T, p - 1);
      stored += part * T;
      capacity += p * part;
    }
    return (enthalpy - stored) / capacity;
  }

  /** Σ c Tᵖ, or its derivative. */
  #sum(T: number, derivative: 0 | 1): number {
    const coefficients = this.#coefficients;
    const exponents = this.#exponents;
    let sum = 0;
    for (let i = 0; i < coefficients.length; i++) {
      const p = exponents[i]!;
      const part = coefficients[i]! * power(T, p - 1);
      sum += derivative === 0 ? part * T : p * part;
    }
    return sum;
  }
}

/**
 * The stores of the free nodes, in the order of their names; undefined for a node without one.
 * @throws FieldError for a wrong store, or when no free node has one
 */
export function storesOf(
  { nodes }: NetworkDescription,
  names: readonly string[],
): (StoredHeat | undefined)[] {
  const given = new Map(nodes.map(({ name, store }) => [name, store]));
  const stores = names.map((name) => {
    const store = given.get(name);
    return store && new StoredHeat(name, store);
  });
  if (stores.every((store) => store === undefined)) {
    throw new FieldError("nodes.store", "a free node that stores heat", "none");
  }
  return stores;
}
