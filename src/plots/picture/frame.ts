/**
 * Where everything of a figure goes, for a given width: plot, labels, legend, colour bar. Our pictures and
 * Plotly's drawing on a page both follow it, so nothing is cut and nothing overlaps in either.
 * @module
 */
import { type Scale, scaleOf } from "../scale.js";
import {
  type Annotation,
  type Datum,
  type DrawableFigure,
  plainWords,
  type Trace,
  titleOf,
} from "../traces.js";
import { textWidth, wrapped } from "./svg.js";

/** A label of an axis: the pixel it belongs to along the axis, and its lines. */
export interface AxisLabel {
  readonly value: Datum;
  readonly at: number;
  readonly lines: readonly string[];
}

/** One entry of the legend. */
export interface LegendEntry {
  readonly trace: Trace;
  /** Of the figure's traces. */
  readonly index: number;
  readonly lines: readonly string[];
  readonly x: number;
  readonly y: number;
}

/** Words at a place, moved so far that they stay inside the figure and clear of each other. */
export interface NotePlace {
  readonly annotation: Annotation;
  readonly lines: readonly string[];
  readonly size: number;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  /** How far they were moved, right and down [px]. */
  readonly moved: readonly [right: number, down: number];
}

/** All places, in pixels from the upper left corner. */
export interface Frame {
  readonly figure: DrawableFigure;
  readonly width: number;
  readonly height: number;
  readonly isNarrow: boolean;
  readonly size: { readonly label: number; readonly title: number };
  readonly plot: {
    readonly left: number;
    readonly top: number;
    readonly width: number;
    readonly height: number;
  };
  readonly x: Scale;
  readonly y: Scale;
  px(value: Datum): number;
  py(value: Datum): number;
  readonly xLabels: readonly AxisLabel[];
  readonly yLabels: readonly AxisLabel[];
  readonly title: readonly string[];
  readonly xTitle: readonly string[];
  readonly yTitle: readonly string[];
  /** Middle line of the title of the x axis. */
  readonly xTitleAt: number;
  readonly legend: readonly LegendEntry[];
  readonly legendTitle: string;
  readonly legendTop: number;
  readonly notes: readonly NotePlace[];
  readonly colourBar?: { readonly trace: Trace; readonly left: number };
}

/** Widths below this are for a telephone [px]. */
const narrowBelow = 520;
const lineHeight = 1.25;
/** Width of the colour bar itself [px]. */
export const barWidth = 14;
/** From the start of a legend's entry to its words [px]. */
export const legendIndent = 40;

/** The frame of a figure. @param withTitle - whether the title stands above the plot */
export function frameOf(figure: DrawableFigure, width: number, withTitle = true): Frame {
  const { data, layout } = figure;
  const isNarrow = width < narrowBelow;
  const size = isNarrow ? { label: 11, title: 12 } : { label: 12, title: 13 };
  const stacked = layout.barmode === "stack" || layout.barmode === "relative";
  const y = scaleOf("y", layout.yaxis ?? {}, data, stacked);

  const title = withTitle ? wrapped(plainWords(titleOf(layout)), width - 16, 16) : [];
  const top = 20 + 21 * title.length;
  const yTexts = y.ticks.map(({ text }) =>
    y.kind === "category"
      ? text
          .split("\n")
          .flatMap((line) => wrapped(line, (isNarrow ? 0.32 : 0.3) * width, size.label))
      : text.split("\n"),
  );
  const yWidth = widest(yTexts.flat(), size.label);
  const yTitleText = plainWords(layout.yaxis?.title?.text ?? "");
  const left = Math.ceil((yTitleText ? 10 + size.title * lineHeight : 6) + yWidth + 12);
  const bar = data.find(({ type, showscale }) => type === "heatmap" && showscale !== false);
  const barTexts = bar ? (bar.colorbar?.ticktext ?? ["0000"]) : [];
  const right = bar
    ? 12 + barWidth + 8 + widest(barTexts, size.label) + 10 + size.title * lineHeight
    : isNarrow
      ? 14
      : 20;
  const plotWidth = Math.max(80, Math.floor(width - left - right));
  const x = roomForNotes(
    figure,
    scaleOf("x", layout.xaxis ?? {}, data, stacked),
    stacked,
    plotWidth,
    size.label,
  );
  const plotHeight = heightOf(figure, {
    plotWidth,
    isNarrow,
    x,
    y,
    yTexts,
    lineSize: size.label * lineHeight,
  });

  const yTitle = wrapped(yTitleText, plotHeight + 30, size.title);
  const extra = Math.max(0, yTitle.length - 1) * size.title * lineHeight;
  const plot = { left: left + extra, top, width: plotWidth - extra, height: plotHeight };
  const px = (value: Datum) => plot.left + x.share(value) * plot.width;
  const py = (value: Datum) => plot.top + (1 - y.share(value)) * plot.height;

  const slot = x.kind === "category" ? plot.width / Math.max(1, x.ticks.length) - 6 : plot.width;
  const xLabels = spaced(
    x.ticks.map(({ value, text }) => ({
      value,
      at: px(value),
      lines: wrapped(text, slot, size.label),
    })),
    (label) => widest(label.lines, size.label) / 2 + 4,
  );
  const yLabels = spaced(
    y.ticks.map(({ value }, i) => ({ value, at: py(value), lines: yTexts[i]! })),
    (label) => (label.lines.length * size.label * lineHeight) / 2,
  );
  const xTitle = wrapped(plainWords(layout.xaxis?.title?.text ?? ""), width - 20, size.title);
  const labelsHigh =
    Math.max(1, ...xLabels.map(({ lines }) => lines.length)) * size.label * lineHeight;
  const xTitleAt = plot.top + plot.height + 10 + labelsHigh + size.title;
  const legendTop = xTitleAt + (xTitle.length - 0.4) * size.title * lineHeight + 10;
  const { entries, high, legendTitle } = legendOf(figure, width, legendTop, size.label);
  const height = Math.ceil(legendTop + high + 6);
  return {
    figure,
    width,
    height,
    isNarrow,
    size,
    plot,
    x,
    y,
    px,
    py,
    xLabels,
    yLabels,
    title,
    xTitle,
    yTitle,
    xTitleAt,
    legend: entries,
    legendTitle,
    legendTop,
    notes: notesOf(figure, { plot, px, py, x, y, width, isNarrow }),
    ...(bar && { colourBar: { trace: bar, left: plot.left + plot.width + 12 } }),
  };
}

function widest(texts: readonly string[], size: number): number {
  return Math.max(0, ...texts.map((text) => textWidth(text, size)));
}

interface Sizes {
  readonly plotWidth: number;
  readonly isNarrow: boolean;
  readonly x: Scale;
  readonly y: Scale;
  readonly yTexts: readonly (readonly string[])[];
  readonly lineSize: number;
}

function heightOf(
  { layout }: DrawableFigure,
  { plotWidth, isNarrow, x, y, yTexts, lineSize }: Sizes,
): number {
  if (layout.yaxis?.scaleanchor !== undefined) {
    const span = ([a, b]: readonly [number, number]) => Math.abs(b - a);
    return Math.round(Math.min(2 * plotWidth, (plotWidth * span(y.range)) / span(x.range)));
  }
  if (y.kind === "category") {
    const rows = yTexts.map((lines) => Math.max(32, lines.length * lineSize + 10));
    return Math.max(...rows) * Math.max(1, rows.length);
  }
  const wanted = (layout.height ?? 460) - 160;
  return Math.round(Math.max(200, Math.min(wanted, (isNarrow ? 0.95 : 0.62) * plotWidth)));
}

/** Labels that do not touch the one before; the first and every one that has room stay. */
function spaced(
  labels: readonly AxisLabel[],
  half: (label: AxisLabel) => number,
): readonly AxisLabel[] {
  const kept: AxisLabel[] = [];
  for (const label of [...labels].sort((a, b) => a.at - b.at)) {
    const last = kept.at(-1);
    if (!last || label.at - half(label) >= last.at + half(last) - 1) kept.push(label);
  }
  return kept;
}

/** A linear axis reaches so far that the numbers behind its bars stay inside the plot. */
function roomForNotes(
  { data, layout }: DrawableFigure,
  scale: Scale,
  stacked: boolean,
  plotWidth: number,
  size: number,
): Scale {
  const [low, high] = scale.range;
  if (scale.kind !== "linear" || high < low) return scale;
  const ends = (layout.annotations ?? [])
    .filter(
      ({ xanchor, xref, x }) => xanchor === "left" && xref === undefined && typeof x === "number",
    )
    .map(({ text = "", x, xshift = 0 }) => {
      const share = Math.min(0.7, (textWidth(plainWords(text), size) + xshift + 4) / plotWidth);
      return low + (Number(x) - low) / (1 - share);
    });
  const far = Math.max(high, ...ends.filter((end) => end < low + 4 * (high - low)));
  if (far === high) return scale;
  return scaleOf("x", { ...layout.xaxis, range: [low, far] }, data, stacked);
}

type Sides = Pick<Frame, "plot" | "px" | "py" | "x" | "y" | "width" | "isNarrow">;

/** A coordinate of a shape or note: of the paper (0 to 1 over the plot) or of the data. */
export function placed(
  value: number | string,
  ref: string | undefined,
  name: "x" | "y",
  { plot, px, py }: Pick<Frame, "plot" | "px" | "py">,
): number {
  if (ref === "paper" || ref?.endsWith(" domain")) {
    const { left, top, width, height } = plot;
    return name === "x" ? left + Number(value) * width : top + (1 - Number(value)) * height;
  }
  return name === "x" ? px(value) : py(value);
}

/** Where notes go; those that hang on the paper make way downwards for those before them. */
function notesOf({ layout }: DrawableFigure, frame: Sides): readonly NotePlace[] {
  const done: NotePlace[] = [];
  for (const annotation of layout.annotations ?? []) {
    const { text = "", xref, yref, xanchor = "center", yanchor = "middle", font } = annotation;
    const { xshift = 0, yshift = 0 } = annotation;
    const size = Math.min(font?.size ?? 12, frame.isNarrow ? 11 : 14);
    const lines = plainWords(text).split("\n");
    const width = widest(lines, size);
    const height = lineHeight * size * lines.length;
    const value = (v: number | string, scale: Scale, ref?: string) =>
      scale.kind === "log" && ref === undefined && typeof v === "number" ? 10 ** v : v;
    const x = placed(value(annotation.x, frame.x, xref), xref, "x", frame) + xshift;
    const y = placed(value(annotation.y, frame.y, yref), yref, "y", frame) - yshift;
    const start = xanchor === "left" ? x : xanchor === "right" ? x - width : x - width / 2;
    const left = Math.min(Math.max(start, 2), Math.max(2, frame.width - width - 2));
    const first = yanchor === "top" ? y : yanchor === "bottom" ? y - height : y - height / 2;
    const isFree = (top: number) =>
      !done.some(
        (other) =>
          left < other.left + other.width + 4 &&
          other.left < left + width + 4 &&
          top < other.top + other.height &&
          other.top < top + height,
      );
    let top = first;
    while (yref === "paper" && !isFree(top) && top < first + 6 * height) top += height;
    const moved = [left - start, top - first] as const;
    done.push({ annotation, lines, size, left, top, width, height, moved });
  }
  return done;
}

/** The legend in columns of equal width below the plot. */
function legendOf({ data, layout }: DrawableFigure, width: number, top: number, size: number) {
  const named = data
    .map((trace, index) => ({ trace, index }))
    .filter(
      ({ trace }) =>
        trace.name &&
        trace.showlegend !== false &&
        trace.type !== "heatmap" &&
        trace.type !== "contour",
    );
  const isShown =
    layout.showlegend !== false &&
    (named.length > 1 || named.some(({ trace }) => trace.showlegend === true));
  if (!isShown) return { entries: [], high: 0, legendTitle: "" };
  if (layout.legend?.traceorder?.includes("reversed")) named.reverse();
  const legendTitle = plainWords(layout.legend?.title?.text ?? "");
  const line = size * lineHeight;
  const texts = named.map(({ trace }) =>
    wrapped(plainWords(trace.name!), width - legendIndent - 20, size),
  );
  const column = widest(texts.flat(), size) + legendIndent + 16;
  const columns = Math.max(1, Math.floor((width - 16) / column));
  let y = top + (legendTitle ? line + 4 : 0);
  const entries: LegendEntry[] = [];
  for (let first = 0; first < named.length; first += columns) {
    const row = named.slice(first, first + columns);
    row.forEach(({ trace, index }, c) => {
      entries.push({ trace, index, lines: texts[first + c]!, x: 8 + c * column, y });
    });
    y += Math.max(...row.map((_, c) => texts[first + c]!.length)) * line + 5;
  }
  return { entries, high: y - top, legendTitle };
}
