/**
 * Contacts of the die, where heat enters or leaves: pads, clamps, glue, patches of a film.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { areaOf, boundsOf, type Grid, overlapOf, type Rectangle, span } from "./grid.js";

/**
 * A place on the die that takes or brings heat evenly over its area and sees the area's mean Θ.
 * A large one is better cut into `tiles`, each free to take its own share.
 */
export interface Contact {
  /** Name of the node it is in the network, used once. */
  readonly name: string;
  /** The area, in pieces that do not overlap: one rectangle, or several around a hole. */
  readonly area: Rectangle | readonly Rectangle[];
  /** Contacts of one layer may not overlap; "face" when not given. */
  readonly layer?: string;
}

/** A contact that was checked. */
export interface CheckedContact {
  /** Its name. */
  readonly name: string;
  /** Rectangles it covers [m]. */
  readonly pieces: readonly Rectangle[];
  /** Area of them all [m²]. */
  readonly size: number;
}

/**
 * @throws FieldError naming the contact: none given, a name used twice, off the die, overlapping
 * another of its layer
 */
export function checkContacts(
  grid: Grid,
  contacts: readonly Contact[],
  field = "contacts",
): readonly CheckedContact[] {
  if (contacts.length === 0) {
    throw new FieldError(field, "at least one contact, or the heat has no way out", contacts);
  }
  const names = new Set<string>();
  const placed: { name: string; layer: string; piece: Rectangle }[] = [];
  return contacts.map(({ name, area, layer = "face" }, i) => {
    if (typeof name !== "string" || name === "" || names.has(name)) {
      throw new FieldError(`${field}[${i}].name`, "a name used once", name);
    }
    names.add(name);
    const given = "left" in area ? [area] : area;
    if (given.length === 0) throw new FieldError(name, "at least one rectangle", given);
    const pieces = given.map((piece) => grid.onDie(piece, name));
    for (const piece of pieces) {
      for (const other of placed) {
        const shared = other.layer === layer && overlapOf(piece, other.piece);
        if (shared) {
          const wanted =
            other.name === name
              ? "pieces apart from each other"
              : `a place apart from ${other.name}`;
          throw new FieldError(name, wanted, `an overlap at ${span(shared)}`);
        }
      }
      placed.push({ name, layer, piece });
    }
    return { name, pieces, size: pieces.reduce((sum, piece) => sum + areaOf(piece), 0) };
  });
}

/** What is left of an area around a hole: up to four rectangles for each one. */
export function withoutHole(
  area: Rectangle | readonly Rectangle[],
  hole: Rectangle,
): readonly Rectangle[] {
  const pieces = "left" in area ? [area] : area;
  return pieces.flatMap((piece) => {
    const gap = overlapOf(piece, hole);
    if (!gap) return [piece];
    return [
      { ...piece, top: gap.bottom },
      { ...piece, bottom: gap.top },
      { ...gap, left: piece.left, right: gap.left },
      { ...gap, left: gap.right, right: piece.right },
    ].filter(({ left, right, bottom, top }) => right > left && top > bottom);
  });
}

/**
 * An area cut by a grid of `across` × `along` equal tiles of the rectangle around it; a tile with
 * nothing of the area in it is left out. Row by row from the lower left.
 */
export function tiles(
  area: Rectangle | readonly Rectangle[],
  across: number,
  along: number,
): readonly (readonly Rectangle[])[] {
  for (const [name, count] of Object.entries({ across, along })) {
    if (!(Number.isInteger(count) && count >= 1)) {
      throw new FieldError(`tiles.${name}`, "a whole number of at least 1", count);
    }
  }
  const pieces = "left" in area ? [area] : area;
  const { left, right, bottom, top } = boundsOf(pieces);
  const x = (i: number) => (i === across ? right : left + (i / across) * (right - left));
  const y = (j: number) => (j === along ? top : bottom + (j / along) * (top - bottom));
  const found: Rectangle[][] = [];
  for (let j = 0; j < along; j++) {
    for (let i = 0; i < across; i++) {
      const tile = { left: x(i), right: x(i + 1), bottom: y(j), top: y(j + 1) };
      const inside = pieces.flatMap((piece) => overlapOf(piece, tile) ?? []);
      if (inside.length > 0) found.push(inside);
    }
  }
  return found;
}
