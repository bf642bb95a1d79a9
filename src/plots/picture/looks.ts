/**
 * How marks of a picture look: dashes, colours, hatchings, markers.
 * @module
 */
import { colours, ink, nth, patternInk } from "../style.js";
import type { Trace } from "../traces.js";
import { type Attributes, box, element, short } from "./svg.js";

/** A place [px]. */
export type Point = readonly [x: number, y: number];

/** Plotly's names of dashes as lengths [px]. */
export function dashOf(dash: string | undefined, width = 2): string | undefined {
  const dashes: Readonly<Record<string, readonly number[]>> = {
    dash: [4, 3],
    dot: [1, 1.6],
    dashdot: [4, 2, 1, 2],
    longdash: [8, 3],
    longdashdot: [8, 2, 1, 2],
  };
  return dashes[dash ?? "solid"]?.map((length) => short(length * width)).join(" ");
}

export function colourOf({ line, marker }: Trace, index: number): string {
  const plain = typeof marker?.color === "string" ? marker.color : undefined;
  return line?.color ?? plain ?? nth(colours, index);
}

/** What a picture draws inside its plot, and what it needs defined. */
export interface Drawn {
  /** Unique in a page; in front of the names of what is defined. */
  readonly id: string;
  readonly definitions: Set<string>;
  readonly clipped: string[];
  /** Over the edge of the plot too. */
  readonly free: string[];
}

/** A fill with the hatching of that name over it, defined in the picture. */
export function patternFill(to: Drawn, fill: string, shape: string | undefined): string {
  const path = patternPaths[shape ?? ""];
  if (!path) return fill;
  const code = (c: string) => c.charCodeAt(0).toString(36);
  const id = `${to.id}-${`${fill}${shape}`.replace(/[^\w]/g, code)}`;
  to.definitions.add(
    element(
      "pattern",
      { id, width: 7, height: 7, patternUnits: "userSpaceOnUse" },
      box(0, 0, 7, 7, { fill }),
      element("path", { d: path, stroke: patternInk, "stroke-width": 1.1, fill: "none" }),
    ),
  );
  return `url(#${id})`;
}

const patternPaths: Readonly<Record<string, string>> = {
  "/": "M-1 1L1 -1M0 7L7 0M6 8L8 6",
  "\\": "M-1 6L1 8M0 0L7 7M6 -1L8 1",
  x: "M0 0L7 7M0 7L7 0",
  "-": "M0 3.5H7",
  "|": "M3.5 0V7",
  "+": "M0 3.5H7M3.5 0V7",
  ".": "M3 3.5H4.4M3.5 2.8V4.2",
};

/** Corners of markers, x and y by turns; the circle has none. */
const cross = [
  -0.35, -1, 0.35, -1, 0.35, -0.35, 1, -0.35, 1, 0.35, 0.35, 0.35, 0.35, 1, -0.35, 1, -0.35, 0.35,
  -1, 0.35, -1, -0.35, -0.35, -0.35,
];
const [sin, cos] = [Math.sin(Math.PI / 3), 0.5];
const corners: Readonly<Record<string, readonly number[]>> = {
  square: [-0.9, -0.9, 0.9, -0.9, 0.9, 0.9, -0.9, 0.9],
  diamond: [0, -1.25, 1.25, 0, 0, 1.25, -1.25, 0],
  "triangle-up": [0, -1.1, 1.1, 0.85, -1.1, 0.85],
  "triangle-down": [0, 1.1, 1.1, -0.85, -1.1, -0.85],
  cross,
  x: cross.map((v, i) => 0.75 * (i % 2 ? cross[i - 1]! + v : v - cross[i + 1]!)),
  star: Array.from({ length: 10 }, (_, k) => {
    const [angle, far] = [(k * Math.PI) / 5, k % 2 ? 0.45 : 1.15];
    return [far * Math.sin(angle), -far * Math.cos(angle)];
  }).flat(),
  hexagon: [1, 0, cos, sin, -cos, sin, -1, 0, -cos, -sin, cos, -sin],
};

export function marker(
  symbol: string | undefined,
  [x, y]: Point,
  size: number,
  paint: Attributes,
): string {
  const r = size / 2;
  const places = corners[symbol ?? ""]?.map((v, i) => short((i % 2 ? y : x) + v * r));
  if (!places) return element("circle", { cx: x, cy: y, r, ...paint });
  const d = places.map((at, i) => (i % 2 ? ` ${at}` : `${i ? "L" : "M"}${at}`)).join("");
  return element("path", { d: `${d}Z`, ...paint });
}

/** The look of a trace's marker or bar `i`, of all of them alike when absent. */
export function markPaint(trace: Trace, index: number, i?: number): Attributes {
  const { color, line } = trace.marker ?? {};
  const own = typeof color === "string" ? color : i === undefined ? undefined : color?.[i];
  return {
    fill: own ?? colourOf(trace, index),
    stroke: line?.width ? (line.color ?? ink) : "none",
    "stroke-width": line?.width ?? 0,
  };
}
