/**
 * Contacts on the faces of a die: checked, cut into tiles, and found under a place.
 * @module
 */
import { FieldError } from "../../units/errors.js";
import { areaOf, overlapOf, type Rectangle } from "../grid.js";
import { type DieBox, type FaceName, faceNames, spanOf } from "./box.js";

/** A rectangle on a face [m]. */
export interface FacePiece extends Rectangle {
  /** The front when absent. */
  readonly face?: FaceName;
}

/** Where phonons leave the die and come into it. */
export interface FaceContact {
  /** Name, used once. */
  readonly name: string;
  /** One rectangle or several, on any faces, that do not overlap each other or another contact. */
  readonly area: FacePiece | readonly FacePiece[];
}

/** A part of a contact that sends out the same everywhere. */
export interface Tile {
  /** Number of its contact. */
  readonly contact: number;
  /** Number of its face, in the order of `faceNames`. */
  readonly face: number;
  /** Where it lies on the face [m]. */
  readonly area: Rectangle;
}

/** Rectangles of contacts, as the tracer finds them. */
export interface Lookup {
  /** Cells across and along of each face. */
  readonly cells: Int32Array;
  /** Cells per metre, across and along, of each face. */
  readonly scale: Float64Array;
  /** Where in `heads` a face begins; −1 for a face without contacts. */
  readonly first: Int32Array;
  /** Of each cell, where in `tiles` its list begins; −1 for none. */
  readonly heads: Int32Array;
  /** Tile numbers; a list ends with −1. */
  readonly tiles: Int32Array;
  /** Left, right, bottom and top, by tile [m]. */
  readonly ends: Float64Array;
}

/** Most tiles of all contacts together, beyond one for each piece. */
const mostTiles = 256;

/**
 * Contacts cut into tiles, small against the die and not much larger than it is thick, since each tile
 * reflects what it does not absorb evenly.
 * @param isMoving - of a piece: those that move with their number are cut by themselves, so that the others are
 * cut alike however many there are
 * @throws FieldError naming the contact: none, a name used twice, off its face, overlapping another
 */
export function tilesOf(
  box: DieBox,
  contacts: readonly FaceContact[],
  field = "contacts",
  isMoving: (piece: Tile) => boolean = () => false,
): Tile[] {
  if (contacts.length === 0) {
    throw new FieldError(field, "at least one contact, or the heat has no way out", contacts);
  }
  const pieces = piecesOf(box, contacts, field);
  const moves = pieces.map(isMoving);
  const reaches = [false, true].map((moving) =>
    reachOf(
      pieces.filter((_, i) => moves[i] === moving),
      2 * box.sides[2]!,
    ),
  );
  return pieces.flatMap(({ contact, face, area }, i) => {
    const [across, along] = cutsOf(area, reaches[Number(moves[i])]!);
    const { left, right, bottom, top } = area;
    const x = (i: number) => (i === across ? right : left + (i / across) * (right - left));
    const y = (j: number) => (j === along ? top : bottom + (j / along) * (top - bottom));
    return Array.from({ length: across * along }, (_, k): Tile => {
      const [i, j] = [k % across, Math.floor(k / across)];
      const tile = { left: x(i), right: x(i + 1), bottom: y(j), top: y(j + 1) };
      return { contact, face, area: tile };
    });
  });
}

/** How large tiles may be for pieces not to be cut into too many [m]. @param least - [m] */
function reachOf(pieces: readonly Tile[], least: number): number {
  let reach = least;
  const count = () =>
    pieces.reduce((sum, { area }) => {
      const [across, along] = cutsOf(area, reach);
      return sum + across * along;
    }, 0);
  while (count() > mostTiles + pieces.length) reach *= 1.25;
  return reach;
}

function cutsOf({ left, right, bottom, top }: Rectangle, reach: number): [number, number] {
  const cuts = (side: number) => Math.ceil((side / reach) * (1 - 1e-9));
  return [cuts(right - left), cuts(top - bottom)];
}

function piecesOf(box: DieBox, contacts: readonly FaceContact[], field: string): Tile[] {
  const names = new Set<string>();
  const placed: Tile[] = [];
  contacts.forEach(({ name, area }, contact) => {
    if (typeof name !== "string" || name === "" || names.has(name)) {
      throw new FieldError(`${field}[${contact}].name`, "a name used once", name);
    }
    names.add(name);
    const given = "left" in area ? [area] : area;
    if (given.length === 0) throw new FieldError(name, "at least one rectangle", given);
    for (const piece of given) {
      const face = faceNames.indexOf(piece.face ?? "front");
      if (face < 0)
        throw new FieldError(`${name}.face`, `one of ${faceNames.join(", ")}`, piece.face);
      const own = box.onFace(piece, face, name);
      for (const other of placed) {
        const shared = other.face === face && overlapOf(own, other.area);
        if (!shared) continue;
        const wanted =
          other.contact === contact
            ? "pieces apart from each other"
            : `a place apart from ${contacts[other.contact]!.name}`;
        throw new FieldError(
          name,
          wanted,
          `an overlap at ${spanOf(shared)} of the ${faceNames[face]}`,
        );
      }
      placed.push({ contact, face, area: own });
    }
  });
  return placed;
}

/** Areas of tiles [m²]. */
export function tileAreas(tiles: readonly Tile[]): Float64Array {
  return Float64Array.from(tiles, ({ area }) => areaOf(area));
}

/** Most cells of a face's lookup along one side. */
const mostCells = 128;

/** The lookup of tiles by place. */
export function lookupOf(box: DieBox, tiles: readonly Tile[]): Lookup {
  const cells = new Int32Array(12);
  const scale = new Float64Array(12);
  const first = new Int32Array(6).fill(-1);
  const lists: number[][] = [];
  const ends = new Float64Array(4 * tiles.length);
  for (let face = 0; face < 6; face++) {
    const own = tiles.flatMap((tile, t) => (tile.face === face ? [t] : []));
    if (own.length === 0) continue;
    const sides = box.faceSides(face);
    const count = sides.map((side) =>
      Math.max(1, Math.min(mostCells, Math.round((mostCells * side) / Math.max(...sides)))),
    ) as [number, number];
    first[face] = lists.length;
    for (let axis = 0; axis < 2; axis++) {
      cells[2 * face + axis] = count[axis]!;
      // A place beyond the rim by rounding stays in the last cell.
      scale[2 * face + axis] = (count[axis]! / sides[axis]!) * (1 - 2 ** -48);
    }
    for (let cell = 0; cell < count[0] * count[1]; cell++) lists.push([]);
    const range = (from: number, to: number, axis: 0 | 1) => {
      const at = (place: number) => Math.floor((place / sides[axis]) * count[axis]);
      return [Math.max(0, at(from) - 1), Math.min(count[axis] - 1, at(to) + 1)] as const;
    };
    for (const t of own) {
      const { left, right, bottom, top } = tiles[t]!.area;
      ends.set([left, right, bottom, top], 4 * t);
      const [i0, i1] = range(left, right, 0);
      const [j0, j1] = range(bottom, top, 1);
      for (let j = j0; j <= j1; j++) {
        for (let i = i0; i <= i1; i++) {
          const cell = {
            left: i / scale[2 * face]!,
            right: (i + 1) / scale[2 * face]!,
            bottom: j / scale[2 * face + 1]!,
            top: (j + 1) / scale[2 * face + 1]!,
          };
          const touches =
            cell.left <= right && cell.right >= left && cell.bottom <= top && cell.top >= bottom;
          if (touches) lists[first[face]! + j * count[0] + i]!.push(t);
        }
      }
    }
  }
  const flat: number[] = [];
  const heads = Int32Array.from(lists, (list) => {
    if (list.length === 0) return -1;
    const head = flat.length;
    flat.push(...list, -1);
    return head;
  });
  return { cells, scale, first, heads, tiles: Int32Array.from(flat), ends };
}

/** The tile at a place of a face; −1 where there is none. */
export function tileAt(
  { cells, scale, first, heads, tiles, ends }: Lookup,
  face: number,
  across: number,
  along: number,
): number {
  const own = first[face]!;
  if (own < 0) return -1;
  const column = (across * scale[2 * face]!) | 0;
  const row = (along * scale[2 * face + 1]!) | 0;
  let entry = heads[own + row * cells[2 * face]! + column]!;
  if (entry < 0) return -1;
  for (let tile = tiles[entry]!; tile >= 0; tile = tiles[++entry]!) {
    const rim = 4 * tile;
    if (
      across >= ends[rim]! &&
      across <= ends[rim + 1]! &&
      along >= ends[rim + 2]! &&
      along <= ends[rim + 3]!
    ) {
      return tile;
    }
  }
  return -1;
}
