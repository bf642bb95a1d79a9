/**
 * A thin normal-metal film on the die that conducts sideways: a ring, or a face as a whole.
 *
 * The film is cut into patches. Each is a contact of the die, from which heat passes through the
 * boundary and the coupling of electrons and phonons to the patch's electrons; and the electrons of
 * neighbours are joined by links of so many squares of film, Θ = (t ∫κ dT)/squares.
 *
 * A film over a whole rectangle can also be a `Sheet` of its own, condensed to the same patches and to
 * the bond feet on it, which resolves the spreading around each foot too.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { type Contact, tiles } from "./contact.js";
import { areaOf, type Rectangle, within } from "./grid.js";

/** A film in patches. */
export interface FilmPatches {
  /** Pieces of the film, each of one temperature. */
  readonly patches: readonly FilmPatch[];
  /** Ways between them, in the film. */
  readonly links: readonly FilmLink[];
}

/** A piece of film with one electron temperature; also a contact of the die. */
export interface FilmPatch extends Contact {
  readonly area: readonly Rectangle[];
  /** Its area [m²]. */
  readonly size: number;
  /** Middle of the area, along the width [m]. */
  readonly x: number;
  /** Middle of the area, along the length [m]. */
  readonly y: number;
}

/** The way along the film between the middles of two patches. */
export interface FilmLink {
  /** Names of patches. */
  readonly from: string;
  /** Patch at the other end, by its name. */
  readonly to: string;
  /** Length over width of the way. */
  readonly squares: number;
}

/** A band of film around the die, along its four rims. */
export interface RingOptions {
  /** Beginning of the patches' names. */
  readonly name: string;
  /** Of the die [m]. */
  readonly width: number;
  /** Of the die [m]. */
  readonly length: number;
  /** From the rim to the film [m]; 0 by default. */
  readonly inset?: number;
  /** Width of the band [m]. */
  readonly band: number;
  /** Patches along each side of the width, between the corners; 8 by default. */
  readonly across?: number;
  /** Patches along each side of the length, between the corners; 8 by default. */
  readonly along?: number;
}

/**
 * What the square at a right-angled corner of a strip counts: 1 − (2/π) ln 2 = 0.559 squares.
 * Source: P. M. Hall, Resistance calculations for thin film patterns, Thin Solid Films 1, 277 (1968).
 */
export const cornerSquares = 1 - (2 / Math.PI) * Math.LN2;

/**
 * A closed ring: a patch at each corner and so many along each side, in order from the lower left
 * corner, against the clock.
 * @throws FieldError when the ring does not fit on the die
 */
export function ringFilm(options: RingOptions, field = options.name): FilmPatches {
  const { name, width, length, inset = 0, band, across = 8, along = 8 } = options;
  if (!(inset >= 0)) throw new FieldError(`${field}.inset`, "a length of 0 or more", inset);
  if (!(band > 0 && 2 * (band + inset) < Math.min(width, length))) {
    const wanted = "a width greater than 0 that leaves the middle of the die open";
    throw new FieldError(`${field}.band`, wanted, band);
  }
  const outer = within({ left: 0, right: width, bottom: 0, top: length }, inset);
  const { left, right, bottom, top } = outer;
  const inner = within(outer, band);
  const lower = { ...inner, bottom, top: inner.bottom };
  const upper = { ...inner, bottom: inner.top, top };
  const leftSide = { ...inner, left, right: inner.left };
  const rightSide = { ...inner, left: inner.right, right };
  const sides = [
    [{ ...lower, left, right: inner.left }],
    tiles(lower, across, 1).flat(),
    [{ ...lower, left: inner.right, right }],
    tiles(rightSide, 1, along).flat(),
    [{ ...upper, left: inner.right, right }],
    tiles(upper, across, 1).flat().reverse(),
    [{ ...upper, left, right: inner.left }],
    tiles(leftSide, 1, along).flat().reverse(),
  ];
  // Squares from the middle of a patch to its end.
  const halves = sides.flatMap((side, s) => {
    const each = (s % 4 === 1 ? inner.right - inner.left : inner.top - inner.bottom) / side.length;
    return side.map(() => (s % 2 === 0 ? cornerSquares : each / band) / 2);
  });
  const patches = sides.flat().map((piece, i) => patchOf(`${name} ${i + 1}`, [piece]));
  const links = patches.map((patch, i) => {
    const next = (i + 1) % patches.length;
    return { from: patch.name, to: patches[next]!.name, squares: halves[i]! + halves[next]! };
  });
  return { patches, links };
}

/**
 * A film over an area of the die, with or without a hole, cut into `across` × `along` tiles; second
 * order in the size of a tile.
 */
export function faceFilm(
  name: string,
  area: Rectangle | readonly Rectangle[],
  across: number,
  along: number,
): FilmPatches {
  const patches = tiles(area, across, along).map((pieces, i) =>
    patchOf(`${name} ${i + 1}`, pieces),
  );
  const links: FilmLink[] = [];
  patches.forEach((a, i) => {
    for (const b of patches.slice(i + 1)) {
      const edge = sharedEdge(a.area, b.area);
      if (edge > 0) {
        const squares = Math.hypot(a.x - b.x, a.y - b.y) / edge;
        links.push({ from: a.name, to: b.name, squares });
      }
    }
  });
  return { patches, links };
}

function patchOf(name: string, area: readonly Rectangle[]): FilmPatch {
  const size = area.reduce((sum, piece) => sum + areaOf(piece), 0);
  const mean = (of: (piece: Rectangle) => number) =>
    area.reduce((sum, piece) => sum + (areaOf(piece) / size) * of(piece), 0);
  return {
    name,
    area,
    layer: "film",
    size,
    x: mean(({ left, right }) => (left + right) / 2),
    y: mean(({ bottom, top }) => (bottom + top) / 2),
  };
}

/** Length of the edge along which two areas touch [m]. */
function sharedEdge(a: readonly Rectangle[], b: readonly Rectangle[]): number {
  let edge = 0;
  for (const p of a) {
    for (const q of b) {
      const wide = Math.min(p.right, q.right) - Math.max(p.left, q.left);
      const tall = Math.min(p.top, q.top) - Math.max(p.bottom, q.bottom);
      const size = Math.max(p.right - p.left, p.top - p.bottom);
      if (Math.abs(wide) < 1e-9 * size && tall > 1e-9 * size) edge += tall;
      if (Math.abs(tall) < 1e-9 * size && wide > 1e-9 * size) edge += wide;
    }
  }
  return edge;
}
