/**
 * Maps of a picture: colours by value, contour lines with their numbers, and the colour bar.
 * @module
 */

import { number, scaleOf } from "../scale.js";
import { ink, mapColours, paper } from "../style.js";
import { plainWords, type Trace } from "../traces.js";
import { barWidth, type Frame } from "./frame.js";
import type { Drawn } from "./marks.js";
import { pngAddress } from "./png.js";
import { box, element, line, short, words } from "./svg.js";

type Colour = readonly [number, number, number];

/** So many points across a map's picture; finer than the maps of a die. */
const mostPoints = 160;

/** The index after the last of the 64 colours. */
const clear = 64;

/** 64 colours of a trace's scale, low to high. */
function paletteOf(trace: Trace): readonly Colour[] {
  const given = typeof trace.colorscale === "object" ? trace.colorscale : mapColours;
  const stops = given.map(([at, text]): readonly [number, Colour] => [at, colourOf(text)]);
  const palette = Array.from({ length: 64 }, (_, k): Colour => {
    const at = k / 63;
    const upper = Math.max(
      1,
      stops.findIndex(([stop]) => stop >= at - 1e-9),
    );
    const [[a, low], [b, high]] = [stops[upper - 1]!, stops[upper]!];
    const part = (at - a) / (b - a || 1);
    return [0, 1, 2].map((c) =>
      Math.round(low[c]! + part * (high[c]! - low[c]!)),
    ) as unknown as Colour;
  });
  return trace.reversescale ? palette.reverse() : palette;
}

function colourOf(text: string): Colour {
  const hex = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(text);
  if (hex) return hex.slice(1).map((part) => Number.parseInt(part, 16)) as unknown as Colour;
  return (text.match(/[\d.]+/g) ?? ["0", "0", "0"]).slice(0, 3).map(Number) as unknown as Colour;
}

/** Values between the points of a map, straight between neighbours in pixels. */
function sampler(trace: Trace, { px, py }: Frame) {
  const z = trace.z ?? [];
  const xs = (trace.x ?? z[0]?.map((_, i) => i) ?? []).map(px);
  const ys = (trace.y ?? z.map((_, j) => j)).map(py);
  const place = (places: readonly number[], at: number) => {
    if (places.length < 2) return { low: 0, part: 0, isOff: false };
    const rising = places.at(-1)! > places[0]!;
    let low = 0;
    while (low < places.length - 2 && (rising ? places[low + 1]! < at : places[low + 1]! > at))
      low++;
    const part = (at - places[low]!) / (places[low + 1]! - places[low]!);
    // A cell reaches half a step beyond its middle.
    return { low, part: Math.min(1, Math.max(0, part)), isOff: part < -0.5001 || part > 1.5001 };
  };
  return {
    xs,
    ys,
    z,
    across: (x: number) => place(xs, x),
    up: (y: number) => place(ys, y),
  };
}

function spanOf(trace: Trace): readonly [number, number] {
  const values = (trace.z ?? []).flat().filter((v): v is number => typeof v === "number");
  return [trace.zmin ?? Math.min(...values), trace.zmax ?? Math.max(...values)];
}

/** Maps and contours of a figure. */
export function drawMaps(frame: Frame, to: Drawn): void {
  for (const trace of frame.figure.data) {
    if (trace.type === "heatmap") to.clipped.push(mapPicture(trace, frame));
  }
  for (const trace of frame.figure.data) {
    if (trace.type === "contour") to.clipped.push(...contours(trace, frame));
  }
}

function mapPicture(trace: Trace, frame: Frame): string {
  const { plot } = frame;
  const { z, across, up } = sampler(trace, frame);
  const [low, high] = spanOf(trace);
  const columns = Math.min(mostPoints, Math.max(2, Math.round(plot.width / 2)));
  const rows = Math.max(2, Math.round((columns * plot.height) / plot.width));
  const alongX = Array.from({ length: columns }, (_, i) =>
    across(plot.left + ((i + 0.5) / columns) * plot.width),
  );
  const valueAt = (j: number, i: number) => z[j]?.[i] ?? Number.NaN;
  const isSmooth = trace.zsmooth === "best" || trace.zsmooth === "fast";
  const pixels = Array.from({ length: rows }, (_, j) => {
    const row = up(plot.top + ((j + 0.5) / rows) * plot.height);
    return Uint8Array.from(alongX, (column) => {
      const nearest = valueAt(row.low + Math.round(row.part), column.low + Math.round(column.part));
      // A gap in the map is a gap in its picture.
      if (row.isOff || column.isOff || !Number.isFinite(nearest)) return clear;
      const [a, b, c, d] = [0, 1, 2, 3].map((k) =>
        valueAt(row.low + (k >> 1), column.low + (k & 1)),
      );
      const mixed =
        (1 - row.part) * ((1 - column.part) * a! + column.part * b!) +
        row.part * ((1 - column.part) * c! + column.part * d!);
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

type Point = readonly [number, number];

/** Contour lines by marching squares, each with its number near the middle of its longest run. */
function contours(trace: Trace, frame: Frame): string[] {
  const { start, end, size = 1, showlabels } = trace.contours ?? {};
  if (start === undefined || end === undefined) return [];
  const levels = Array.from(
    { length: Math.floor((end - start) / size + 1e-9) + 1 },
    (_, k) => start + k * size,
  );
  const { xs, ys, z } = sampler(trace, frame);
  return levels.flatMap((level) => {
    const pieces: [Point, Point][] = [];
    for (let j = 0; j + 1 < ys.length; j++) {
      for (let i = 0; i + 1 < xs.length; i++) {
        const corners: readonly (readonly [number, number, number])[] = [
          [xs[i]!, ys[j]!, Number(z[j]![i])],
          [xs[i + 1]!, ys[j]!, Number(z[j]![i + 1])],
          [xs[i + 1]!, ys[j + 1]!, Number(z[j + 1]![i + 1])],
          [xs[i]!, ys[j + 1]!, Number(z[j + 1]![i])],
        ];
        const met: Point[] = [];
        corners.forEach(([x1, y1, a], k) => {
          const [x2, y2, b] = corners[(k + 1) % 4]!;
          if (a < level === b < level) return;
          const part = (level - a) / (b - a);
          met.push([x1 + part * (x2 - x1), y1 + part * (y2 - y1)]);
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

/** The piece of a contour nearest to a third of the plot's height. */
function labelPlace(pieces: readonly [Point, Point][], { plot }: Frame): Point {
  const wanted = plot.top + 0.3 * plot.height;
  const inside = pieces.map(([[x1, y1], [x2, y2]]): Point => [(x1 + x2) / 2, (y1 + y2) / 2]);
  const far = ([x, y]: Point) =>
    Math.abs(y - wanted) +
    (x < plot.left + 14 || x > plot.left + plot.width - 14 ? plot.height : 0);
  return inside.reduce((best, point) => (far(point) < far(best) ? point : best));
}

/** The colour bar, with its ticks and its title. */
export function colourBar(frame: Frame, id: string): string {
  const { colourBar: place, plot, size } = frame;
  if (!place) return "";
  const { trace, left } = place;
  const palette = paletteOf(trace);
  const [low, high] = spanOf(trace);
  const { tickvals, ticktext, title } = trace.colorbar ?? {};
  const scale = scaleOf(
    "y",
    { range: [low, high], ...(tickvals && { tickvals }), ...(ticktext && { ticktext }) },
    [],
    false,
  );
  const stops = palette
    .filter((_, k) => k % 7 === 0)
    .map((rgb, k, all) =>
      element("stop", { offset: k / (all.length - 1), "stop-color": `rgb(${rgb.join(",")})` }),
    );
  const right = left + barWidth;
  const y = (share: number) => plot.top + (1 - share) * plot.height;
  const middle = plot.top + plot.height / 2;
  const widest = frame.width - size.title * 0.5 - 4;
  return (
    element("linearGradient", { id: `${id}-bar`, x1: 0, y1: 1, x2: 0, y2: 0 }, ...stops) +
    box(left, plot.top, right, plot.top + plot.height, {
      fill: `url(#${id}-bar)`,
      stroke: ink,
      "stroke-width": 0.8,
    }) +
    scale.ticks
      .map(
        ({ value, text }) =>
          line(right, y(scale.share(value)), right + 4, y(scale.share(value))) +
          words(text, right + 7, y(scale.share(value)) + 4, { "font-size": size.label }),
      )
      .join("") +
    words(plainWords(title?.text ?? ""), widest, middle, {
      "text-anchor": "middle",
      "font-size": size.title,
      transform: `rotate(-90 ${short(widest)} ${short(middle)})`,
    })
  );
}
