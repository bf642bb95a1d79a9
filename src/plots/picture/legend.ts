/**
 * The legend of a figure: its entries and their places below the plot.
 * @module
 */
import { type DrawableFigure, plainWords, type Trace } from "../traces.js";
import { lineHeight, widest, wrapped } from "./text-size.js";

/** From the start of an entry to its words [px]. */
export const legendIndent = 40;

/** One entry of the legend. */
export interface LegendEntry {
  readonly trace: Trace;
  /** Of the figure's traces. */
  readonly index: number;
  readonly lines: readonly string[];
  readonly x: number;
  readonly y: number;
}

/** The legend in columns of equal width below the plot. */
export function legendOf(
  { data, layout }: DrawableFigure,
  width: number,
  top: number,
  size: number,
) {
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
