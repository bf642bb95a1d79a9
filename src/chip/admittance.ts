/**
 * Y and the heat flows of a condensed sheet, from the coupling of its contacts.
 * @module
 */
import type { CondensedBody } from "../conductor.js";
import { inverseOfPositive } from "../numerics/cholesky.js";

/** What joins the contacts; see condensed-sheet.ts. */
export interface Admittance {
  /** Y, row by row; symmetric, rows sum to 0. */
  readonly admittance: Float64Array;
  /** u/Σu: part of evenly spread heat that leaves at each contact if all have one temperature. */
  readonly even: Float64Array;
}

/**
 * Y = S⁻¹ − u uᵀ/Σu and u/Σu, u = S⁻¹1.
 * @param coupling - S, row by row; changed
 * @returns both, or the number of a contact that the cells cannot tell from those before it
 */
export function admittanceOf(coupling: Float64Array, n: number): Admittance | number {
  // G of mean 0 has no part for an even share of heat; a constant on every entry changes only c.
  let constant = 0;
  for (let i = 0; i < n; i++) constant += coupling[i * n + i]! / n;
  if (!(constant > 0)) constant = 1;
  for (let i = 0; i < n * n; i++) coupling[i] = coupling[i]! + constant;
  const admittance = inverseOfPositive(coupling, n);
  if (typeof admittance === "number") return admittance;

  const even = new Float64Array(n);
  let total = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) even[i] = even[i]! + admittance[i * n + j]!;
    total += even[i]!;
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const entry = admittance[i * n + j]! - (even[i]! * even[j]!) / total;
      admittance[i * n + j] = entry;
      admittance[j * n + i] = entry;
    }
  }
  for (let i = 0; i < n; i++) {
    let rest = 0;
    for (let j = 0; j < n; j++) if (j !== i) rest += admittance[i * n + j]!;
    admittance[i * n + i] = -rest;
    even[i] = even[i]! / total;
  }
  return { admittance, even };
}

/** Heat into a body at its terminals, Σⱼ Yᵢⱼ Θ(Tⱼ) − sᵢ [W]. */
export function heatInto(body: CondensedBody, temperatures: ArrayLike<number>): Float64Array {
  const { law, admittance, outflow } = body;
  const theta = outflow.map((_, i) => law.integral(temperatures[i]!));
  const heat = heatBetween(admittance, theta);
  for (let i = 0; i < heat.length; i++) heat[i]! -= outflow[i]!;
  return heat;
}

/** Σⱼ Yᵢⱼ (Θⱼ − Θᵢ): the rows of Y sum to 0, and differences lose no digits. */
export function heatBetween(admittance: Float64Array, theta: Float64Array): Float64Array {
  const n = theta.length;
  const heat = new Float64Array(n);
  for (let i = 0, at = 0; i < n; i++) {
    const own = theta[i]!;
    let sum = 0;
    for (let j = 0; j < n; j++, at++) sum += admittance[at]! * (theta[j]! - own);
    heat[i] = sum;
  }
  return heat;
}
