/**
 * Laws that rise with temperature, Θ(T) of a conductor or H(T) of a heat store: sums of power laws, and
 * the temperature that belongs to a value.
 * @module
 */
import type { Conductor, HeatStore, PowerTerm } from "../conductor.js";

/** After a Newton step this short [parts of T] the next is below the last digit. */
const stepTolerance = 1e-8;
/** Enough for bisection alone. */
const mostSteps = 200;

/** Tᵖ; integer exponents up to 4 are multiplied out. */
function power(T: number, p: number): number {
  if (p === 1) return T;
  if (p === 3) return T * T * T;
  if (p === 4) return T * T * (T * T);
  if (p === 2) return T * T;
  if (p === 0) return 1;
  return T ** p;
}

/** Writes `count` times Σ c·Tᵖ and its derivative by T into two places of `into`, the first `at`. */
export function sumOfPowers(
  powers: readonly PowerTerm[],
  count: number,
  T: number,
  into: Float64Array,
  at = 0,
): void {
  let sum = 0;
  let slope = 0;
  for (let i = 0; i < powers.length; i++) {
    const { coefficient, exponent } = powers[i]!;
    const part = count * coefficient * power(T, exponent - 1);
    sum += part * T;
    slope += exponent * part;
  }
  into[at] = sum;
  into[at + 1] = slope;
}

/** A rising law prepared for many calls: continuous where its powers end and its functions begin. */
export class TemperatureLaw {
  readonly #powers: readonly PowerTerm[];
  readonly #upTo: number;
  /** Value of the function less that of the powers at `upTo`: the two may differ by a constant. */
  readonly #offset: number;
  readonly #found = new Float64Array(2);
  readonly #least: number;
  /** Whether the law is one power at every temperature, or a T² + b T⁴, as the heat of a metal. */
  readonly #hasRoots: boolean = false;
  /** Exponent of the one power, else 0; its coefficient, else a; and b. */
  readonly #exponent: number = 0;
  readonly #coefficient: number = 0;
  readonly #fourth: number = 0;

  /**
   * @param law - its value at a temperature, up to a constant
   * @param derivative - its derivative, positive for T > 0
   * @param powers - the law as a sum of power laws up to the temperature `powersUpTo` [K]; empty where
   * it is none
   */
  constructor(
    private readonly law: (temperature: number) => number,
    private readonly derivative: (temperature: number) => number,
    powers: readonly PowerTerm[] = [],
    powersUpTo = Number.POSITIVE_INFINITY,
  ) {
    this.#powers = powers;
    this.#upTo = powers.length > 0 ? powersUpTo : 0;
    this.#least = powers.length > 0 ? 0 : Number.NEGATIVE_INFINITY;
    const sum = (p: number) =>
      powers.reduce((s, { coefficient, exponent }) => s + (exponent === p ? coefficient : 0), 0);
    if (this.#upTo < Number.POSITIVE_INFINITY) this.#hasRoots = false;
    else if (powers.length === 1) {
      this.#hasRoots = true;
      this.#exponent = powers[0]!.exponent;
      this.#coefficient = powers[0]!.coefficient;
    } else if (powers.every(({ exponent }) => exponent === 2 || exponent === 4)) {
      this.#coefficient = sum(2);
      this.#fourth = sum(4);
      // The square of a must have all its digits.
      this.#hasRoots = this.#coefficient > 1e-145 && this.#coefficient < 1e145;
    }
    const changes = this.#upTo > 0 && this.#upTo < Number.POSITIVE_INFINITY;
    this.#offset = changes ? law(powersUpTo) - this.value(powersUpTo) : 0;
  }

  /** Value and slope at a temperature; the next call writes into the same array. */
  at(T: number): Float64Array {
    const found = this.#found;
    if (T <= this.#upTo) sumOfPowers(this.#powers, 1, T, found);
    else {
      found[0] = this.law(T) - this.#offset;
      found[1] = this.derivative(T);
    }
    return found;
  }

  value(T: number): number {
    return this.at(T)[0]!;
  }

  slope(T: number): number {
    return this.at(T)[1]!;
  }

  /**
   * Temperature at a value [K]: by roots for a single power law and for a T² + b T⁴, else by Newton's
   * method within shrinking bounds.
   * @param guess - a temperature to start from [K]
   * @returns NaN where no temperature above 0 has this value
   */
  temperature(value: number, guess: number): number {
    if (!(value > this.#least && value < Number.POSITIVE_INFINITY)) return Number.NaN;
    return this.#hasRoots ? this.#byRoots(value) : this.#search(value, guess);
  }

  /**
   * The same in lists, in a loop: a number that passes a call is allocated by the engine.
   * @param temperatures - guesses, replaced by temperatures [K]
   */
  findTemperature(values: Float64Array, temperatures: Float64Array, at: number): void {
    temperatures[at] = this.temperature(values[at]!, temperatures[at]!);
  }

  #byRoots(value: number): number {
    const exponent = this.#exponent;
    if (exponent === 2) return Math.sqrt(value / this.#coefficient);
    if (exponent === 4) return Math.sqrt(Math.sqrt(value / this.#coefficient));
    if (exponent > 0) return (value / this.#coefficient) ** (1 / exponent);
    // In this form of the root nothing is subtracted.
    const a = this.#coefficient;
    return Math.sqrt((2 * value) / (a + Math.sqrt(a * a + 4 * this.#fourth * value)));
  }

  #search(value: number, guess: number): number {
    let low = 0;
    let high = Number.POSITIVE_INFINITY;
    let T = guess;
    for (let step = 0; step < mostSteps; step++) {
      const found = this.at(T);
      const change = (value - found[0]!) / found[1]!;
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
}

/** Θ(T) of a conductor, up to a constant. */
export function conductionLaw(conductor: Conductor): TemperatureLaw {
  return new TemperatureLaw(
    (T) => conductor.integral(T),
    (T) => conductor.conductance(T),
    conductor.powers,
    conductor.powersUpTo,
  );
}

/** H(T) of a heat store, up to a constant. */
export function enthalpyLaw(store: HeatStore): TemperatureLaw {
  return new TemperatureLaw(
    (T) => store.enthalpy(T),
    (T) => store.heatCapacity(T),
    store.powers,
    store.powersUpTo,
  );
}
