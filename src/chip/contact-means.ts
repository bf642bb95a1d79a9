/**
 * Means of a field over the contacts of a 2-D die and heat spread evenly over them, in cosine modes; and
 * from their coupling Y and the heat flows of the condensed sheet, see condensed-sheet.ts.
 * @module
 */
import type { CondensedBody } from "../conductor.js";
import { inverseOfPositive } from "../numerics/cholesky.js";
import type { CheckedContact } from "./contact.js";
import { areaOf } from "./grid.js";
import { type Laplacian, type Patch, stacked } from "./laplacian.js";

/** A rectangle of a contact. */
interface Piece extends Patch {
  /** Number of its contact. */
  readonly contact: number;
  /** Part of its contact's area. */
  readonly share: number;
}

/** W of the contacts: each row the shares of a contact in the cells, which sum to 1. */
export class ContactMeans {
  readonly #laplacian: Laplacian;
  readonly #contacts: number;
  readonly #pieces: readonly Piece[];
  readonly #stacks;
  /** One number for each mode. */
  readonly #ofModes: Float64Array;

  constructor(laplacian: Laplacian, contacts: readonly CheckedContact[]) {
    this.#laplacian = laplacian;
    this.#contacts = contacts.length;
    this.#pieces = contacts.flatMap(({ pieces, size }, contact) =>
      pieces.map((piece) => ({ contact, share: areaOf(piece) / size, ...laplacian.patch(piece) })),
    );
    this.#stacks = stacked(this.#pieces);
    this.#ofModes = new Float64Array(laplacian.grid.cellsY);
  }

  /** Mean over each contact of the field with these modes. */
  of(modes: Float64Array): Float64Array {
    const means = new Float64Array(this.#contacts);
    const ofModes = this.#ofModes;
    for (const { columns, pieces } of this.#stacks) {
      this.#laplacian.meansOfModes(columns, modes, ofModes);
      for (const { contact, share, modes: own } of pieces) {
        let mean = 0;
        for (let mode = 0; mode < own.length; mode++) mean += own[mode]! * ofModes[mode]!;
        means[contact]! += share * mean;
      }
    }
    return means;
  }

  /** Adds heat, spread evenly over each contact [W], to the modes of the power. */
  addHeat(heat: ArrayLike<number>, power: Float64Array): void {
    const ofModes = this.#ofModes;
    for (const { columns, pieces } of this.#stacks) {
      ofModes.fill(0);
      for (const { contact, share, modes } of pieces) {
        addTimes(ofModes, modes, share * heat[contact]!);
      }
      this.#laplacian.addHeat({ columns, modes: ofModes }, power);
    }
  }

  /** S = W G Wᵀ, row by row. */
  coupling(): Float64Array {
    const pieces = this.#pieces;
    const n = this.#contacts;
    const fine = this.#laplacian.coupling(pieces);
    if (pieces.length === n) return fine;
    const coupling = new Float64Array(n * n);
    pieces.forEach((a, i) => {
      pieces.forEach((b, j) => {
        coupling[a.contact * n + b.contact]! += a.share * b.share * fine[i * pieces.length + j]!;
      });
    });
    return coupling;
  }
}

/** Adds `times` the numbers to the first of the sums. */
export function addTimes(
  sums: Float64Array | number[],
  numbers: ArrayLike<number>,
  times: number,
): void {
  for (let i = 0; i < numbers.length; i++) sums[i] = sums[i]! + times * numbers[i]!;
}

/**
 * Y = S⁻¹ − u uᵀ/Σu and u/Σu, u = S⁻¹1.
 * @param coupling - S, row by row; changed
 * @returns Y, row by row, symmetric with rows that sum to 0, and the part of evenly spread heat that leaves
 * at each contact if all have one temperature; or the number of a contact that the cells cannot tell from
 * those before it
 */
export function admittanceOf(coupling: Float64Array, n: number) {
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
