/**
 * The outline of rectangles that lie side by side: edges that two share are left out.
 * @module
 */
import type { Rectangle } from "../../chip/grid.js";

/** A straight piece of an outline [m]. */
export type Segment = readonly [x1: number, y1: number, x2: number, y2: number];

/** Pieces of the outline of tiles whose shared edges are equal, each piece as long as it runs straight. */
export function outlineOf(tiles: readonly Rectangle[]): readonly Segment[] {
  const size = Math.max(
    ...tiles.flatMap(({ left, right, bottom, top }) => [right - left, top - bottom]),
  );
  const key = (v: number) => Math.round((v / size) * 1e6);
  const edges = new Map<string, Segment>();
  for (const { left, right, bottom, top } of tiles) {
    const sides: readonly Segment[] = [
      [left, bottom, right, bottom],
      [left, top, right, top],
      [left, bottom, left, top],
      [right, bottom, right, top],
    ];
    for (const side of sides) {
      const name = side.map(key).join(" ");
      if (!edges.delete(name)) edges.set(name, side);
    }
  }
  const isLevel = ([, y1, , y2]: Segment) => y1 === y2;
  const all = [...edges.values()];
  const upright = all.filter((edge) => !isLevel(edge));
  upright.sort((a, b) => key(a[0]) - key(b[0]) || a[1] - b[1]);
  const level = all.filter(isLevel).sort((a, b) => key(a[1]) - key(b[1]) || a[0] - b[0]);
  return [...joined(upright, key), ...joined(level, key)];
}

/** Pieces of one direction, in order, those that run on as one. */
function joined(edges: readonly Segment[], key: (v: number) => number): readonly Segment[] {
  const result: Segment[] = [];
  for (const edge of edges) {
    const last = result.at(-1);
    const goesOn = last && key(last[2]) === key(edge[0]) && key(last[3]) === key(edge[1]);
    if (goesOn) result[result.length - 1] = [last[0], last[1], edge[2], edge[3]];
    else result.push(edge);
  }
  return result;
}
