/**
 * A map of the chip's rise over two fields, with contours, the limit drawn heavy.
 * @module
 */
import type { Sweep } from "../design/sweep.js";
import { formatQuantity } from "../units/format.js";
import { fieldLabel } from "./fields.js";
import type { Figure } from "./figure.js";
import { axis, ink, layout, limitColour, logAxis } from "./style.js";

/** What the map shows beside the contours. */
export interface MapOptions {
  readonly title?: string;
  /** Highest rise allowed [K]; its contour is heavy. */
  readonly limit?: number;
  /** Logarithmic axes, first and second field. */
  readonly logarithmic?: readonly [first: boolean, second: boolean];
  /** A point to mark [SI], first and second field, and what it is. */
  readonly mark?: { readonly at: readonly [number, number]; readonly text: string };
}

/** The first field runs along the x axis, the second along the y axis. */
export function mapFigure(sweep: Sweep, options: MapOptions = {}): Figure {
  const [first, second] = sweep.axes;
  const [x, y] = [fieldLabel(first!.field), fieldLabel(second!.field)];
  const xs = Array.from(first!.values, (v) => v * x.factor);
  const ys = Array.from(second!.values, (v) => v * y.factor);
  // Contours of the logarithm, labelled with the rise itself, so that steps are even by eye.
  const z = ys.map((_, j) => xs.map((_, i) => Math.log10(1e3 * sweep.rise(i, j))));
  const flat = z.flat();
  const [low, high] = [Math.min(...flat), Math.max(...flat)];
  const ticks: number[] = [];
  for (let e = Math.floor(low); e <= Math.ceil(high); e++) {
    for (const m of [1, 2, 5]) {
      const value = Math.log10(m) + e;
      if (value >= low && value <= high) ticks.push(value);
    }
  }
  const { limit, mark, logarithmic = [false, false] } = options;
  const label = (log: number) => String(Number((10 ** log).toPrecision(2)));
  return {
    data: [
      {
        type: "heatmap",
        x: xs,
        y: ys,
        z,
        colorscale: "Cividis",
        reversescale: true,
        zsmooth: "best",
        colorbar: {
          title: { text: "chip above the stage (mK)", side: "right" },
          tickvals: ticks,
          ticktext: ticks.map(label),
        },
        hovertemplate: `${x.title} %{x:.4~g}<br>${y.title} %{y:.4~g}<br>rise %{customdata:.3~g} mK<extra></extra>`,
        customdata: z.map((row) => row.map((v) => 10 ** v)),
      },
      ...ticks.map((level) => contour(xs, ys, z, level, label(level), ink, 1)),
      ...(limit === undefined
        ? []
        : [contour(xs, ys, z, Math.log10(1e3 * limit), "limit", limitColour, 4)]),
      ...(mark
        ? [
            {
              type: "scatter",
              mode: "markers+text",
              x: [mark.at[0] * x.factor],
              y: [mark.at[1] * y.factor],
              text: [mark.text],
              textposition: "top right",
              textfont: { color: "white", size: 13 },
              marker: {
                symbol: "diamond",
                size: 12,
                color: "white",
                line: { color: ink, width: 1.5 },
              },
              hoverinfo: "skip",
              showlegend: false,
            },
          ]
        : []),
    ],
    layout: layout(
      options.title ?? "Chip temperature over both fields",
      {
        xaxis: logarithmic[0] ? logAxis(x.title, xs[0]!, xs.at(-1)!) : axis(x.title),
        yaxis: logarithmic[1] ? logAxis(y.title, ys[0]!, ys.at(-1)!) : axis(y.title),
      },
      { height: 500 },
    ),
    alt:
      `Map of the chip's rise over ${x.title} and ${y.title}: from ` +
      `${formatQuantity(10 ** low / 1e3, "K")} to ${formatQuantity(10 ** high / 1e3, "K")}.`,
  };
}

function contour(
  x: number[],
  y: number[],
  z: number[][],
  level: number,
  text: string,
  color: string,
  width: number,
): object {
  return {
    type: "contour",
    x,
    y,
    z,
    autocontour: false,
    contours: { start: level, end: level, size: 1, coloring: "none", showlabels: false },
    line: { color, width },
    showscale: false,
    showlegend: false,
    name: text,
    hoverinfo: "skip",
  };
}
