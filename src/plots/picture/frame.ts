/**
 * Where everything of a figure goes, for a given width: plot, labels, legend, colour bar. Our pictures and
 * Plotly's drawing on a page both follow it, so nothing is cut and nothing overlaps in either.
 * @module
 */
import { type Scale, scaleOf } from "../scale.js";
import { type Datum, type DrawableFigure, plainWords, titleOf } from "../traces.js";
import { legendOf } from "./legend.js";
import { notesOf } from "./notes.js";
import { lineHeight, textWidth, widest, wrapped } from "./text-size.js";

/** A label of an axis: the pixel it belongs to along the axis, and its lines. */
export interface AxisLabel {
  readonly value: Datum;
  readonly at: number;
  readonly lines: readonly string[];
}

/** All places, in pixels from the upper left corner. */
export type Frame = ReturnType<typeof frameOf>;

/** Sizes that a caller may choose [px]. */
export interface FrameSizes {
  /** Height of the plot, the upper of two, where it is free. */
  readonly high?: number;
  /** Height of a row, at least. */
  readonly row?: number;
  /** Width beside the plot for the legend, which else stands below; left out where there is none. */
  readonly aside?: number;
}

/** Widths below this are for a telephone [px]. */
const narrowBelow = 520;
/** Width of the colour bar itself [px]. */
export const barWidth = 14;

/**
 * The frame of a figure.
 * @param withTitle - whether the title stands above the plot
 * @param fixed - the plot's left side, if it is further right than it would be, its height, if it is free,
 * the least height of a row, and space beside it for the legend, left out where there is none [px]
 */
export function frameOf(
  figure: DrawableFigure,
  wide: number,
  withTitle = true,
  fixed: FrameSizes & { readonly left?: number } = {},
) {
  const { data, layout } = figure;
  const hasLegend = legendOf(figure, wide, 0, 12).entries.length > 0;
  const aside = hasLegend ? (fixed.aside ?? 0) : 0;
  const width = wide - (hasLegend ? 0 : (fixed.aside ?? 0));
  const isNarrow = width < narrowBelow;
  const size = isNarrow ? { label: 11, title: 12 } : { label: 12, title: 13 };
  const lineStep = size.label * lineHeight;
  const y = scaleOf("y", layout.yaxis ?? {}, data, layout.barmode);

  const title = withTitle ? wrapped(plainWords(titleOf(layout)), width - 16, 16) : [];
  const top = 20 + 21 * title.length;
  const yTexts = y.ticks.map(({ text }) =>
    y.kind === "category"
      ? text
          .split("\n")
          .flatMap((line) => wrapped(line, (isNarrow ? 0.32 : 0.42) * width, size.label))
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
  const plotWidth = Math.max(80, Math.floor(width - left - right - aside));
  const x = withRoom(figure, plotWidth, size.label);
  const length = ({ range: [a, b] }: Scale) => Math.abs(b - a);
  const row = fixed.row ?? 32;
  const rows = yTexts.map((lines) => Math.max(row, lines.length * lineStep + 0.3 * row));
  const wanted = Math.min((layout.height ?? 460) - 160, (isNarrow ? 0.95 : 0.62) * plotWidth);
  const plotHeight =
    layout.yaxis?.scaleanchor !== undefined
      ? Math.round(Math.min(2 * plotWidth, (plotWidth * length(y)) / length(x)))
      : y.kind === "category"
        ? Math.max(...rows) * Math.max(1, rows.length)
        : (fixed.high ?? Math.round(Math.max(200, wanted)));

  const yTitle = wrapped(yTitleText, plotHeight + 30, size.title);
  const extra = Math.max(0, yTitle.length - 1) * size.title * lineHeight;
  const begin = Math.max(left + extra, fixed.left ?? 0);
  const plot = { left: begin, top, width: plotWidth - (begin - left), height: plotHeight };
  const px = (value: Datum) => plot.left + x.share(value) * plot.width;
  const py = (value: Datum) => plot.top + (1 - y.share(value)) * plot.height;

  const slot = x.kind === "category" ? plot.width / Math.max(1, x.ticks.length) - 6 : plot.width;
  const xLabels = spaced(
    x.ticks.map(({ value, text }) => {
      return { value, at: px(value), lines: wrapped(text, slot, size.label) };
    }),
    (label) => widest(label.lines, size.label) / 2 + 4,
  );
  const yLabels = spaced(
    y.ticks.map(({ value }, i) => ({ value, at: py(value), lines: yTexts[i]! })),
    (label) => (label.lines.length * lineStep) / 2,
  );
  const xTitle = wrapped(plainWords(layout.xaxis?.title?.text ?? ""), width - 20, size.title);
  const labelsHigh = Math.max(1, ...xLabels.map(({ lines }) => lines.length)) * lineStep;
  const xTitleAt = plot.top + plot.height + 10 + labelsHigh + size.title;
  const legendTop = xTitleAt + (xTitle.length - 0.4) * size.title * lineHeight + 10;
  const besides = { left: width - aside, top: aside ? top : legendTop };
  const { high, legendTitle, ...legend } = legendOf(
    figure,
    aside || width,
    besides.top,
    size.label,
  );
  const entries = legend.entries.map((entry) =>
    aside ? { ...entry, x: entry.x + besides.left } : entry,
  );
  const bottom = high > 0 ? besides.top + high : 0;
  const height = Math.ceil(Math.max(legendTop - 10, bottom) + 6);
  const plane = { width, isNarrow, plot, x, y, px, py };
  return {
    ...plane,
    figure,
    height,
    size,
    xLabels,
    yLabels,
    title,
    xTitle,
    yTitle,
    /** Middle line of the title of the x axis. */
    xTitleAt,
    legend: entries,
    legendTitle,
    legendTop,
    notes: notesOf(figure, plane),
    colourBar: bar && {
      trace: bar,
      left: plot.left + plot.width + 12,
      /** Middle line of its title. */
      titleAt: width - aside - size.title * 0.5 - 4,
    },
  };
}

/** Labels that do not touch the one before; the first and every one that fits stay. */
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

/** The x axis; a linear one reaches so far that the numbers at the ends of its bars stay inside the plot. */
function withRoom({ data, layout }: DrawableFigure, plotWidth: number, size: number): Scale {
  const scale = scaleOf("x", layout.xaxis ?? {}, data, layout.barmode);
  const [low, high] = scale.range;
  if (scale.kind !== "linear" || high < low) return scale;
  const numbers = (layout.annotations ?? []).flatMap(
    ({ text = "", x, y, xshift = 0, xanchor, xref }) => {
      if (xref !== undefined || typeof x !== "number") return [];
      const wide = (textWidth(plainWords(text), size) + Math.abs(xshift) + 4) / plotWidth;
      if (xanchor === "left") return [{ x, isBehind: true, share: Math.min(0.7, wide) }];
      // Before bars that begin inside the plot.
      const isBefore = xanchor === "right" && typeof y === "string";
      return isBefore ? [{ x, isBehind: false, share: Math.min(0.4, wide) }] : [];
    },
  );
  let [near, far] = [low, high];
  // Each end moves the other one, by less from round to round.
  for (let round = 0; round < 8; round++) {
    const ends = numbers.flatMap(({ x, isBehind, share }) =>
      isBehind ? [near + (x - near) / (1 - share)] : [],
    );
    far = Math.max(high, ...ends.filter((end) => end < near + 4 * (high - low)));
    const starts = numbers.flatMap(({ x, isBehind, share }) =>
      isBehind ? [] : [(x - share * far) / (1 - share)],
    );
    near = Math.min(low, ...starts);
  }
  const isSame = far === high && near === low;
  return isSame ? scale : scaleOf("x", { ...layout.xaxis, range: [near, far] }, data);
}
