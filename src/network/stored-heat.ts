/**
 * The heat a node stores, both ways: H of a temperature, and the temperature of an H.
 * @module
 */
import type { HeatStore, PowerTerm } from "../conductor.js";
import { aList, anObject } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { power } from "./compiled.js";
import { positive } from "./description.js";

/** A step of Newton's method this short is followed by one below the last digit. */
const stepTolerance = 1e-9;
/** Bisection alone would need as many. */
const mostSteps = 200;

/** A heat store made ready for many calls; never changes. */
export class StoredHeat {
  readonly #store: HeatStore;
  readonly #coefficients: Float64Array;
  readonly #exponents: Float64Array;
  readonly #upTo: number;
  /** The exponent where one power law is all there is; 0 otherwise. */
  readonly #onePower: number;
  /** What the store's function has more than its powers, where one takes over from the other [J]. */
  readonly #offset: number;
  /** No temperature stores less than this [J]. */
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
   * Temperature that stores H [K]: by roots where one power law allows, by Newton's method between bounds
   * that close in otherwise.
   * @param guess - a temperature near it
   * @returns NaN where there is none
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

  /** (H − H(T))/C(T), both sums of power laws in one. */
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

function checkPowers(field: string, powers: readonly PowerTerm[], upTo: number): void {
  let largest = 0;
  for (const term of aList(`${field}.powers`, powers, "a list of power laws")) {
    const { coefficient, exponent } = anObject(`${field}.powers`, term);
    if (!(Number.isFinite(coefficient) && coefficient >= 0)) {
      throw new FieldError(`${field}.coefficient`, "a finite number, not negative", coefficient);
    }
    positive(`${field}.exponent`, exponent, "");
    largest = Math.max(largest, coefficient);
  }
  if (powers.length > 0) positive(`${field}.coefficient`, largest, "");
  if (!(upTo > 0)) {
    throw new FieldError(`${field}.powersUpTo`, "a temperature greater than 0 in K", upTo);
  }
}
