/**
 * Means of a field over the contacts of a sheet, and heat spread evenly over them, in cosine modes.
 * @module
 */
import type { CheckedContact } from "./contact.js";
import { areaOf } from "./grid.js";
import { keyOf, type Laplacian, type Patch } from "./laplacian.js";

/** A rectangle of a contact. */
interface Piece extends Patch {
  /** Number of its contact. */
  readonly contact: number;
  /** Part of its contact's area. */
  readonly share: number;
}

/** Pieces in the same columns of cells, such as those along a rim. */
interface Stack {
  readonly columns: Patch["columns"];
  readonly pieces: readonly Piece[];
}

/** W of the contacts: each row the shares of a contact in the cells, which sum to 1. */
export class ContactMeans {
  readonly #laplacian: Laplacian;
  readonly #contacts: number;
  readonly #pieces: readonly Piece[];
  readonly #stacks: readonly Stack[];
  /** One number for each mode. */
  readonly #ofModes: Float64Array;

  constructor(laplacian: Laplacian, contacts: readonly CheckedContact[]) {
    this.#laplacian = laplacian;
    this.#contacts = contacts.length;
    this.#pieces = contacts.flatMap(({ pieces, size }, contact) =>
      pieces.map((piece) => ({ ...laplacian.patch(piece), contact, share: areaOf(piece) / size })),
    );
    const stacks = new Map<string, Stack & { readonly pieces: Piece[] }>();
    for (const piece of this.#pieces) {
      const key = keyOf(piece.columns);
      const stack = stacks.get(key) ?? { columns: piece.columns, pieces: [] };
      stack.pieces.push(piece);
      stacks.set(key, stack);
    }
    this.#stacks = [...stacks.values()];
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

/** Adds `times` the numbers to the sums. */
export function addTimes(sums: Float64Array, numbers: Float64Array, times: number): void {
  for (let i = 0; i < sums.length; i++) sums[i] = sums[i]! + times * numbers[i]!;
}
