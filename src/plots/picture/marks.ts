/**
 * Lines, markers, stacks, error bars and bars of a picture.
 * @module
 */
import { isStacked } from "../scale.js";
import { colours, ink, nth } from "../style.js";
import { type Datum, plainWords, type Trace } from "../traces.js";
import type { Frame } from "./frame.js";
import {
  colourOf,
  type Drawn,
  dashOf,
  marker,
  markPaint,
  type Point,
  patternFill,
} from "./looks.js";
import { box, element, line, short, words } from "./svg.js";

/** Lines and markers, those of a stack with their fills below them. */
export function drawScatter(frame: Frame, to: Drawn): void {
  const { figure, px, py } = frame;
  const stacks = new Map<string, number[]>();
  figure.data.forEach((trace, index) => {
    if ((trace.type ?? "scatter") !== "scatter") return;
    const { stackgroup, mode = "lines" } = trace;
    const xs = trace.x ?? (trace.y ?? []).map((_, i) => i);
    let ys: readonly Datum[] = trace.y ?? [];
    const colour = colourOf(trace, index);
    if (stackgroup !== undefined) {
      const below = stacks.get(stackgroup) ?? ys.map(() => 0);
      const above = ys.map((y, i) => below[i]! + Number(y));
      stacks.set(stackgroup, above);
      ys = above;
      const [top, floor] = [above, below].map((ends) =>
        ends.map((y, i): Point => [px(xs[i]!), py(y)]),
      );
      const shape = trace.fillpattern?.shape;
      const isPlain = trace.fillcolor === undefined && !shape;
      to.clipped.push(
        element("path", {
          d: `${pathOf([...top!, ...floor!.reverse()])}Z`,
          fill: patternFill(to, trace.fillcolor ?? colour, shape),
          ...(isPlain && { "fill-opacity": 0.35 }),
        }),
      );
    }
    const runs = runsOf(xs, ys, frame);
    const points = runs.flat();
    const { width = 2, dash } = trace.line ?? {};
    if (mode.includes("lines") && width > 0) {
      to.clipped.push(
        element("path", {
          d: runs.map(pathOf).join(""),
          fill: "none",
          stroke: colour,
          "stroke-width": width,
          "stroke-linejoin": "round",
          "stroke-dasharray": dashOf(dash, width),
        }),
      );
    }
    to.clipped.push(...errorBars(trace, xs, ys, colour, frame));
    const place = trace.cliponaxis === false ? to.free : to.clipped;
    if (mode.includes("markers")) {
      const { symbol, size = 8 } = trace.marker ?? {};
      const drawn = points.map((at, i) => marker(symbol, at, size, markPaint(trace, index, i)));
      place.push(...drawn);
    }
    if (mode.includes("text")) place.push(...textsAt(trace, points));
  });
}

function textsAt({ text = "", textposition = "", textfont }: Trace, points: readonly Point[]) {
  const { color: fill = ink, size = 12 } = textfont ?? {};
  const dy = textposition.startsWith("bottom") ? 20 : textposition.startsWith("top") ? -9 : 4;
  return points.map(([x, y], i) => {
    const each = typeof text === "string" ? text : (text[i] ?? "");
    const style = { "text-anchor": "middle", fill, "font-size": size };
    return words(plainWords(each), x, y + dy, style);
  });
}

/** Points without gaps, as runs. */
function runsOf(xs: readonly Datum[], ys: readonly Datum[], { px, py }: Frame): Point[][] {
  const runs: Point[][] = [[]];
  xs.forEach((x, i) => {
    const y = ys[i] ?? null;
    const point: Point = x === null || y === null ? [Number.NaN, Number.NaN] : [px(x), py(y)];
    if (point.every(Number.isFinite)) runs.at(-1)!.push(point);
    else if (runs.at(-1)!.length > 0) runs.push([]);
  });
  return runs.filter((run) => run.length > 0);
}

function pathOf(points: readonly Point[]): string {
  return `M${points.map(([x, y]) => `${short(x)} ${short(y)}`).join("L")}`;
}

function errorBars(
  { error_y: errors }: Trace,
  xs: readonly Datum[],
  ys: readonly Datum[],
  stroke: string,
  { px, py, plot }: Frame,
): string[] {
  if (!errors?.array || errors.visible === false) return [];
  const { array, arrayminus = array } = errors;
  const style = { stroke, "stroke-width": 1.4 };
  return xs.flatMap((x, i) => {
    const y = ys[i];
    if (x === null || typeof y !== "number") return [];
    const [at, low, high] = [px(x), py(y - (arrayminus[i] ?? 0)), py(y + (array[i] ?? 0))];
    const cap = (end: number) => line(at - 4, end, at + 4, end, style);
    // On a logarithmic axis an error as large as its value reaches over the edge of the plot.
    if (!Number.isFinite(low))
      return [line(at, plot.top + plot.height, at, high, style), cap(high)];
    return [line(at, low, at, high, style), cap(low), cap(high)];
  });
}

/** Bars, lying or upright; stacked, side by side, or over each other. */
export function drawBars(frame: Frame, to: Drawn): void {
  const { figure, px, py, plot, x, y } = frame;
  const bars = figure.data
    .map((trace, index) => ({ trace, index }))
    .filter(({ trace }) => trace.type === "bar");
  const { barmode = "group" } = figure.layout;
  const side = barmode === "group" ? bars.length : 1;
  const ends = new Map<string, number>();
  bars.forEach(({ trace, index }, k) => {
    const lies = trace.orientation === "h";
    const [names = [], lengths = []] = lies ? [trace.y, trace.x] : [trace.x, trace.y];
    const [scale, whole] = lies ? [y, plot.height] : [x, plot.width];
    // Along the bar, and across it where its name is.
    const [along, across] = lies ? [px, py] : [py, px];
    const slot =
      scale.kind === "category"
        ? whole / Math.max(1, Math.abs(scale.range[1] - scale.range[0]))
        : closest(names.map(across)) || whole / 10;
    const wide = (0.72 * slot) / side;
    names.forEach((name, i) => {
      const length = lengths[i];
      if (name === null || typeof length !== "number") return;
      const key = `${name} ${length < 0}`;
      const given = typeof trace.base === "object" ? trace.base[i] : trace.base;
      const from = given ?? (isStacked(barmode) ? (ends.get(key) ?? 0) : 0);
      const tip = from + length;
      ends.set(key, tip);
      if (length === 0) return;
      const middle = across(name) + (k - (bars.length - 1) / 2) * (side > 1 ? wide : 0);
      const { fill } = markPaint(trace, index, i);
      const style = {
        fill: patternFill(to, String(fill), trace.marker?.pattern?.shape),
        stroke: trace.marker?.line?.color ?? ink,
        "stroke-width": trace.marker?.line?.width ?? 0.8,
      };
      // On a logarithmic axis a bar begins at the edge of the plot.
      const edge = lies ? plot.left : plot.top + plot.height;
      const [low, high] = [Number.isFinite(along(from)) ? along(from) : edge, along(tip)];
      const [a, b] = [middle - wide / 2, middle + wide / 2];
      to.clipped.push(lies ? box(low, a, high, b, style) : box(a, low, b, high, style));
    });
  });
}

function closest(places: readonly number[]): number {
  const sorted = [...places].sort((a, b) => a - b);
  const gaps = sorted.slice(1).map((place, i) => place - sorted[i]!);
  return gaps.length > 0 ? Math.min(...gaps) : 0;
}

/** The sample in front of a legend's words. */
export function legendSample(trace: Trace, index: number, x: number, y: number, to: Drawn): string {
  if (trace.type === "bar" || trace.stackgroup !== undefined) {
    const { color, pattern } = trace.marker ?? {};
    const plain = trace.fillcolor ?? (typeof color === "string" ? color : nth(colours, index));
    const fill = patternFill(to, plain, pattern?.shape ?? trace.fillpattern?.shape);
    return box(x + 4, y - 6, x + 30, y + 6, { fill, stroke: ink, "stroke-width": 0.8 });
  }
  const { mode = "lines" } = trace;
  const { width = 2, dash } = trace.line ?? {};
  const style = {
    stroke: colourOf(trace, index),
    "stroke-width": width,
    "stroke-dasharray": dashOf(dash, width),
  };
  const { symbol, size = 8 } = trace.marker ?? {};
  return [
    mode.includes("lines") && width > 0 ? line(x + 2, y, x + 32, y, style) : "",
    mode.includes("markers") ? marker(symbol, [x + 17, y], size, markPaint(trace, index)) : "",
  ].join("");
}
