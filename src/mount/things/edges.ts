/**
 * What stands along the edges of the die: pads, or the feet of bonds on a ring. Places are in metres from
 * the die's lower left corner.
 * @module
 */
import type { Rectangle } from "../../chip/grid.js";
import { FieldError } from "../../units/errors.js";
import { oneOf } from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import { around, type Point } from "./spots.js";

/** An edge of the die. */
export type Side = "lower" | "right" | "upper" | "left";
export const side = oneOf("lower", "right", "upper", "left");

/** What of a mount decides where things stand along its edges. */
export interface OnEdges {
  readonly die: { readonly width: number; readonly length: number };
  readonly bonds?: {
    readonly count: number;
    readonly perPad?: number;
    readonly pitch?: number;
    readonly arrangement?: "spread" | "row";
    readonly edges?: 1 | 2 | 3 | 4 | readonly Side[];
    readonly diameter?: number;
    readonly footRadius?: number;
  };
  readonly pads?: { readonly width: number; readonly length: number; readonly inset?: number };
  readonly ring?: { readonly width: number; readonly inset?: number };
  readonly padGroups?: readonly PadsOnDie[];
  readonly bondGroups?: readonly {
    readonly pads: string;
    readonly perPad?: number;
    readonly diameter?: number;
    readonly width?: number;
    readonly footRadius?: number;
  }[];
}

/** A group of pads: along an edge, or at places of their own. */
export interface PadsOnDie {
  readonly name: string;
  readonly width: number;
  readonly length: number;
  readonly edge?: Side;
  readonly count?: number;
  readonly pitch?: number;
  readonly inset?: number;
  readonly keepOut?: readonly { readonly from: number; readonly to: number }[];
  readonly places?: readonly Point[];
}

const numbered: Readonly<Record<1 | 2 | 3 | 4, readonly Side[]>> = {
  1: ["lower"],
  2: ["lower", "upper"],
  3: ["lower", "upper", "left"],
  4: ["lower", "right", "upper", "left"],
};

/** Edges of the die that carry bonds, against the clock from the lower one; all when there are none. */
export function cooledSides(mount: OnEdges): readonly Side[] {
  const { bonds, bondGroups } = mount;
  if (!bondGroups) return edgesOfBonds(mount);
  const own = bonds ? edgesOfBonds(mount) : [];
  const used = new Set([...own, ...edgesOfGroups(mount)]);
  return numbered[4].filter((each) => used.has(each));
}

/** Edges over which bonds of groups leave, whether or not as many fit there. */
function edgesOfGroups(mount: OnEdges): readonly Side[] {
  const { padGroups = [], bondGroups = [] } = mount;
  return padGroups.flatMap((pads, g) => {
    if (!bondGroups.some(({ pads: on }) => on === pads.name)) return [];
    if (!pads.places) return pads.edge!;
    return padsOfGroup(mount, pads, `padGroups[${g}]`).map(({ edge }) => edge);
  });
}

/** Edges that carry the bonds which are all alike. */
function edgesOfBonds({ bonds }: OnEdges): readonly Side[] {
  const edges = bonds?.edges ?? 4;
  return typeof edges === "number" ? numbered[edges] : edges;
}

/** How many pads the bonds need. */
export function padCount({ bonds }: Pick<OnEdges, "bonds">): number {
  return Math.ceil(bonds!.count / (bonds!.perPad ?? 1));
}

/** How many pads a group has. */
export function padsIn({ places, count = 1 }: PadsOnDie): number {
  return places?.length ?? count;
}

/** Bonds on each pad of a group, of all kinds. */
export function bondsOnEach(
  { bondGroups = [] }: Pick<OnEdges, "bondGroups">,
  group: string,
): number {
  return bondGroups.reduce((sum, { pads, perPad = 1 }) => (pads === group ? sum + perPad : sum), 0);
}

/**
 * Every pad of a group: its area, the edge over which its bonds leave, its own or the nearest, and how far its
 * middle is from that [m].
 * @param at - the group's field, for errors @throws FieldError
 */
export function padsOfGroup(mount: Pick<OnEdges, "die">, group: PadsOnDie, at: string) {
  const { die } = mount;
  const { width, length, inset = 0, edge, places } = group;
  if (places) {
    return places.map(({ x, y }) => {
      const to = { lower: y, right: die.width - x, upper: die.length - y, left: x };
      const nearest = numbered[4].reduce((best, side) => (to[side] < to[best] ? side : best));
      return { area: around({ x, y }, width, length), edge: nearest, inwards: to[nearest] };
    });
  }
  const inwards = inset + length / 2;
  return groupRow(mount, group, at).map((middle) => ({
    area: alongSide(
      mount,
      edge!,
      [middle - width / 2, middle + width / 2],
      [inset, inset + length],
    ),
    edge: edge!,
    inwards,
  }));
}

/** The free pieces of a group's edge [m], how many pads fit on each, and how many on all. */
function freeOfEdge({ die }: Pick<OnEdges, "die">, group: PadsOnDie) {
  const { width, length, inset = 0, pitch = 0, keepOut = [] } = group;
  const along = lengthOf(die, group.edge!);
  const corner = length + inset;
  const free = keepOut.reduce<readonly (readonly [number, number])[]>(
    (left, { from, to }) =>
      left.flatMap(([a, b]) =>
        to <= a || from >= b
          ? [[a, b] as const]
          : (
              [
                [a, from],
                [to, b],
              ] as const
            ).filter(([p, q]) => q > p),
      ),
    [[corner, along - corner]],
  );
  const room = free.map(([a, b]) =>
    b - a < width * (1 - rounding)
      ? 0
      : Math.floor((b - a - width) / Math.max(pitch, width) + rounding) + 1,
  );
  return { free, room, most: room.reduce((sum, each) => sum + each, 0) };
}

/** Middles of a group's pads along their edge, clear of corners and keep-outs [m]. @throws FieldError */
function groupRow(mount: Pick<OnEdges, "die">, group: PadsOnDie, at: string): readonly number[] {
  const { pitch = 0, count = 1, keepOut = [] } = group;
  const along = lengthOf(mount.die, group.edge!);
  const { free, room, most } = freeOfEdge(mount, group);
  if (count > most) {
    const words = `at most ${most}, which is what fits on an edge of ${formatGiven(along, "m")}`;
    const wanted = keepOut.length > 0 ? `${words} between its keep-outs` : words;
    throw new FieldError(`${at}.count`, wanted, count);
  }
  const here = free.map(() => 0);
  for (let k = 0; k < count; k++) {
    const space = (i: number) =>
      here[i]! < room[i]! ? (free[i]![1] - free[i]![0]) / (2 * here[i]! + 1) : -1;
    const next = free.reduce(
      (best, _, i) => (space(i) > space(best) * (1 + rounding) ? i : best),
      0,
    );
    here[next] = here[next]! + 1;
  }
  return free.flatMap(([a, b], i) => {
    const n = here[i]!;
    const step = pitch > 0 ? pitch : (b - a) / n;
    return Array.from({ length: n }, (_, k) => (a + b) / 2 + (k - (n - 1) / 2) * step);
  });
}

/** Of lengths that were written in other units. */
const rounding = 1e-9;

function lengthOf({ width, length }: OnEdges["die"], side: Side): number {
  return side === "lower" || side === "upper" ? width : length;
}

/**
 * Pads, or the feet of bonds on a ring, in order against the clock from the lower left: the middle along the
 * edge and its length [m], and how many stand on it.
 * @throws FieldError when they would overlap
 */
export function standsOf(mount: OnEdges) {
  const sides = edgesOf(mount);
  const count = mount.pads ? padCount(mount) : mount.bonds!.count;
  const perSide = apportioned(
    count,
    sides.map(({ along }) => along),
  );
  return sides.flatMap(({ side, along }, s) => {
    const onSide = perSide[s]!;
    return rowOf(onSide, along, mount).map((middle) => ({ side, middle, along, onSide }));
  });
}

/** Rectangles along the edges that hold the pads, however many there are. */
export function padBands(mount: OnEdges): readonly Rectangle[] {
  const { pads, bonds } = mount;
  if (!pads || !bonds) return [];
  const [corner, near] = [cornerOf(mount), pads.inset ?? 0];
  return edgesOf(mount).flatMap(({ side, along }) =>
    along > 2 * corner
      ? [alongSide(mount, side, [corner, along - corner], [near, near + pads.length])]
      : [],
  );
}

/** Rectangles along its edge that hold the pads of a group, however many there are. */
export function groupBands(mount: Pick<OnEdges, "die">, group: PadsOnDie): readonly Rectangle[] {
  const { length, inset = 0, edge } = group;
  const { free, room } = freeOfEdge(mount, group);
  return free.flatMap((piece, i) =>
    room[i]! > 0 ? [alongSide(mount, edge!, piece, [inset, inset + length])] : [],
  );
}

/** A piece of the die along an edge, from `start` to `end`, between two distances from the edge [m]. */
export function alongSide(
  { die }: Pick<OnEdges, "die">,
  side: Side,
  [start, end]: readonly [number, number],
  [near, far]: readonly [number, number],
): Rectangle {
  switch (side) {
    case "lower":
      return { left: start, right: end, bottom: near, top: far };
    case "upper":
      return { left: start, right: end, bottom: die.length - far, top: die.length - near };
    case "left":
      return { left: near, right: far, bottom: start, top: end };
    case "right":
      return { left: die.width - far, right: die.width - near, bottom: start, top: end };
  }
}

/** Where a bond stands on the die. */
export interface BondFoot extends Point {
  /** The edge over which it leaves. */
  readonly edge: Side;
  /** Number of its group; absent of bonds all alike. */
  readonly group?: number;
}

/** From the die's edge to the feet of bonds: to the middle of their pads or ring [m]. */
export function footInset({ pads, ring }: Pick<OnEdges, "pads" | "ring">): number {
  return pads ? (pads.inset ?? 0) + pads.length / 2 : (ring?.inset ?? 0) + (ring?.width ?? 0) / 2;
}

/** Where each bond stands on the die, and over which edge it leaves. @throws FieldError */
export function bondFeet(mount: OnEdges): readonly BondFoot[] {
  const { bonds, pads } = mount;
  if (!bonds) return feetOfGroups(mount);
  const inwards = footInset(mount);
  const stands = standsOf(mount);
  const upTo = (stand: number) => Math.floor((stand * bonds.count) / stands.length);
  const alike = stands.flatMap(({ side: edge, middle }, stand) => {
    const here = upTo(stand + 1) - upTo(stand);
    return Array.from({ length: here }, (_, k) => {
      const at = middle + ((k + 0.5) / here - 0.5) * (pads?.width ?? 0);
      const { left: x, bottom: y } = alongSide(mount, edge, [at, at], [inwards, inwards]);
      return { x, y, edge };
    });
  });
  return [...alike, ...feetOfGroups(mount)];
}

/** Bonds of groups stand side by side along their pads' edge, one kind after the other. */
function feetOfGroups(mount: OnEdges): readonly BondFoot[] {
  const { padGroups = [], bondGroups = [] } = mount;
  return padGroups.flatMap((pads, g) => {
    const kinds = bondGroups.flatMap(({ pads: on, perPad = 1 }, i) =>
      on === pads.name ? new Array<number>(perPad).fill(i) : [],
    );
    return padsOfGroup(mount, pads, `padGroups[${g}]`).flatMap(({ area, edge }) => {
      const [x, y] = [(area.left + area.right) / 2, (area.bottom + area.top) / 2];
      const isAcross = edge === "lower" || edge === "upper";
      const wide = isAcross ? area.right - area.left : area.top - area.bottom;
      return kinds.map((group, k) => {
        const off = ((k + 0.5) / kinds.length - 0.5) * wide;
        return { x: isAcross ? x + off : x, y: isAcross ? y : y + off, edge, group };
      });
    });
  });
}

/** How many bonds fit on the edges that carry them; on a ring, as many as the pitch allows. */
export function bondRoom(mount: OnEdges): number {
  const { bonds } = mount;
  if (!bonds) return 0;
  const pads = edgesOf(mount).reduce((sum, { along }) => {
    const rest = along - 2 * cornerOf(mount) - footprint(mount);
    return sum + (rest < 0 ? 0 : Math.floor(rest / pitchOf(mount) + 1e-9) + 1);
  }, 0);
  return pads * (bonds.perPad ?? 1);
}

/**
 * How many bonds of a group fit: on as many pads as fit on its edge; on pads at places, as many feet on
 * each as stand side by side, beside those of other groups.
 */
export function groupRoom(mount: OnEdges, i: number): number {
  const { padGroups = [], bondGroups = [] } = mount;
  const own = bondGroups[i]!;
  const pads = padGroups.find(({ name }) => name === own.pads)!;
  if (!pads.places) return freeOfEdge(mount, pads).most * (own.perPad ?? 1);
  const wide = (of: typeof own) => 2 * (of.footRadius ?? of.diameter ?? (of.width ?? 0) / 2);
  const taken = bondGroups.reduce(
    (sum, each, k) =>
      k === i || each.pads !== own.pads ? sum : sum + wide(each) * (each.perPad ?? 1),
    0,
  );
  const fit = Math.floor((pads.width - taken) / wide(own) + rounding);
  return Math.max(0, fit) * pads.places.length;
}

/** The edges that carry bonds, and how long each is [m]. */
function edgesOf(mount: OnEdges) {
  return edgesOfBonds(mount).map((each) => ({ side: each, along: lengthOf(mount.die, each) }));
}

/** What a bond takes along the edge: its pad, or on a ring its foot [m]. */
function footprint({ bonds, pads }: OnEdges): number {
  return pads?.width ?? 2 * (bonds?.footRadius ?? bonds?.diameter ?? 0);
}

function pitchOf(mount: OnEdges): number {
  return mount.bonds?.pitch ?? 1.5 * footprint(mount);
}

/** Pads stay clear of the corners, where those of the next edge stand [m]. */
function cornerOf({ pads, ring }: OnEdges): number {
  return pads ? pads.length + (pads.inset ?? 0) : ring ? ring.width + (ring.inset ?? 0) : 0;
}

/** A whole number apportioned by weights, by largest remainder. */
function apportioned(count: number, weights: readonly number[]): readonly number[] {
  const sum = weights.reduce((total, weight) => total + weight, 0);
  const exact = weights.map((weight) => (count * weight) / sum);
  const parts = exact.map(Math.floor);
  const order = exact
    .map((x, i) => ({ i, rest: x - Math.floor(x) }))
    .sort((a, b) => b.rest - a.rest || a.i - b.i);
  const left = count - parts.reduce((total, part) => total + part, 0);
  for (const { i } of order.slice(0, left)) parts[i] = parts[i]! + 1;
  return parts;
}

/** Middles of n pads along one edge [m]. @throws FieldError when they would overlap */
function rowOf(n: number, along: number, mount: OnEdges): readonly number[] {
  if (n === 0) return [];
  const free = along - 2 * cornerOf(mount);
  const wide = footprint(mount);
  const pitch = pitchOf(mount);
  const least = mount.bonds?.arrangement === "row" ? pitch : Math.max(free / n, pitch);
  // More than fit at the pitch stand closer; the budget warns of that.
  const step = n > 1 ? Math.min(least, (free - wide) / (n - 1)) : 0;
  if (free < wide || (n > 1 && step < wide * (1 - 1e-9))) {
    const most = Math.max(0, Math.floor(free / wide));
    const wanted = `at most ${most} pads on an edge of ${formatGiven(along, "m")}`;
    throw new FieldError("bonds.count", wanted, mount.bonds?.count);
  }
  return Array.from({ length: n }, (_, k) => along / 2 + (k - (n - 1) / 2) * step);
}
