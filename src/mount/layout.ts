/**
 * Where things touch the die: pads, ring, back, clamps, glue and warm wires as rectangles.
 * Places are in metres from the die's lower left corner.
 * @module
 */

import { tiles, withoutHole } from "../chip/contact.js";
import { type FilmLink, faceFilm, ringFilm } from "../chip/film.js";
import { areaOf, overlapOf, type Rectangle } from "../chip/grid.js";
import { FieldError } from "../units/errors.js";
import { formatGiven } from "../units/format.js";
import type { Side } from "./description.js";
import { sourceNames } from "./heat-sources.js";
import { cooledSides } from "./part.js";
import type { PlainMount } from "./read.js";

/** Contacts of one kind, which share the parts behind them. */
export interface ContactGroup {
  /** Field of the mount that says where contact k is, for errors. */
  field(k: number): string;
  /** `pads`, `ring`, `back`, `glue`, `clamps 2`, or the name of a warm wire. */
  readonly name: string;
  /** One entry a contact. */
  readonly contacts: readonly {
    /** Rectangles it covers [m]. */
    readonly area: Rectangle | readonly Rectangle[];
    /** Of the group's whole area. */
    readonly share: number;
    /** Of the mount's bonds. */
    readonly bonds: number;
  }[];
  /** Ways along a film between contacts, by index, and their squares. */
  readonly links: readonly {
    /** Contact, by its index. */
    readonly from: number;
    /** Contact, by its index. */
    readonly to: number;
    /** Length over width of the way. */
    readonly squares: number;
  }[];
  /** Contacts of one layer may not overlap. */
  readonly layer: "face" | "back" | "clamps";
}

/** Side of the square of the die that a clamp or a warm wire covers when nothing is said [m]. */
const usualSize = 1e-3;
/** Most clamps or spots of glue. */
const mostPlaces = 1000;
/** Films and glue are cut into about so many patches along the die. */
const patchesAlong = 12;

/** A ring is cut into so many along the longer side; half as many again move the rise by under 0.5 %. */
const ringPatches = 32;

/** The pads of a mount, in order against the clock from the lower left. @throws FieldError */
export function padPlaces(mount: PlainMount): readonly Rectangle[] {
  const { die, bonds, pads } = mount;
  if (!bonds || !pads) return [];
  const { width: across, length: deep, inset = 0 } = pads;
  const count = Math.ceil(bonds.count / (bonds.perPad ?? 1));
  const near = (at: number) => ({ low: at, high: at + deep });
  const low = near(inset);
  const far = (side: number) => near(side - inset - deep);
  const sides = edgesOf(mount);
  const perSide = dealt(
    count,
    sides.map(({ along }) => along),
  );
  return sides.flatMap(({ name, along }, s) => {
    const n = perSide[s]!;
    const middles = rowOf(n, along, mount);
    return middles.map((middle): Rectangle => {
      const [start, end] = [middle - across / 2, middle + across / 2];
      if (name === "lower" || name === "upper") {
        const { low: bottom, high: top } = name === "lower" ? low : far(die.length);
        return { left: start, right: end, bottom, top };
      }
      const { low: left, high: right } = name === "left" ? low : far(die.width);
      return { left, right, bottom: start, top: end };
    });
  });
}

/** Where each bond stands on the die, and over which edge it leaves. @throws FieldError */
export function bondFeet(
  mount: PlainMount,
): readonly { readonly x: number; readonly y: number; readonly edge: Side }[] {
  const { die, bonds, pads, ring } = mount;
  const film = pads
    ? { deep: pads.length, inset: pads.inset }
    : { deep: ring?.width ?? 0, inset: ring?.inset };
  if (!bonds) return [];
  const inwards = (film.inset ?? 0) + film.deep / 2;
  const sides = edgesOf(mount);
  const stands = pads ? Math.ceil(bonds.count / (bonds.perPad ?? 1)) : bonds.count;
  const perSide = dealt(
    stands,
    sides.map(({ along }) => along),
  );
  const upTo = (stand: number) => Math.floor((stand * bonds.count) / stands);
  let stand = 0;
  return sides.flatMap(({ name: edge, along }, s) =>
    rowOf(perSide[s]!, along, mount).flatMap((middle) => {
      const here = upTo(stand + 1) - upTo(stand++);
      return Array.from({ length: here }, (_, k) => {
        const at = middle + ((k + 0.5) / here - 0.5) * (pads?.width ?? 0);
        if (edge === "lower") return { x: at, y: inwards, edge };
        if (edge === "upper") return { x: at, y: die.length - inwards, edge };
        return { x: edge === "left" ? inwards : die.width - inwards, y: at, edge };
      });
    }),
  );
}

/** How many bonds have room on the edges that carry them; on a ring, as many as the pitch allows. */
export function bondRoom(mount: PlainMount): number {
  const { bonds } = mount;
  if (!bonds) return 0;
  const pads = edgesOf(mount).reduce((sum, { along }) => {
    const free = along - 2 * cornerOf(mount);
    const rest = free - footprint(mount);
    return sum + (rest < 0 ? 0 : Math.floor(rest / pitchOf(mount) + 1e-9) + 1);
  }, 0);
  return pads * (bonds.perPad ?? 1);
}

/** The edges that carry bonds, and how long each is. */
function edgesOf(mount: PlainMount) {
  const { width, length } = mount.die;
  return cooledSides(mount).map((name) => ({
    name,
    along: name === "lower" || name === "upper" ? width : length,
  }));
}

/** What a bond takes along the edge: its pad, or on a ring its foot. */
function footprint({ bonds, pads }: PlainMount): number {
  return pads?.width ?? 2 * (bonds?.footRadius ?? bonds?.diameter ?? 0);
}

function pitchOf(mount: PlainMount): number {
  return mount.bonds?.pitch ?? 1.5 * footprint(mount);
}

/** Pads stay clear of the corners, where those of the next edge stand. */
function cornerOf({ pads, ring }: PlainMount): number {
  return pads ? pads.length + (pads.inset ?? 0) : ring ? ring.width + (ring.inset ?? 0) : 0;
}

/** A whole number dealt out in proportion to weights, the largest remainders first. */
function dealt(count: number, weights: readonly number[]): readonly number[] {
  const sum = weights.reduce((total, weight) => total + weight, 0);
  const exact = weights.map((weight) => (count * weight) / sum);
  const parts = exact.map(Math.floor);
  const order = exact
    .map((x, i) => ({ i, rest: x - Math.floor(x) }))
    .sort((a, b) => b.rest - a.rest || a.i - b.i);
  let left = count - parts.reduce((total, part) => total + part, 0);
  for (const { i } of order) {
    if (left-- <= 0) break;
    parts[i] = parts[i]! + 1;
  }
  return parts;
}

/** Middles of n pads along one edge [m]. @throws FieldError when they would overlap */
function rowOf(n: number, along: number, mount: PlainMount): readonly number[] {
  if (n === 0) return [];
  const free = along - 2 * cornerOf(mount);
  const wide = footprint(mount);
  const even = free / n;
  const least =
    mount.bonds?.arrangement === "row" ? pitchOf(mount) : Math.max(even, pitchOf(mount));
  // More than have room at the pitch stand closer; the budget warns of that.
  const step = n > 1 ? Math.min(least, (free - wide) / (n - 1)) : 0;
  if (free < wide || (n > 1 && step < wide * (1 - 1e-9))) {
    const most = Math.max(0, Math.floor(free / wide));
    throw new FieldError(
      "bonds.count",
      `at most ${most} pads on an edge of ${formatGiven(along, "m")}`,
      mount.bonds?.count,
    );
  }
  return Array.from({ length: n }, (_, k) => along / 2 + (k - (n - 1) / 2) * step);
}

/** Every group of contacts of a mount. @throws FieldError naming what does not fit */
export function contactGroups(mount: PlainMount): readonly ContactGroup[] {
  const { die, bonds, clamps = [], glue, loads } = mount;
  const groups: ContactGroup[] = [];
  const pads = padPlaces(mount);
  if (bonds && pads.length > 0) {
    const each = bonds.count / pads.length;
    groups.push({
      name: "pads",
      field: () => "pads",
      layer: "face",
      links: [],
      contacts: pads.map((area) => ({ area, share: 1 / pads.length, bonds: each })),
    });
  }
  if (mount.ring) groups.push(ringGroup(mount));
  if (mount.back) groups.push(backGroup(mount));
  // Clamps without places share the edges between them, in the order they are written.
  const unplaced = clamps.filter(({ places }) => !places);
  clamps.forEach((clamp, i) => {
    refuseTooMany(`clamps[${i}].count`, clamp.count);
  });
  const room = Math.max(usualSize, ...unplaced.map(({ size }) => size ?? usualSize));
  const free = aroundEdges(
    mount,
    unplaced.reduce((sum, { count }) => sum + (count ?? 1), 0),
    room,
  );
  clamps.forEach((clamp, i) => {
    const name = clamps.length > 1 ? `clamps ${i + 1}` : "clamps";
    const size = clamp.size ?? usualSize;
    const middles = clamp.places ?? free.splice(0, clamp.count ?? 1);
    groups.push(squares(name, (k) => `clamps[${i}].places[${k}]`, middles, size));
  });
  if (glue) {
    refuseTooMany("glue.count", glue.count);
    const side = Math.sqrt(glue.area);
    groups.push(glueGroup(mount, glue.places ?? overFace(mount, glue.count ?? 1), side));
  }
  const names = sourceNames(loads);
  loads.forEach((load, i) => {
    if (load.kind !== "conduction" || load.on === "box") return;
    const middle = load.place ?? { x: die.width / 2, y: die.length / 2 };
    groups.push(squares(names[i]!, () => `loads[${i}].place`, [middle], usualSize));
  });
  return groups;
}

/** @throws FieldError for more places than a sheet has cells to tell apart */
function refuseTooMany(field: string, count = 1): void {
  if (count > mostPlaces) throw new FieldError(field, `at most ${mostPlaces} on a sheet`, count);
}

function squares(
  name: string,
  field: (k: number) => string,
  middles: readonly { readonly x: number; readonly y: number }[],
  side: number,
): ContactGroup {
  return {
    name,
    field,
    layer: "clamps",
    links: [],
    contacts: middles.map((middle) => ({
      area: square(middle, side),
      share: 1 / middles.length,
      bonds: 0,
    })),
  };
}

function square({ x, y }: { readonly x: number; readonly y: number }, side: number): Rectangle {
  return { left: x - side / 2, right: x + side / 2, bottom: y - side / 2, top: y + side / 2 };
}

/** The first four at the corners, more of them evenly around the edges. */
function aroundEdges({ die }: PlainMount, count: number, size: number) {
  const [w, l] = [die.width - size, die.length - size];
  const corners = [
    [0, 0],
    [1, 1],
    [1, 0],
    [0, 1],
  ];
  return Array.from({ length: count }, (_, k) => {
    if (count <= 4) {
      const [x, y] = corners[k]!;
      return { x: size / 2 + x! * w, y: size / 2 + y! * l };
    }
    const at = ((2 * (w + l)) / count) * k;
    const x = at < w ? at : at < w + l ? w : at < 2 * w + l ? 2 * w + l - at : 0;
    const y = at < w ? 0 : at < w + l ? at - w : at < 2 * w + l ? l : 2 * (w + l) - at;
    return { x: size / 2 + x, y: size / 2 + y };
  });
}

/** In rows over the die, as even as the number allows: five are two, one and two. */
function overFace({ die }: PlainMount, count: number) {
  const across = Math.max(1, Math.round(Math.sqrt((count * die.width) / die.length)));
  const rows = Math.ceil(count / across);
  const upTo = (row: number) => Math.round((row * count) / rows);
  return Array.from({ length: rows }, (_, row) => {
    const inRow = upTo(row + 1) - upTo(row);
    return Array.from({ length: inRow }, (_, k) => ({
      x: ((k + 0.5) / inRow) * die.width,
      y: ((row + 0.5) / rows) * die.length,
    }));
  }).flat();
}

/** Spots larger than a patch are cut, so that each piece takes its own share of the heat. */
function glueGroup(
  { die }: PlainMount,
  middles: readonly { readonly x: number; readonly y: number }[],
  side: number,
): ContactGroup {
  const pieces = Math.max(1, Math.ceil((patchesAlong * side) / Math.max(die.width, die.length)));
  const areas = middles.flatMap((middle) => tiles(square(middle, side), pieces, pieces));
  return {
    name: "glue",
    field: () => "glue.places",
    layer: "back",
    links: [],
    contacts: areas.map((area) => ({ area, share: 1 / areas.length, bonds: 0 })),
  };
}

/** So many patches, or fewer where the cells of the sheet are too coarse to tell them apart. */
function patchesThatFit({ die }: PlainMount, wanted: number): number {
  return Math.min(wanted, Math.floor(0.6 * (die.cells ?? 128)));
}

/** A ring in patches of a millimetre or so, each with the bonds that stand on it. */
function ringGroup(mount: PlainMount): ContactGroup {
  const { die, ring } = mount;
  const { width: band, inset = 0 } = ring!;
  const longest = Math.max(die.width, die.length);
  const most = patchesThatFit(mount, ringPatches);
  const perEdge = (side: number) => Math.max(4, Math.round((most * side) / longest));
  const { patches, links } = ringFilm({
    name: "ring",
    width: die.width,
    length: die.length,
    band,
    inset,
    across: perEdge(die.width),
    along: perEdge(die.length),
  });
  // A foot gathers from the film around it, which the pad-film step counts; so it is shared among the
  // patches of that catchment, and the ways along the ring carry only what comes from beyond it.
  const counts = new Array<number>(patches.length).fill(0);
  for (const catchment of catchments(mount)) {
    const shares = patches.map(({ area }) =>
      area.reduce((sum, piece) => {
        const shared = overlapOf(piece, catchment);
        return sum + (shared ? areaOf(shared) : 0);
      }, 0),
    );
    const total = shares.reduce((sum, share) => sum + share, 0);
    shares.forEach((share, i) => {
      counts[i] = counts[i]! + share / total;
    });
  }
  const size = patches.reduce((sum, patch) => sum + patch.size, 0);
  return {
    name: "ring",
    field: () => "ring",
    layer: "face",
    links: byIndex(patches, links),
    contacts: patches.map((patch, i) => ({
      area: patch.area,
      share: patch.size / size,
      bonds: counts[i]!,
    })),
  };
}

/**
 * The piece of a ring that each bond's foot gathers from: as far as the next foot, and no longer than the
 * disc of the same area that the pad-film step takes it for.
 */
function catchments(mount: PlainMount): readonly Rectangle[] {
  const { die, bonds, ring } = mount;
  const { width: band, inset = 0 } = ring!;
  const sides = edgesOf(mount);
  const lengths = sides.map(({ along }) => along);
  const perSide = dealt(bonds!.count, lengths);
  return sides.flatMap(({ name, along }, s) => {
    const apart = along / Math.max(1, perSide[s]!);
    const reach = Math.min(apart, 2 * Math.sqrt((apart * band) / Math.PI)) / 2;
    return rowOf(perSide[s]!, along, mount).map((middle): Rectangle => {
      const [start, end] = [Math.max(0, middle - reach), Math.min(along, middle + reach)];
      const near = { low: inset, high: inset + band };
      const far = (side: number) => ({ low: side - inset - band, high: side - inset });
      if (name === "lower" || name === "upper") {
        const { low: bottom, high: top } = name === "lower" ? near : far(die.length);
        return { left: start, right: end, bottom, top };
      }
      const { low: left, high: right } = name === "left" ? near : far(die.width);
      return { left, right, bottom: start, top: end };
    });
  });
}

function backGroup(mount: PlainMount): ContactGroup {
  const { die, back } = mount;
  const whole = { left: 0, right: die.width, bottom: 0, top: die.length };
  const { frame } = back!;
  const area =
    frame === undefined
      ? whole
      : withoutHole(whole, {
          left: frame,
          right: die.width - frame,
          bottom: frame,
          top: die.length - frame,
        });
  const most = patchesThatFit(mount, patchesAlong);
  const along = (side: number) =>
    Math.max(2, Math.round((most * side) / Math.max(die.width, die.length)));
  const { patches, links } = faceFilm("back", area, along(die.width), along(die.length));
  const size = patches.reduce((sum, patch) => sum + patch.size, 0);
  return {
    name: "back",
    field: () => "back",
    layer: "back",
    links: byIndex(patches, links),
    contacts: patches.map((patch) => ({ area: patch.area, share: patch.size / size, bonds: 0 })),
  };
}

function byIndex(patches: readonly { readonly name: string }[], links: readonly FilmLink[]) {
  const index = new Map(patches.map(({ name }, i) => [name, i]));
  return links.map(({ from, to, squares: number }) => ({
    from: index.get(from)!,
    to: index.get(to)!,
    squares: number,
  }));
}
