/**
 * What stands along the edges of the die: pads, or the feet of bonds on a ring. Places are in metres from
 * the die's lower left corner.
 * @module
 */
import type { Rectangle } from "../../chip/grid.js";
import { FieldError } from "../../units/errors.js";
import { formatGiven } from "../../units/format.js";

/** An edge of the die. */
export type Side = "lower" | "right" | "upper" | "left";

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
}

/** One pad, or one foot on a ring: the middle along its edge [m]. */
export interface Stand {
  readonly side: Side;
  readonly middle: number;
  /** Length of the edge [m]. */
  readonly along: number;
  /** How many stand on this edge. */
  readonly onSide: number;
}

const numbered: Readonly<Record<1 | 2 | 3 | 4, readonly Side[]>> = {
  1: ["lower"],
  2: ["lower", "upper"],
  3: ["lower", "upper", "left"],
  4: ["lower", "right", "upper", "left"],
};

/** Edges of the die that carry bonds, against the clock from the lower one; all when there are none. */
export function cooledSides({ bonds }: Pick<OnEdges, "bonds">): readonly Side[] {
  const edges = bonds?.edges ?? 4;
  return typeof edges === "number" ? numbered[edges] : edges;
}

/** How many pads the bonds need. */
export function padCount({ bonds }: Pick<OnEdges, "bonds">): number {
  return Math.ceil(bonds!.count / (bonds!.perPad ?? 1));
}

/**
 * Pads, or the feet of bonds on a ring, in order against the clock from the lower left.
 * @throws FieldError when they would overlap
 */
export function standsOf(mount: OnEdges): readonly Stand[] {
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

/** From the die's edge to the feet of bonds: to the middle of their pads or ring [m]. */
export function footInset({ pads, ring }: Pick<OnEdges, "pads" | "ring">): number {
  return pads ? (pads.inset ?? 0) + pads.length / 2 : (ring?.inset ?? 0) + (ring?.width ?? 0) / 2;
}

/** Where each bond stands on the die, and over which edge it leaves. @throws FieldError */
export function bondFeet(
  mount: OnEdges,
): readonly { readonly x: number; readonly y: number; readonly edge: Side }[] {
  const { bonds, pads } = mount;
  if (!bonds) return [];
  const inwards = footInset(mount);
  const stands = standsOf(mount);
  const upTo = (stand: number) => Math.floor((stand * bonds.count) / stands.length);
  return stands.flatMap(({ side: edge, middle }, stand) => {
    const here = upTo(stand + 1) - upTo(stand);
    return Array.from({ length: here }, (_, k) => {
      const at = middle + ((k + 0.5) / here - 0.5) * (pads?.width ?? 0);
      const { left: x, bottom: y } = alongSide(mount, edge, [at, at], [inwards, inwards]);
      return { x, y, edge };
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

/** The edges that carry bonds, and how long each is [m]. */
function edgesOf(mount: OnEdges) {
  const { width, length } = mount.die;
  return cooledSides(mount).map((side) => ({
    side,
    along: side === "lower" || side === "upper" ? width : length,
  }));
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
    throw new FieldError(
      "bonds.count",
      `at most ${most} pads on an edge of ${formatGiven(along, "m")}`,
      mount.bonds?.count,
    );
  }
  return Array.from({ length: n }, (_, k) => along / 2 + (k - (n - 1) / 2) * step);
}
