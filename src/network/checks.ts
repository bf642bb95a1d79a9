/**
 * Checks of the numbers and laws of a network, at its description and at each change.
 * @module
 */
import type { Conductor, Load, PowerTerm } from "../conductor.js";
import { aList, anObject } from "../units/checks.js";
import { FieldError } from "../units/errors.js";

/** @throws FieldError unless the value is finite and greater than zero */
export function positive(field: string, value: number, unit: string): number {
  if (Number.isFinite(value) && value > 0) return value;
  throw new FieldError(field, `a number greater than 0${unit && ` in ${unit}`}`, value);
}

/**
 * @param field - the conductor or store, as messages name it
 * @throws FieldError unless the sum of power laws rises with temperature
 */
export function checkPowers(
  field: string,
  powers: readonly PowerTerm[],
  upTo = Number.POSITIVE_INFINITY,
): void {
  let largest = 0;
  for (const term of aList(`${field}.powers`, powers, "a list of power laws")) {
    const { coefficient, exponent } = anObject(`${field}.powers`, term);
    if (!(Number.isFinite(coefficient) && coefficient >= 0)) {
      throw new FieldError(`${field}.coefficient`, "a finite number, not negative", coefficient);
    }
    positive(`${field}.exponent`, exponent, "");
    largest = Math.max(largest, coefficient);
  }
  if (powers.length === 0) return;
  positive(`${field}.coefficient`, largest, "");
  if (!(upTo > 0)) {
    throw new FieldError(`${field}.powersUpTo`, "a temperature greater than 0 in K", upTo);
  }
}

/** @throws FieldError unless a conductor has its two functions, and power laws whose G is positive */
export function checkConductor(link: string, conductor: Conductor): void {
  const field = `${link}.conductor`;
  const { conductance, integral, powers, powersUpTo } = anObject(field, conductor);
  if (typeof conductance !== "function" || typeof integral !== "function") {
    throw new FieldError(field, "the functions conductance and integral", conductance);
  }
  if (powers !== undefined) checkPowers(field, powers, powersUpTo);
}

/** @throws FieldError unless the load is a finite number or has the functions of a law */
export function checkLoad(node: string, load: number | Load): void {
  if (typeof load === "number" && Number.isFinite(load)) return;
  const field = `${node}.load`;
  if (typeof load === "number") throw new FieldError(field, "a finite number in watts", load);
  const { power, slope } = anObject(field, load);
  if (typeof power === "function" && typeof slope === "function") return;
  throw new FieldError(field, "a number in watts, or the functions power and slope", power);
}
