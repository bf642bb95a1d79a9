/**
 * Where bumps and glue stand between two dies, and which contacts they are on each.
 * @module
 */
import { tiles } from "../../chip/contact.js";
import { areaOf, boundsOf, overlapOf, type Rectangle, span } from "../../chip/grid.js";
import { FieldError } from "../../units/errors.js";
import type { Plain } from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Bumps, BumpsBetween, DieJoint, GlueBetween, WithBetween } from "./die-joints.js";
import { patchesThatFit } from "./film.js";
import { jointCount } from "./joint.js";
import { checkPlaces, inRows, type Point, refuseTooMany, spots, square } from "./spots.js";
import { faceOfDie, moved, plate, sharedFace } from "./stack.js";

/** Tiles of a whole face along the longer side of the smaller die. */
const tilesAlong = 12;
/** Most contacts of one joint on either die: their number cubed is the cost of a solve. */
const mostContacts = tilesAlong ** 2;
const mostBumps = 100_000;
/** Of more bumps in each contact than this it is the rectangle around them, which they cover evenly. */
const mostSquares = 4;

/** Side of the square that has a bump's area, over its diameter. */
const squareSide = Math.sqrt(Math.PI) / 2;

/** The face that both dies share. @throws FieldError where there is none */
export function sharedBy(mount: WithBetween, { from, to }: Plain<DieJoint>, i: number): Rectangle {
  const shared = sharedFace(mount, from, to);
  if (shared) return shared;
  const field = `between[${i}]`;
  throw new FieldError(field, "dies that lie over each other", `${from} and ${to}, apart`);
}

/** Width and length of a rectangle. */
const sizeOf = ({ left, right, bottom, top }: Rectangle) => ({
  width: right - left,
  length: top - bottom,
});

/** Middles of the bumps, from the corner of the mount's own die. @throws FieldError for more than fit */
export function bumpMiddles(
  mount: WithBetween,
  own: Plain<BumpsBetween>,
  i: number,
): readonly Point[] {
  const at = `between[${i}].bumps`;
  const { places, count: total, pitch, diameter } = own.bumps;
  const shared = sharedBy(mount, own, i);
  const corner = places ? faceOfDie(mount, own.from) : shared;
  const inFrame = ({ x, y }: Point) => ({ x: x + corner.left, y: y + corner.bottom });
  if (places) return places.map(inFrame);
  const { width, length } = sizeOf(shared);
  if (pitch === undefined) return inRows({ width, length }, total ?? 1).map(inFrame);
  const along = (side: number) => Math.floor((side - diameter) / pitch + 1e-9) + 1;
  const [most, mostRows] = [along(width), along(length)];
  const wanted = total ?? most * mostRows;
  if (wanted > most * mostRows || wanted < 1) {
    const words = `at most ${most * mostRows}, which is what fits on the shared face at the pitch`;
    throw new FieldError(`${at}.count`, words, wanted);
  }
  const even = Math.max(1, Math.round(Math.sqrt((wanted * most) / mostRows)));
  // Wide enough that the rows fit.
  const across = Math.min(most, Math.max(even, Math.ceil(wanted / mostRows)));
  const rows = Math.ceil(wanted / across);
  return Array.from({ length: wanted }, (_, k) => {
    const [column, row] = [k % across, Math.floor(k / across)];
    const inRow = row < rows - 1 ? across : wanted - across * (rows - 1);
    return inFrame({
      x: width / 2 + (column - (inRow - 1) / 2) * pitch,
      y: length / 2 + (row - (rows - 1) / 2) * pitch,
    });
  });
}

/** Rectangles of each contact, from the corner of the mount's own die, and its share of them all. */
export function contactAreas(mount: WithBetween, i: number) {
  const own = mount.between![i]!;
  if ("bumps" in own) return bumpAreas(mount, own, i);
  const shared = sharedBy(mount, own, i);
  const spot = "glue" in own ? own.glue.area : undefined;
  const side = Math.min(
    ...[own.from, own.to].map((name) => {
      const die = plate(mount, name);
      return Math.max(die.width, die.length) / patchesThatFit(die, tilesAlong);
    }),
  );
  const inTiles = (face: Rectangle) => {
    const { width, length } = sizeOf(face);
    const [across, along] = [width, length].map((each) => Math.max(1, Math.round(each / side)));
    return tiles(face, across!, along!);
  };
  const faces =
    spot === undefined
      ? [shared]
      : glueMiddles(mount, own as Plain<GlueBetween>, shared).map((middle) =>
          square(middle, Math.sqrt(spot)),
        );
  const areas = faces.flatMap(inTiles);
  const sizes = areas.map((pieces) => pieces.reduce((sum, piece) => sum + areaOf(piece), 0));
  const whole = sizes.reduce((sum, size) => sum + size, 0);
  return areas.map((pieces, k) => ({ area: pieces, share: sizes[k]! / whole }));
}

/** Middles of spots of glue, from the corner of the mount's own die. */
export function glueMiddles(mount: WithBetween, own: Plain<GlueBetween>, shared: Rectangle) {
  const { places, count: total = 1 } = own.glue;
  const corner = places ? faceOfDie(mount, own.from) : shared;
  return (places ?? inRows(sizeOf(shared), total)).map(({ x, y }) => ({
    x: x + corner.left,
    y: y + corner.bottom,
  }));
}

/** Bumps, neighbours together where they are more than can be told apart. */
function bumpAreas(mount: WithBetween, own: Plain<BumpsBetween>, i: number) {
  const side = squareSide * own.bumps.diameter;
  const middles = bumpMiddles(mount, own, i);
  const share = 1 / middles.length;
  if (middles.length <= mostContacts) {
    return middles.map((middle) => ({ area: [square(middle, side)], share }));
  }
  const shared = sharedBy(mount, own, i);
  const { width, length } = sizeOf(shared);
  const along = Math.sqrt(mostContacts * (length / width));
  const rows = Math.max(1, Math.floor(along));
  const columns = Math.max(1, Math.floor(mostContacts / rows));
  const groups = new Map<string, { readonly tile: Rectangle; readonly squares: Rectangle[] }>();
  for (const middle of middles) {
    const column = Math.min(columns - 1, Math.floor(((middle.x - shared.left) / width) * columns));
    const row = Math.min(rows - 1, Math.floor(((middle.y - shared.bottom) / length) * rows));
    const key = `${column} ${row}`;
    const [left, bottom] = [column * (width / columns), row * (length / rows)];
    const tile = { left, bottom, right: left + width / columns, top: bottom + length / rows };
    const group = groups.get(key) ?? { tile: moved(tile, shared, 1), squares: [] };
    group.squares.push(square(middle, side));
    groups.set(key, group);
  }
  const isDense = middles.length > mostSquares * groups.size;
  return [...groups.values()].map(({ tile, squares }) => ({
    area: isDense ? [overlapOf(boundsOf(squares), tile)!] : squares,
    share: share * squares.length,
  }));
}

/** How many stand side by side. */
export function countOf(mount: WithBetween, i: number): number {
  const own = mount.between![i]!;
  if ("joint" in own) return jointCount(own.joint);
  if ("glue" in own) return own.glue.area === undefined ? 1 : spots(own.glue);
  return own.bumps.places?.length ?? bumpMiddles(mount, own, i).length;
}

/** Of one bump [m²]. */
export const bumpArea = ({ diameter }: { readonly diameter: number }) =>
  (Math.PI * diameter ** 2) / 4;
/** Of one spot of glue [m²]. */
export const glueArea = (mount: WithBetween, own: Plain<GlueBetween>, i: number) =>
  own.glue.area ?? areaOf(sharedBy(mount, own, i));

/** @throws FieldError for a spot that does not lie on both dies */
export function checkSpots(
  mount: WithBetween,
  own: Plain<BumpsBetween | GlueBetween>,
  i: number,
): void {
  const isBumps = "bumps" in own;
  const key = isBumps ? "bumps" : "glue";
  const at = `between[${i}].${key}`;
  const given = isBumps ? own.bumps : own.glue;
  checkPlaces(at, given);
  if (!isBumps && own.glue.area === undefined) {
    for (const needs of ["count", "places"] as const) {
      if (own.glue[needs] === undefined) continue;
      throw new FieldError(`${at}.area`, "the area of each spot", undefined);
    }
    return;
  }
  if (isBumps) {
    const { places, count: total, pitch, diameter } = own.bumps;
    if (!places && total === undefined && pitch === undefined) {
      throw new FieldError(`${at}.places`, "places, or a count or a pitch beside", undefined);
    }
    if (pitch !== undefined && places) {
      throw new FieldError(`${at}.pitch`, "nothing beside places", formatGiven(pitch, "m"));
    }
    if (pitch !== undefined && pitch < diameter * (1 - 1e-9)) {
      const words = `at least the diameter, ${formatGiven(diameter, "m")}`;
      throw new FieldError(`${at}.pitch`, words, formatGiven(pitch, "m"));
    }
  }
  const shared = sharedBy(mount, own, i);
  if (isBumps) refuseTooManyBumps(own.bumps, shared, at);
  else refuseTooMany(`${at}.count`, own.glue.count);
  const side = isBumps ? own.bumps.diameter : Math.sqrt(own.glue.area!);
  const middles = isBumps ? bumpMiddles(mount, own, i) : glueMiddles(mount, own, shared);
  const areas = middles.map((middle) => square(middle, side));
  const what = isBumps ? "bump" : "spot of glue";
  const where = (k: number) => (given.places ? `${at}.places[${k}]` : at);
  areas.forEach((spot, k) => {
    for (const name of [own.from, own.to]) {
      const face = faceOfDie(mount, name);
      const over = 1e-9 * (face.right - face.left);
      if (
        spot.left >= face.left - over &&
        spot.right <= face.right + over &&
        spot.bottom >= face.bottom - over &&
        spot.top <= face.top + over
      )
        continue;
      const words = `a ${what} on both dies`;
      const here = span(moved(spot, face, -1));
      throw new FieldError(where(k), words, `one over the edge of ${name}, at ${here}`);
    }
  });
  const sorted = areas.map((spot, k) => ({ spot, k })).sort((a, b) => a.spot.left - b.spot.left);
  sorted.forEach(({ spot, k }, n) => {
    for (const other of sorted.slice(n + 1)) {
      if (other.spot.left >= spot.right - 1e-9 * side) break;
      const apart = isBumps
        ? Math.hypot(other.spot.left - spot.left, other.spot.bottom - spot.bottom)
        : Math.max(other.spot.left - spot.left, Math.abs(other.spot.bottom - spot.bottom));
      if (apart >= side * (1 - 1e-9)) continue;
      const [first, last] = [Math.min(k, other.k), Math.max(k, other.k)];
      const corner = faceOfDie(mount, own.from);
      const wanted = `a ${what} apart from ${given.places ? where(first) : "the others"}`;
      const here = span(moved(areas[last]!, corner, -1));
      throw new FieldError(where(last), wanted, `an overlap at ${here}`);
    }
  });
}

/** @throws FieldError for more bumps than any chip has */
function refuseTooManyBumps(
  { pitch, count: total, diameter }: Plain<Bumps>,
  shared: Rectangle,
  at: string,
): void {
  const words = `at most ${mostBumps} bumps`;
  if (total !== undefined) {
    if (total > mostBumps) throw new FieldError(`${at}.count`, words, total);
  } else if (pitch !== undefined) {
    const { width, length } = sizeOf(shared);
    const most = [width, length].map((each) => Math.max(0, (each - diameter) / pitch) + 1);
    if (most[0]! * most[1]! <= mostBumps) return;
    throw new FieldError(`${at}.pitch`, `a pitch at which ${words} fit`, formatGiven(pitch, "m"));
  }
}
