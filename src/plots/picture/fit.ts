/**
 * A figure's layout for Plotly, fitted to a width: the places are those of our own picture.
 * @module
 */
import type { Figure } from "../figure.js";
import { drawable, type Trace } from "../traces.js";
import { barWidth, type Frame } from "./frame.js";
import { framesOf } from "./frames.js";

/**
 * The figure fitted to a width [px], without its title, which a page sets as text above it. A figure that
 * has kinds of traces not known here stays as it is but for the title and a fixed width.
 */
export function fittedFigure(
  figure: Pick<Figure, "data" | "layout">,
  width: number,
): Pick<Figure, "data" | "layout"> {
  const { title: _title, width: _width, ...layout } = figure.layout as Record<string, unknown>;
  const plain = drawable(figure);
  if (!plain)
    return { data: figure.data, layout: { ...layout, autosize: true, margin: { t: 24 } } };
  const frames = framesOf(plain, width, false);
  const { frame, legendDown, height } = frames[0]!;
  const { frame: lowest, down } = frames.at(-1)!;
  const { plot, size, legend, legendTop } = frame;
  const [r, bottom] = [width - plot.left - plot.width, down + lowest.plot.top + lowest.plot.height];
  const whole = bottom - plot.top;
  /** From which share of the height up to which a plot reaches. */
  const domain = (own: Frame, from: number) =>
    [own.plot.height, 0].map((y) =>
      Math.min(1, Math.max(0, (bottom - from - own.plot.top - y) / whole)),
    );
  const fitted = {
    ...layout,
    autosize: true,
    height,
    margin: { l: plot.left, r, t: plot.top, b: height - bottom, autoexpand: false },
    xaxis: axis(lowest, "x"),
    yaxis: axis(frame, "y"),
    ...(lowest !== frame && {
      xaxis: { ...axis(lowest, "x"), anchor: "y2", mirror: "all" },
      yaxis: { ...axis(frame, "y"), domain: domain(frame, 0) },
      yaxis2: { ...axis(lowest, "y"), domain: domain(lowest, down) },
    }),
    showlegend: legend.length > 0,
    legend: {
      ...(layout.legend as object),
      orientation: "h",
      x: (8 - plot.left) / plot.width,
      xanchor: "left",
      y: (bottom - legendTop - legendDown) / whole,
      yanchor: "top",
      font: { ...(layout.legend as { font?: object } | undefined)?.font, size: size.label },
      title: { text: frame.legendTitle, side: "top", font: { size: size.label } },
      itemwidth: 30,
      tracegroupgap: 0,
    },
    annotations: frames.flatMap(({ frame: own }, k) => {
      const name = k === 0 ? "y" : "y2";
      return own.notes.map(({ annotation, size: fontSize, moved: [right, down] }) => ({
        ...annotation,
        ...(frames.length > 1 && { yref: annotation.yref === "paper" ? `${name} domain` : name }),
        xshift: (annotation.xshift ?? 0) + right,
        yshift: (annotation.yshift ?? 0) - down,
        font: { ...annotation.font, size: fontSize },
      }));
    }),
  };
  const data = plain.data.map((trace) =>
    trace === frame.colourBar?.trace ? withBar(trace, frame) : trace,
  );
  return { data, layout: fitted };
}

function axis(
  { figure: { layout }, xLabels, yLabels, xTitle, yTitle, x, y, size }: Frame,
  name: "x" | "y",
): object {
  const [labels, title, { kind, range }, given = {}] =
    name === "x" ? [xLabels, xTitle, x, layout.xaxis] : [yLabels, yTitle, y, layout.yaxis];
  const ticks = {
    tickvals: labels.map(({ value }) => value),
    ticktext: labels.map(({ lines }) => lines.join("<br>")),
  };
  return {
    ...given,
    title: { text: title.join("<br>"), standoff: 8, font: { size: size.title } },
    automargin: false,
    ...(kind === "linear" && given.range && { range }),
    tickfont: { size: size.label },
    tickangle: 0,
    // Numbers keep Plotly's own ticks, which follow when a reader zooms; names are broken to fit. Ticks
    // that a figure sets itself do not follow, so those that would touch are left out.
    ...((kind === "category" || given.tickvals) && ticks),
    ...(kind === "category" ? { tickmode: "array" } : { nticks: labels.length + 2 }),
  };
}

/** A map with its colour bar beside the plot. */
function withBar({ colorbar, ...trace }: Trace, { plot, size }: Frame): object {
  return {
    ...trace,
    colorbar: {
      ...colorbar,
      title: { ...colorbar?.title, side: "right", font: { size: size.title } },
      thickness: barWidth,
      len: 1,
      lenmode: "fraction",
      x: 1 + 12 / plot.width,
      xpad: 0,
      ypad: 0,
      tickfont: { size: size.label },
    },
  };
}
