/**
 * The outline of rectangles that lie side by side: edges that two share are left out.
 * @module
 */
import type { Rectangle } from "../../chip/grid.js";
import type { ContactGroup } from "../../mount/layout.js";

/** A straight piece of an outline [m]. */
export type Segment = readonly [x1: number, y1: number, x2: number, y2: number];

/** Pieces of the outline of tiles whose shared edges are equal, each piece as long as it runs straight. */
export function outlineOf(tiles: readonly Rectangle[]): readonly Segment[] {
  const size = Math.max(
    ...tiles.flatMap(({ left, right, bottom, top }) => [right - left, top - bottom]),
  );
  const key = (v: number) => Math.round((v / size) * 1e6);
  const edges = new Map<string, Segment>();
  const toggle = (edge: Segment) => {
    const name = edge.map(key).join(" ");
    if (!edges.delete(name)) edges.set(name, edge);
  };
  for (const { left, right, bottom, top } of tiles) {
    toggle([left, bottom, right, bottom]);
    toggle([left, top, right, top]);
    toggle([left, bottom, left, top]);
    toggle([right, bottom, right, top]);
  }
  return joined([...edges.values()], key);
}

/** Pieces that run on in the same direction as one. */
function joined(edges: readonly Segment[], key: (v: number) => number): readonly Segment[] {
  const isLevel = ([, y1, , y2]: Segment) => y1 === y2;
  const sorted = [...edges].sort((a, b) =>
    isLevel(a) !== isLevel(b)
      ? Number(isLevel(a)) - Number(isLevel(b))
      : isLevel(a)
        ? key(a[1]) - key(b[1]) || a[0] - b[0]
        : key(a[0]) - key(b[0]) || a[1] - b[1],
  );
  const result: Segment[] = [];
  for (const edge of sorted) {
    const last = result.at(-1);
    const goesOn =
      last !== undefined &&
      isLevel(last) === isLevel(edge) &&
      key(last[2]) === key(edge[0]) &&
      key(last[3]) === key(edge[1]);
    if (goesOn) result[result.length - 1] = [last[0], last[1], edge[2], edge[3]];
    else result.push(edge);
  }
  return result;
}

/** The smallest rectangle around some. */
export function boundsOf(tiles: readonly Rectangle[]): Rectangle {
  return {
    left: Math.min(...tiles.map(({ left }) => left)),
    right: Math.max(...tiles.map(({ right }) => right)),
    bottom: Math.min(...tiles.map(({ bottom }) => bottom)),
    top: Math.max(...tiles.map(({ top }) => top)),
  };
}

/** All rectangles of some contacts. */
export function areasOf(contacts: ContactGroup["contacts"]): readonly Rectangle[] {
  return contacts.flatMap(({ area }) => ("left" in area ? [area] : (area as readonly Rectangle[])));
}
