/**
 * What lies between the floor of the box and the stage, in the section: the pieces of the path, and bolts
 * through the faces that they press together.
 * @module
 */
import type { PlainMount } from "../../mount/mount.js";
import type { DrawnPart } from "../../mount/thing.js";
import { jointCount } from "../../mount/things/joint.js";
import { type Attributes, box, element, short } from "../picture/svg.js";

/** Heights as drawn [px]. */
const heights: Readonly<Record<string, number>> = { bar: 34, strap: 26, plate: 10, joint: 0 };
const flange = 7;
/** Most bolts that are drawn side by side. */
const mostBolts = 6;

/** What is drawn of a piece, and where its number points. */
export interface DrawnBelow {
  readonly part: DrawnPart;
  readonly body: string;
  readonly mark: readonly [x: number, y: number];
}

/** How high the pieces are together [px]. */
export function heightBelow(parts: readonly DrawnPart[]): number {
  return parts.reduce((sum, { look, kind }) => sum + (look === "path" ? heights[kind]! : 0), 0);
}

/**
 * The pieces of the path from the floor down, and the bolts of all joints, which go through the faces that they
 * press: heads and shafts come after all bodies.
 * @param ends - of the box along the section [px]
 * @param top - the underside of the floor [px]
 */
export function drawnBelow(
  { path = [], joint }: PlainMount,
  parts: readonly DrawnPart[],
  [left, right]: readonly [number, number],
  top: number,
  look: (part: DrawnPart) => Attributes,
): readonly DrawnBelow[] {
  const middle = (left + right) / 2;
  const half = (right - left) / 2;
  const drawn: DrawnBelow[] = [];
  const bolts: DrawnBelow[] = [];
  let y = top;
  /** Whether what lies above reaches from wall to wall, or is a foot with a stem on it. */
  let isWide = true;
  const boltsAt = (part: DrawnPart, count: number, isWideBelow: boolean) => {
    const shown = Math.min(mostBolts, count);
    const reach = (isWide && isWideBelow ? 0.8 : 0.4) * half;
    const at = (k: number) => middle + reach * (shown === 1 ? 0.7 : (2 * k) / (shown - 1) - 1);
    // Heads lie in the floor, or on the foot above the faces.
    const head = isWide ? y - 9 : y - flange - 4;
    const body = Array.from({ length: shown }, (_, k) => at(k)).map(
      (x) =>
        box(x - 5, head, x + 5, head + 4, look(part)) +
        box(x - 2, head + 4, x + 2, y + 9, look(part)),
    );
    bolts.push({ part, body: body.join(""), mark: [at(shown - 1), head + 2] });
  };
  const pieces = parts.filter((part) => part.look === "path");
  pieces.forEach((part, i) => {
    const own = path[i]!;
    const below = pieces[i + 1];
    if (own.kind === "joint") {
      boltsAt(part, jointCount(own.joint), below ? below.kind === "plate" : true);
      return;
    }
    const bottom = y + heights[own.kind]!;
    drawn.push({
      part,
      body: bodies[own.kind](middle, half, y, bottom, look(part)),
      mark: [middle + (own.kind === "plate" ? 0.5 * half : 4), (y + bottom) / 2],
    });
    isWide = own.kind === "plate";
    y = bottom;
  });
  const last = parts.find((part) => part.look === "joint");
  if (last) boltsAt(last, jointCount(joint), true);
  return [...drawn, ...bolts];
}

type Body = (middle: number, half: number, top: number, bottom: number, look: Attributes) => string;

const feet: Body = (middle, half, top, bottom, look) =>
  box(middle - 0.55 * half, top, middle + 0.55 * half, top + flange, look) +
  box(middle - 0.55 * half, bottom - flange, middle + 0.55 * half, bottom, look);

/** A bar and a strap have a foot at either end; strands are lines that sag. */
const bodies: Readonly<Record<"bar" | "strap" | "plate", Body>> = {
  bar: (middle, half, top, bottom, look) =>
    box(middle - 0.16 * half, top + flange, middle + 0.16 * half, bottom - flange, look) +
    feet(middle, half, top, bottom, look),
  strap(middle, half, top, bottom, look) {
    const strands = [-0.2, -0.1, 0, 0.1, 0.2].map((off) => {
      const [x, dy] = [middle + off * half, bottom - top - 2 * flange];
      const d = `M${short(x)} ${short(top + flange)}q4 ${short(dy / 4)} 0 ${short(dy / 2)}t0 ${short(dy / 2)}`;
      return element("path", { d, ...look, fill: "none", "stroke-width": 1.6 });
    });
    return strands.join("") + feet(middle, half, top, bottom, look);
  },
  plate: (middle, half, top, bottom, look) => box(middle - half, top, middle + half, bottom, look),
};
