/**
 * Lines, markers, fills, error bars and bars of a picture.
 * @module
 */

import { colours, ink, nth, paper } from "../style.js";
import { type Datum, type ErrorBars, plainWords, type Trace } from "../traces.js";
import type { Frame } from "./frame.js";
import { colourOf, dashOf, marker, markerPaint, type Point, patternFill } from "./looks.js";
import { box, element, line, short, words } from "./svg.js";

/** What a picture draws inside its plot, and what it needs defined. */
export interface Drawn {
  readonly definitions: string[];
  readonly clipped: string[];
  /** Over the edge of the plot too. */
  readonly free: string[];
}

/** Lines and markers, with their fills below them. */
export function drawScatter(frame: Frame, id: string, to: Drawn): void {
  const { figure, px, py, plot } = frame;
  const stacks = new Map<string, number[]>();
  let before: Point[] = [];
  figure.data.forEach((trace, index) => {
    if ((trace.type ?? "scatter").replace("gl", "") !== "scatter") return;
    const xs = trace.x ?? (trace.y ?? []).map((_, i) => i);
    let ys: readonly Datum[] = trace.y ?? [];
    let floor: Point[] | undefined;
    if (trace.stackgroup !== undefined) {
      const sums = stacks.get(trace.stackgroup) ?? ys.map(() => 0);
      floor = xs.map((x, i): Point => [px(x), py(sums[i]!)]);
      ys = ys.map((y, i) => sums[i]! + Number(y));
      stacks.set(trace.stackgroup, ys as number[]);
    }
    const runs = runsOf(xs, ys, px, py);
    const points = runs.flat();
    if (trace.fill === "tonexty" && before.length > 0) floor = before;
    if (trace.fill === "tozeroy")
      floor = points.map(
        ([x]): Point => [x, Math.min(plot.top + plot.height, Math.max(plot.top, py(0)))],
      );
    const colour = colourOf(trace, index);
    if (floor || trace.fill === "toself") {
      const { fill, definition } = patternFill(
        id,
        trace.fillcolor ?? colour,
        trace.fillpattern?.shape,
      );
      to.definitions.push(definition);
      const ring = floor ? [...points, ...[...floor].reverse()] : points;
      const isPlain = trace.fillcolor === undefined && !trace.fillpattern?.shape;
      to.clipped.push(
        element("path", { d: `${pathOf(ring)}Z`, fill, ...(isPlain && { "fill-opacity": 0.35 }) }),
      );
    }
    const mode = trace.mode ?? "lines";
    if (mode.includes("lines")) {
      const width = trace.line?.width ?? 2;
      if (width > 0) {
        to.clipped.push(
          element("path", {
            d: runs.map((run) => pathOf(run, trace.line?.shape)).join(""),
            fill: "none",
            stroke: colour,
            "stroke-width": width,
            "stroke-linejoin": "round",
            "stroke-dasharray": dashOf(trace.line?.dash, width),
          }),
        );
      }
    }
    to.clipped.push(...errorBars(trace, xs, ys, colour, frame));
    const place = trace.cliponaxis === false ? to.free : to.clipped;
    if (mode.includes("markers")) {
      const paint = markerPaint(trace, index);
      const each = trace.marker?.color;
      place.push(
        ...points.map((point, i) =>
          marker(trace.marker?.symbol, point, trace.marker?.size ?? 8, {
            ...paint,
            ...(Array.isArray(each) && { fill: each[i] as string }),
          }),
        ),
      );
    }
    if (mode.includes("text")) place.push(...textsAt(trace, points));
    before = points;
  });
}

function textsAt(trace: Trace, points: readonly Point[]): string[] {
  const position = trace.textposition ?? "middle center";
  const dy = position.startsWith("bottom") ? 20 : position.startsWith("top") ? -9 : 4;
  const dx = position.endsWith("left") ? -9 : position.endsWith("right") ? 9 : 0;
  return points.map(([x, y], i) => {
    const text = typeof trace.text === "string" ? trace.text : (trace.text?.[i] ?? "");
    return words(plainWords(text), x + dx, y + dy, {
      "text-anchor": dx < 0 ? "end" : dx > 0 ? "start" : "middle",
      fill: trace.textfont?.color ?? ink,
      "font-size": trace.textfont?.size ?? 12,
    });
  });
}

/** Points without gaps, as runs. */
function runsOf(
  xs: readonly Datum[],
  ys: readonly Datum[],
  px: (v: Datum) => number,
  py: (v: Datum) => number,
): Point[][] {
  const runs: Point[][] = [[]];
  xs.forEach((x, i) => {
    const y = ys[i];
    const point: Point = [
      x === null ? Number.NaN : px(x),
      y === null || y === undefined ? Number.NaN : py(y),
    ];
    if (point.every(Number.isFinite)) runs.at(-1)!.push(point);
    else if (runs.at(-1)!.length > 0) runs.push([]);
  });
  return runs.filter((run) => run.length > 0);
}

function pathOf(points: readonly Point[], shape?: string): string {
  return points
    .map(([x, y], i) => {
      if (i === 0) return `M${short(x)} ${short(y)}`;
      if (shape === "hv") return `H${short(x)}V${short(y)}`;
      if (shape === "vh") return `V${short(y)}H${short(x)}`;
      return `L${short(x)} ${short(y)}`;
    })
    .join("");
}

function errorBars(
  trace: Trace,
  xs: readonly Datum[],
  ys: readonly Datum[],
  colour: string,
  { px, py }: Frame,
): string[] {
  const style = { stroke: colour, "stroke-width": 1.4 };
  const bar = (
    errors: ErrorBars | undefined,
    i: number,
    value: Datum | undefined,
    pixel: (v: Datum) => number,
    across: (from: readonly [number, number], to: readonly [number, number]) => string,
    at: number,
  ) => {
    if (!errors?.array || errors.visible === false || typeof value !== "number") return [];
    const low = pixel(value - ((errors.arrayminus ?? errors.array)[i] ?? 0));
    const high = pixel(value + (errors.array[i] ?? 0));
    const cap = (end: number) => across([at - 4, end], [at + 4, end]);
    return [across([at, low], [at, high]), cap(low), cap(high)];
  };
  return xs.flatMap((x, i) => {
    const y = ys[i];
    if (x === null || y === null || y === undefined) return [];
    return [
      ...bar(trace.error_y, i, y, py, ([x1, y1], [x2, y2]) => line(x1, y1, x2, y2, style), px(x)),
      ...bar(trace.error_x, i, x, px, ([y1, x1], [y2, x2]) => line(x1, y1, x2, y2, style), py(y)),
    ];
  });
}

/** Bars, lying or upright; stacked, side by side, or over each other. */
export function drawBars(frame: Frame, id: string, to: Drawn): void {
  const { figure, px, py, plot, x, y } = frame;
  const bars = figure.data
    .map((trace, index) => ({ trace, index }))
    .filter(({ trace }) => trace.type === "bar");
  const mode = figure.layout.barmode ?? "group";
  const ends = new Map<string, number>();
  bars.forEach(({ trace, index }, k) => {
    const lies = trace.orientation === "h";
    const [names, lengths] = lies ? [trace.y ?? [], trace.x ?? []] : [trace.x ?? [], trace.y ?? []];
    const [scale, whole] = lies ? [y, plot.height] : [x, plot.width];
    // Along the bar, and across it where its name is.
    const [along, across] = lies ? [px, py] : [py, px];
    const slot =
      scale.kind === "category"
        ? whole / Math.max(1, Math.abs(scale.range[1] - scale.range[0]))
        : closest(names.map(across)) || whole / 10;
    const isGroup = mode === "group" && bars.length > 1;
    const wide = (0.72 * slot) / (isGroup ? bars.length : 1);
    names.forEach((name, i) => {
      const length = lengths[i];
      if (name === null || typeof length !== "number") return;
      const key = `${name} ${length < 0}`;
      const given = Array.isArray(trace.base) ? trace.base[i] : (trace.base as number | undefined);
      const from = given ?? (mode === "stack" || mode === "relative" ? (ends.get(key) ?? 0) : 0);
      const tip = from + length;
      ends.set(key, tip);
      if (length === 0) return;
      const middle = across(name) + (isGroup ? (k - (bars.length - 1) / 2) * wide : 0);
      const colour = trace.marker?.color;
      const plain =
        (Array.isArray(colour) ? (colour[i] as string) : (colour as string)) ?? nth(colours, index);
      const { fill, definition } = patternFill(id, plain, trace.marker?.pattern?.shape);
      to.definitions.push(definition);
      const style = {
        fill,
        stroke: trace.marker?.line?.color ?? ink,
        "stroke-width": trace.marker?.line?.width ?? 0.8,
      };
      // On a logarithmic axis a bar begins at the edge of the plot.
      const edge = lies ? plot.left : plot.top + plot.height;
      const [low, high] = [Number.isFinite(along(from)) ? along(from) : edge, along(tip)];
      const [side, other] = [middle - wide / 2, middle + wide / 2];
      to.clipped.push(
        lies ? box(low, side, high, other, style) : box(side, low, other, high, style),
        ...errorBars(
          { ...trace, ...pick(trace, i) },
          [lies ? tip : name],
          [lies ? name : tip],
          ink,
          frame,
        ),
      );
    });
  });
}

/** The error bars of one bar. */
function pick({ error_x, error_y }: Trace, i: number): Partial<Trace> {
  const one = (bars: Trace["error_x"]) =>
    bars && {
      ...bars,
      ...(bars.array && { array: bars.array.slice(i, i + 1) }),
      ...(bars.arrayminus && { arrayminus: bars.arrayminus.slice(i, i + 1) }),
    };
  return { ...(error_x && { error_x: one(error_x)! }), ...(error_y && { error_y: one(error_y)! }) };
}

function closest(places: readonly number[]): number {
  const sorted = [...places].sort((a, b) => a - b);
  const gaps = sorted.slice(1).map((place, i) => place - sorted[i]!);
  return gaps.length > 0 ? Math.min(...gaps) : 0;
}

/** The sample in front of a legend's words. */
export function legendSample(
  trace: Trace,
  index: number,
  x: number,
  y: number,
  id: string,
  to: Drawn,
): string {
  if (trace.type === "bar" || trace.stackgroup !== undefined) {
    const colour = trace.marker?.color;
    const plain = trace.fillcolor ?? (typeof colour === "string" ? colour : nth(colours, index));
    const { fill, definition } = patternFill(
      id,
      plain,
      trace.marker?.pattern?.shape ?? trace.fillpattern?.shape,
    );
    to.definitions.push(definition);
    return box(x + 4, y - 6, x + 30, y + 6, { fill, stroke: ink, "stroke-width": 0.8 });
  }
  const mode = trace.mode ?? "lines";
  const colour = colourOf(trace, index);
  const width = trace.line?.width ?? 2;
  const band =
    trace.fill && trace.fill !== "none"
      ? box(x + 4, y - 6, x + 30, y + 6, {
          fill: trace.fillcolor ?? colour,
          ...(trace.fillcolor === undefined && { "fill-opacity": 0.35 }),
        })
      : "";
  const drawn =
    mode.includes("lines") && width > 0
      ? line(x + 2, y, x + 32, y, {
          stroke: colour,
          "stroke-width": width,
          "stroke-dasharray": dashOf(trace.line?.dash, width),
        })
      : "";
  const mark = mode.includes("markers")
    ? marker(trace.marker?.symbol, [x + 17, y], trace.marker?.size ?? 8, markerPaint(trace, index))
    : "";
  return band + drawn + mark || line(x + 2, y, x + 32, y, { stroke: paper });
}
