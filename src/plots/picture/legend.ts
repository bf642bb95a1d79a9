/**
 * The legend of a figure: its entries and their places below the plot.
 * @module
 */
import { type DrawableFigure, plainWords } from "../traces.js";
import { lineHeight, widest, wrapped } from "./text-size.js";

/** From the start of an entry to its words [px]. */
export const legendIndent = 40;

/** The legend in columns of equal width below the plot. */
export function legendOf(
  { data, layout }: DrawableFigure,
  width: number,
  top: number,
  size: number,
) {
  const named = data
    .map((trace, index) => ({ trace, index, name: plainWords(trace.name ?? "") }))
    .filter(
      ({ trace: { type = "scatter", showlegend }, name }) =>
        name && showlegend !== false && ["scatter", "bar"].includes(type),
    )
    .map((entry) => ({ ...entry, lines: wrapped(entry.name, width - legendIndent - 20, size) }));
  const isShown =
    layout.showlegend !== false &&
    (named.length > 1 || named.some(({ trace }) => trace.showlegend === true));
  if (!isShown) return { entries: [], high: 0, legendTitle: "" };
  if (layout.legend?.traceorder?.includes("reversed")) named.reverse();
  const legendTitle = plainWords(layout.legend?.title?.text ?? "");
  const line = size * lineHeight;
  const texts = named.flatMap(({ lines }) => lines);
  const column = widest(texts, size) + legendIndent + 16;
  const columns = Math.max(1, Math.floor((width - 16) / column));
  let y = top + (legendTitle ? line + 4 : 0);
  const rows = Array.from({ length: Math.ceil(named.length / columns) }, (_, r) => {
    const row = named
      .slice(r * columns, (r + 1) * columns)
      .map((entry, c) => ({ ...entry, x: 8 + c * column, y }));
    y += Math.max(...row.map(({ lines }) => lines.length)) * line + 5;
    return row;
  });
  return { entries: rows.flat(), high: y - top, legendTitle };
}
