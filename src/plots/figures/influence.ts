/**
 * How heat at one place warms the others, as a matrix.
 * @module
 */
import type { Influence } from "../../design/influence.js";
import { formatShare } from "../../units/format.js";
import type { Figure, FigureOptions } from "../figure.js";
import { mapColours } from "../ramp.js";
import { axis, layout, onMap, rounded } from "../style.js";

/** Most places whose shares are written into the matrix. */
const mostWritten = 10;

/** Rise of each place (rows) for heat at each (columns), in per cent of the heated place's own rise. */
export function influenceFigure(influence: Influence, options: FigureOptions = {}): Figure {
  const { places, rises } = influence;
  const names = places.map(({ name }) => name);
  const shares = names.map((_, i) => names.map((_, j) => influence.share(i, j)));
  const largest = Math.max(...shares.flat());
  const smallest = Math.min(...shares.flat());
  const isDark = (share: number) => share < (smallest + largest) / 2;
  const category = { type: "category", automargin: true, showgrid: false };
  return {
    data: [
      {
        type: "heatmap",
        x: names,
        y: names,
        z: shares.map((row) => rounded(row.map((share) => 100 * share))),
        customdata: rises.map((row) => rounded(row)),
        colorscale: mapColours,
        colorbar: { title: { text: "share of own rise (%)", side: "right" } },
        hovertemplate:
          "heat at %{x}<br>warms %{y}<br>%{z:.3~g} %<br>%{customdata:.3~s}K/W<extra></extra>",
      },
    ],
    layout: layout(options.title ?? "Rise at each place for heat at one", {
      xaxis: axis("heat at", category),
      yaxis: axis("warms", { ...category, autorange: "reversed" }),
      height: Math.min(900, Math.max(460, 240 + 40 * names.length)),
      annotations:
        names.length > mostWritten
          ? []
          : shares.flatMap((row, i) =>
              row.map((share, j) => ({
                x: names[j],
                y: names[i],
                text: formatShare(share),
                showarrow: false,
                font: { color: isDark(share) ? onMap.light : onMap.dark, size: 13 },
              })),
            ),
    }),
    alt: `Matrix of ${names.length} places. ${influence.summary}`,
  };
}
