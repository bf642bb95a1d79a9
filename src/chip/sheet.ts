/**
 * A rectangular die on a grid of cells, with its conduction factored once.
 * @module
 */
import { CondensedSheet, MapModes } from "./condensed-sheet.js";
import { type Contact, checkContacts } from "./contact.js";
import { Grid } from "./grid.js";
import { Laplacian } from "./laplacian.js";
import { cellPowers, type PowerMap } from "./power-map.js";

/** Size of a die and of its cells. */
export interface SheetOptions {
  /** Along x [m]. */
  readonly width: number;
  /** Along y [m]. */
  readonly length: number;
  /** Cells along the longer side, 128 by default; along the other as many as fit square. */
  readonly cells?: number;
  /** Cells along x, in place of that. */
  readonly cellsX?: number;
  /** Cells along y, likewise. */
  readonly cellsY?: number;
}

/** A rectangular die on a grid, factored once. */
export class Sheet {
  /** Cells of the sheet. */
  readonly grid: Grid;
  readonly #laplacian: Laplacian;
  readonly #maps: MapModes;

  /** @throws FieldError for a wrong size or number of cells */
  constructor({ width, length, cells = 128, cellsX, cellsY }: SheetOptions, field = "sheet") {
    this.grid = gridOf({ width, length, cells, cellsX, cellsY }, field);
    this.#laplacian = new Laplacian(this.grid);
    this.#maps = new MapModes(this.#laplacian);
  }

  /**
   * Θ of every cell, of mean 0, for the powers of the cells [W] with insulated rims; a total that is
   * not 0 is taken out evenly.
   */
  potential(powers: Float64Array): Float64Array {
    const potential = powers.slice();
    this.#laplacian.solve(potential);
    return potential;
  }

  /** Power of every cell [W]. @throws FieldError for a wrong map */
  powers(maps: PowerMap | readonly PowerMap[], field = "power"): Float64Array {
    return cellPowers(this.grid, maps, field);
  }

  /**
   * The sheet condensed to contacts.
   * @throws FieldError naming the contact: off the die, overlapping, or too near another for the cells
   */
  condense(contacts: readonly Contact[], field = "contacts"): CondensedSheet {
    return new CondensedSheet(this.#maps, checkContacts(this.grid, contacts, field));
  }
}

/**
 * The grid of a die with cells along its longer side, or along each: square as near as powers of two allow.
 * @throws FieldError for a wrong size or number of cells
 */
export function gridOf(
  {
    width,
    length,
    cells,
    cellsX,
    cellsY,
  }: Record<"width" | "length" | "cells", number> & Record<"cellsX" | "cellsY", number | undefined>,
  field: string,
): Grid {
  const along = (side: number, other: number) =>
    side >= other ? cells : 2 ** Math.max(3, Math.round(Math.log2((cells * side) / other)));
  return new Grid(
    width,
    length,
    cellsX ?? along(width, length),
    cellsY ?? along(length, width),
    field,
  );
}
