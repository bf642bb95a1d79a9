/**
 * The die divided into cells of one temperature each, for runs in time; the condensation to contacts
 * holds in the steady state only.
 *
 * In Θ = t ∫κ dT the heat between two neighbours is (Θ₁ − Θ₂)·b/d, with b the length of their common side
 * and d from middle to middle: the usual finite volumes, of second order in the cell.
 * @module
 */
import type { CheckedContact } from "./contact.js";
import type { Grid, Rectangle } from "./grid.js";

/** Two neighbouring cells, and the squares of the sheet between their middles. */
export interface CellLink {
  readonly from: number;
  readonly to: number;
  /** d/b: Θ of one square over it is what goes across. */
  readonly squares: number;
}

/** A cell under a contact, and its share of the contact's area. */
export interface CoveredCell {
  readonly cell: number;
  readonly share: number;
}

/** Every pair of neighbours, row by row. */
export function cellLinks(grid: Grid): readonly CellLink[] {
  const { cellsX, cellsY, cellWidth, cellLength } = grid;
  const links: CellLink[] = [];
  for (let j = 0; j < cellsY; j++) {
    for (let i = 0; i < cellsX; i++) {
      const from = j * cellsX + i;
      if (i + 1 < cellsX) links.push({ from, to: from + 1, squares: cellWidth / cellLength });
      if (j + 1 < cellsY) links.push({ from, to: from + cellsX, squares: cellLength / cellWidth });
    }
  }
  return links;
}

/** The cells under a contact; shares sum to 1. */
export function cellsUnder(grid: Grid, { pieces, size }: CheckedContact): readonly CoveredCell[] {
  const shares = new Map<number, number>();
  for (const piece of pieces) {
    const part = ((piece.right - piece.left) * (piece.top - piece.bottom)) / size;
    for (const { cell, share } of cellsOf(grid, piece)) {
      shares.set(cell, (shares.get(cell) ?? 0) + part * share);
    }
  }
  return [...shares].map(([cell, share]) => ({ cell, share }));
}

/** The cell at a place of the die [m]. */
export function cellAt(grid: Grid, x: number, y: number): number {
  const i = Math.min(grid.cellsX - 1, Math.floor(x / grid.cellWidth));
  const j = Math.min(grid.cellsY - 1, Math.floor(y / grid.cellLength));
  return j * grid.cellsX + i;
}

function cellsOf(grid: Grid, piece: Rectangle): readonly CoveredCell[] {
  const columns = grid.columns(piece);
  const rows = grid.rows(piece);
  const covered: CoveredCell[] = [];
  rows.shares.forEach((along, j) => {
    columns.shares.forEach((across, i) => {
      const share = along * across;
      if (share > 0) {
        covered.push({ cell: (rows.first + j) * grid.cellsX + columns.first + i, share });
      }
    });
  });
  return covered;
}
