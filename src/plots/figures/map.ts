/**
 * A map of the chip's rise over two fields, with contours, the limit drawn heavy.
 * @module
 */
import type { Sweep } from "../../design/sweeping/sweep-result.js";
import { formatQuantity } from "../../units/format.js";
import type { Figure, FigureOptions } from "../figure.js";
import { mapColours } from "../ramp.js";
import { number, roundNumbers } from "../scale.js";
import { type AxisScale, fieldAxis, layout, limitColour, onMap, rounded } from "../style.js";
import { fieldAlong } from "./fields.js";

/** What the map shows beside the contours. */
export interface MapOptions extends FigureOptions {
  /** Highest rise allowed [K]; its contour is heavy. */
  readonly limit?: number;
  /** Scales of the axes, of the first and the second field; both linear when absent. */
  readonly scales?: readonly [first: AxisScale, second: AxisScale];
  /** A point to mark [SI], first and second field, and what it is. */
  readonly mark?: {
    /** Values of the first and the second field [SI]. */
    readonly at: readonly [number, number];
    /** What it is. */
    readonly text: string;
  };
}

/** The first field runs along the x axis, the second along the y axis. */
export function mapFigure(sweep: Sweep, options: MapOptions = {}): Figure {
  const [x, y] = [fieldAlong(sweep.axes[0]!), fieldAlong(sweep.axes[1]!)];
  const [xs, ys] = [x.values, y.values];
  const rises = ys.map((_, j) => rounded(xs.map((_, i) => 1e3 * sweep.rise(i, j))));
  const flat = rises.flat();
  const [low, high] = [Math.min(...flat), Math.max(...flat)];
  const levels = roundNumbers(low, high).filter((level) => level > low && level < high);
  // Contours are smooth: every second point of a fine map draws the same lines at a quarter of the size.
  const every = <T>(list: readonly T[]) =>
    list.length < 60 ? list : list.filter((_, i) => i % 2 === 0 || i === list.length - 1);
  const coarse = every(rises).map(every);
  const contour = (level: number, color: string, width: number) => ({
    type: "contour",
    x: every(xs),
    y: every(ys),
    z: coarse,
    autocontour: false,
    contours: {
      start: level,
      end: level,
      size: 1,
      coloring: "none",
      showlabels: true,
      labelfont: { size: 12, color: color === limitColour ? onMap.light : color },
    },
    line: { color, width },
    showscale: false,
    showlegend: false,
    hoverinfo: "skip",
  });
  const { limit, mark, scales = ["linear", "linear"] } = options;
  const marked = mark && {
    type: "scatter",
    mode: "markers+text",
    x: [mark.at[0] * x.factor],
    y: [mark.at[1] * y.factor],
    text: [mark.text],
    textposition: "bottom center",
    textfont: { color: onMap.light, size: 13 },
    marker: {
      symbol: "diamond",
      size: 12,
      color: onMap.light,
      line: { color: onMap.dark, width: 1.5 },
    },
    hoverinfo: "skip",
    showlegend: false,
  };
  return {
    data: [
      {
        type: "heatmap",
        x: xs,
        y: ys,
        // Colour by the logarithm, so that equal factors are equal steps to the eye.
        z: rises.map((row) => rounded(row.map(Math.log10))),
        customdata: rises,
        colorscale: mapColours,
        zsmooth: "best",
        colorbar: {
          title: { text: "chip above the stage (mK)", side: "right" },
          tickvals: levels.map(Math.log10),
          ticktext: levels.map((level) => number(level)),
        },
        hovertemplate:
          `${x.title} %{x:.4~g}<br>${y.title} %{y:.4~g}<br>` +
          "rise %{customdata:.3~g} mK<extra></extra>",
      },
      ...levels.map((level) => {
        // The upper half of the scale is bright.
        const isBright = Math.log(level / low) > 0.5 * Math.log(high / low);
        return contour(level, isBright ? onMap.dark : onMap.light, 1);
      }),
      ...(limit === undefined ? [] : [contour(1e3 * limit, limitColour, 4)]),
      ...(marked ? [marked] : []),
    ],
    layout: layout(options.title ?? "Chip temperature over both fields", {
      xaxis: fieldAxis(x.title, xs, scales[0]),
      yaxis: fieldAxis(y.title, ys, scales[1]),
      height: 500,
    }),
    alt:
      `Map of the chip's rise over ${x.title} and ${y.title}: from ` +
      `${formatQuantity(low / 1e3, "K")} to ${formatQuantity(high / 1e3, "K")}.`,
  };
}
