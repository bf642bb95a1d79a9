/**
 * Maps of a picture: colours by value, contour lines with their numbers, and the colour bar.
 * @module
 */

import { mapColours } from "../ramp.js";
import { number, scaleOf } from "../scale.js";
import { ink, paper } from "../style.js";
import { plainWords, type Trace } from "../traces.js";
import { barWidth, type Frame } from "./frame.js";
import type { Drawn, Point } from "./looks.js";
import { type Colour, pngAddress } from "./png.js";
import { box, element, line, short, words } from "./svg.js";

/** So many points across a map's picture; finer than the maps of a die. */
const mostPoints = 160;

/** The index after the last of the 64 colours. */
const clear = 64;

/** 64 colours of a trace's scale, low to high. */
function paletteOf({ colorscale, reversescale }: Trace): readonly Colour[] {
  const given = typeof colorscale === "object" ? colorscale : mapColours;
  const stops = given.map(([at, text]) => ({ at, rgb: coloursIn(text) }));
  const palette = Array.from({ length: 64 }, (_, k) => {
    const at = k / 63;
    const next = stops.findIndex((stop) => stop.at >= at - 1e-9);
    const [low, high] = [stops[Math.max(0, next - 1)]!, stops[Math.max(1, next)]!];
    const part = (at - low.at) / (high.at - low.at || 1);
    return low.rgb.map((c, i) => Math.round(c + part * (high.rgb[i]! - c)));
  });
  return reversescale ? palette.reverse() : palette;
}

/** Red, green and blue of `#rrggbb` or `rgb(r,g,b)`. */
function coloursIn(text: string): Colour {
  const hex = text.startsWith("#");
  const parts = text.match(hex ? /[0-9a-f]{2}/gi : /[\d.]+/g) ?? [];
  return [0, 1, 2].map((i) => Number((hex ? "0x" : "") + (parts[i] ?? 0)));
}

/** The middles of a map's cells [px], and its values. */
function gridOf({ x, y, z = [] }: Trace, { px, py }: Frame) {
  const xs = (x ?? z[0]?.map((_, i) => i) ?? []).map(px);
  return { xs, ys: (y ?? z.map((_, j) => j)).map(py), z };
}

/** The cell before a pixel and how far the pixel is on the way to the next; nothing off the map. */
function cellAt(places: readonly number[], at: number) {
  if (places.length < 2) return { low: 0, part: 0 };
  const rising = places.at(-1)! > places[0]!;
  const next = places.findIndex((place, i) => i > 0 && (rising ? place >= at : place <= at));
  const low = (next < 0 ? places.length - 1 : next) - 1;
  const part = (at - places[low]!) / (places[low + 1]! - places[low]!);
  // A cell reaches half a step beyond its middle.
  if (part < -0.5001 || part > 1.5001) return undefined;
  return { low, part: Math.min(1, Math.max(0, part)) };
}

function spanOf(trace: Trace): readonly [number, number] {
  const values = (trace.z ?? []).flat().filter((v): v is number => typeof v === "number");
  return [trace.zmin ?? Math.min(...values), trace.zmax ?? Math.max(...values)];
}

export function drawMaps(frame: Frame, to: Drawn): void {
  const ofType = (wanted: string) => frame.figure.data.filter(({ type }) => type === wanted);
  to.clipped.push(
    ...ofType("heatmap").map((trace) => mapPicture(trace, frame)),
    ...ofType("contour").flatMap((trace) => contours(trace, frame)),
  );
}

function mapPicture(trace: Trace, frame: Frame): string {
  const { plot } = frame;
  const { xs, ys, z } = gridOf(trace, frame);
  const [low, high] = spanOf(trace);
  const columns = Math.min(mostPoints, Math.max(2, Math.round(plot.width / 2)));
  const rows = Math.max(2, Math.round((columns * plot.height) / plot.width));
  const alongX = Array.from({ length: columns }, (_, i) =>
    cellAt(xs, plot.left + ((i + 0.5) / columns) * plot.width),
  );
  const valueAt = (j: number, i: number) => z[j]?.[i] ?? Number.NaN;
  const isSmooth = trace.zsmooth === "best" || trace.zsmooth === "fast";
  const pixels = Array.from({ length: rows }, (_, j) => {
    const row = cellAt(ys, plot.top + ((j + 0.5) / rows) * plot.height);
    return alongX.map((column) => {
      if (!row || !column) return clear;
      const nearest = valueAt(row.low + Math.round(row.part), column.low + Math.round(column.part));
      // A gap in the map is a gap in its picture.
      if (!Number.isFinite(nearest)) return clear;
      const along = (k: number) =>
        (1 - column.part) * valueAt(k, column.low) + column.part * valueAt(k, column.low + 1);
      const mixed = (1 - row.part) * along(row.low) + row.part * along(row.low + 1);
      const value = isSmooth && Number.isFinite(mixed) ? mixed : nearest;
      return Math.round(63 * Math.min(1, Math.max(0, (value - low) / (high - low || 1))));
    });
  });
  return element("image", {
    x: plot.left,
    y: plot.top,
    width: plot.width,
    height: plot.height,
    preserveAspectRatio: "none",
    href: pngAddress(pixels, paletteOf(trace)),
  });
}

/** Contour lines by marching squares, each with its number near the middle of its longest run. */
function contours(trace: Trace, frame: Frame): string[] {
  const { start, end, size = 1, showlabels } = trace.contours ?? {};
  if (start === undefined || end === undefined) return [];
  const levels = Array.from(
    { length: Math.floor((end - start) / size + 1e-9) + 1 },
    (_, k) => start + k * size,
  );
  const { xs, ys, z } = gridOf(trace, frame);
  return levels.flatMap((level) => {
    const pieces: [Point, Point][] = [];
    for (let j = 0; j + 1 < ys.length; j++) {
      for (let i = 0; i + 1 < xs.length; i++) {
        const corner = (a: number, b: number) => [xs[a]!, ys[b]!, z[b]?.[a] ?? Number.NaN] as const;
        const corners = [corner(i, j), corner(i + 1, j), corner(i + 1, j + 1), corner(i, j + 1)];
        // A gap in the map has no height to compare with.
        if (corners.some(([, , height]) => !Number.isFinite(height))) continue;
        const met = corners.flatMap(([x1, y1, a], k): Point[] => {
          const [x2, y2, b] = corners[(k + 1) % 4]!;
          if (a < level === b < level) return [];
          const part = (level - a) / (b - a);
          return [[x1 + part * (x2 - x1), y1 + part * (y2 - y1)]];
        });
        for (let k = 0; k + 1 < met.length; k += 2) pieces.push([met[k]!, met[k + 1]!]);
      }
    }
    if (pieces.length === 0) return [];
    const style = { stroke: trace.line?.color ?? ink, "stroke-width": trace.line?.width ?? 1 };
    const d = pieces
      .map(([[x1, y1], [x2, y2]]) => `M${short(x1)} ${short(y1)}L${short(x2)} ${short(y2)}`)
      .join("");
    const path = element("path", { d, fill: "none", ...style, "stroke-linecap": "round" });
    if (!showlabels) return [path];
    const [x, y] = labelPlace(pieces, frame);
    const label = words(number(level), x, y + 4, {
      "text-anchor": "middle",
      fill: ink,
      stroke: paper,
      "stroke-width": 3,
      "paint-order": "stroke",
    });
    return [path, label];
  });
}

/** The piece of a contour nearest to a third of the plot's height, clear of the sides. */
function labelPlace(pieces: readonly [Point, Point][], { plot }: Frame): Point {
  const wanted = plot.top + 0.3 * plot.height;
  const right = plot.left + plot.width;
  const far = ([x, y]: Point) =>
    Math.abs(y - wanted) + (x < plot.left + 14 || x > right - 14 ? plot.height : 0);
  return pieces
    .map(([[x1, y1], [x2, y2]]): Point => [(x1 + x2) / 2, (y1 + y2) / 2])
    .reduce((best, point) => (far(point) < far(best) ? point : best));
}

export function colourBar(frame: Frame, id: string): string {
  const { colourBar: place, plot, size } = frame;
  if (!place) return "";
  const { trace, left, titleAt } = place;
  const { title, ...ticks } = trace.colorbar ?? {};
  const scale = scaleOf("y", { ...ticks, range: spanOf(trace) });
  const stops = paletteOf(trace)
    .filter((_, k) => k % 7 === 0)
    .map((rgb, k, all) =>
      element("stop", { offset: k / (all.length - 1), "stop-color": `rgb(${rgb.join(",")})` }),
    );
  const right = left + barWidth;
  const y = (share: number) => plot.top + (1 - share) * plot.height;
  const middle = plot.top + plot.height / 2;
  return (
    element("linearGradient", { id: `${id}-bar`, x1: 0, y1: 1, x2: 0, y2: 0 }, ...stops) +
    box(left, plot.top, right, plot.top + plot.height, {
      fill: `url(#${id}-bar)`,
      stroke: ink,
      "stroke-width": 0.8,
    }) +
    scale.ticks
      .map(({ value, text }) => {
        const at = y(scale.share(value));
        const label = words(text, right + 7, at + 4, { "font-size": size.label });
        return line(right, at, right + 4, at) + label;
      })
      .join("") +
    words(plainWords(title?.text ?? ""), titleAt, middle, {
      "text-anchor": "middle",
      "font-size": size.title,
      transform: `rotate(-90 ${short(titleAt)} ${short(middle)})`,
    })
  );
}
