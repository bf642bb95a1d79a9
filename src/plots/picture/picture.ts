/**
 * A figure as a picture that needs no script: for print, for a repository's viewer, for a letter.
 *
 * Plotly cannot draw without a browser, so the few kinds our own figures use are drawn here: lines, markers,
 * error bars, fills, bars, maps, contours. A figure of another kind has no picture.
 * @module
 */
import type { Figure } from "../figure.js";
import { gridColour, ink, paper } from "../style.js";
import { drawable, plainWords, type Shape, titleOf } from "../traces.js";
import { type Frame, frameOf, legendIndent, type NotePlace, placed } from "./frame.js";
import { dashOf } from "./looks.js";
import { colourBar, drawMaps } from "./map.js";
import { type Drawn, drawBars, drawScatter, legendSample } from "./marks.js";
import { box, element, line, nameOf, svgDocument, words } from "./svg.js";

/** How to draw a picture. */
export interface PictureOptions {
  /** Width [px], 680 when absent. */
  readonly width?: number;
  /** Whether the title stands above the plot; so when absent. */
  readonly withTitle?: boolean;
}

/** The figure as SVG text; undefined where a trace is of a kind that only Plotly draws. */
export function figurePicture(
  figure: Pick<Figure, "data" | "layout"> & { readonly alt?: string },
  { width = 680, withTitle = true }: PictureOptions = {},
): string | undefined {
  const plain = drawable(figure);
  if (!plain) return undefined;
  const frame = frameOf(plain, width, withTitle);
  const id = nameOf(`${JSON.stringify(plain, sixDigits)} ${width} ${withTitle}`);
  const to: Drawn = { definitions: [], clipped: [], free: [] };
  const { plot } = frame;
  drawMaps(frame, to);
  drawBars(frame, id, to);
  drawScatter(frame, id, to);
  const legend = legendOf(frame, id, to);
  const { below, above } = shapesOf(frame);
  const clip = element(
    "clipPath",
    { id: `${id}-clip` },
    box(plot.left, plot.top, plot.left + plot.width, plot.top + plot.height),
  );
  const body = [
    element("defs", {}, clip, ...new Set(to.definitions.filter(Boolean))),
    ...frame.title.map((text, i) => words(text, 8, 20 + 21 * i, { "font-size": 16 })),
    grid(frame),
    element("g", { "clip-path": `url(#${id}-clip)` }, ...below, ...to.clipped, ...above),
    axes(frame),
    ...to.free,
    colourBar(frame, id),
    ...frame.notes.map(note),
    legend,
  ].join("");
  const title = plainWords(titleOf(plain.layout)) || "Figure";
  return svgDocument({ id, width, height: frame.height, title, alt: figure.alt ?? title, body });
}

/** What rounding moves in the last digits does not show, and must not make another picture. */
function sixDigits(_: string, value: unknown): unknown {
  return typeof value === "number" ? Number(value.toPrecision(6)) : value;
}

function grid({ figure: { layout }, plot, xLabels, yLabels }: Frame): string {
  const style = { stroke: gridColour };
  const upright = layout.xaxis?.showgrid === false ? [] : xLabels;
  const level = layout.yaxis?.showgrid === false ? [] : yLabels;
  return (
    upright.map(({ at }) => line(at, plot.top, at, plot.top + plot.height, style)).join("") +
    level.map(({ at }) => line(plot.left, at, plot.left + plot.width, at, style)).join("")
  );
}

/** The frame of the plot, ticks, labels and titles. */
function axes({ plot, size, xLabels, yLabels, xTitle, yTitle, xTitleAt }: Frame): string {
  const { left, top, width, height } = plot;
  const bottom = top + height;
  const step = 1.25 * size.label;
  const middle = top + height / 2;
  return [
    box(left, top, left + width, bottom, { fill: "none", stroke: ink }),
    ...xLabels.flatMap(({ at, lines }) => [
      line(at, bottom, at, bottom + 5),
      ...lines.map((text, i) =>
        words(text, at, bottom + 8 + size.label + step * i, {
          "text-anchor": "middle",
          "font-size": size.label,
        }),
      ),
    ]),
    ...yLabels.flatMap(({ at, lines }) => [
      line(left - 5, at, left, at),
      ...lines.map((text, i) =>
        words(text, left - 8, at + 0.36 * size.label + step * (i - (lines.length - 1) / 2), {
          "text-anchor": "end",
          "font-size": size.label,
        }),
      ),
    ]),
    ...xTitle.map((text, i) =>
      words(text, left + width / 2, xTitleAt + 1.25 * size.title * i, {
        "text-anchor": "middle",
        "font-size": size.title,
      }),
    ),
    ...yTitle.map((text, i) => {
      const x = 6 + size.title + 1.25 * size.title * i;
      return words(text, x, middle, {
        "text-anchor": "middle",
        "font-size": size.title,
        transform: `rotate(-90 ${x} ${middle})`,
      });
    }),
  ].join("");
}

function legendOf({ legend, legendTitle, legendTop, size }: Frame, id: string, to: Drawn): string {
  const step = 1.25 * size.label;
  return [
    legendTitle
      ? words(legendTitle, 8, legendTop + size.label, {
          "font-size": size.label,
          "font-weight": "bold",
        })
      : "",
    ...legend.map(({ trace, index, lines, x, y }) => {
      // Light outlines on a map would not show on paper.
      const isWhite = /^(#fff(fff)?|white)$/i.test(
        trace.line?.color ?? String(trace.marker?.color ?? ""),
      );
      const ground = isWhite ? box(x, y - 1, x + 34, y + 15, { fill: "#4a525c" }) : "";
      return (
        ground +
        legendSample(trace, index, x, y + 7, id, to) +
        lines
          .map((text, i) =>
            words(text, x + legendIndent, y + size.label + step * i, { "font-size": size.label }),
          )
          .join("")
      );
    }),
  ].join("");
}

function shapesOf(frame: Frame): { readonly below: string[]; readonly above: string[] } {
  const shapes = frame.figure.layout.shapes ?? [];
  const draw = (shape: Shape) => {
    const [x1, x2] = [shape.x0, shape.x1].map((v) => placed(v, shape.xref, "x", frame)) as [
      number,
      number,
    ];
    const [y1, y2] = [shape.y0, shape.y1].map((v) => placed(v, shape.yref, "y", frame)) as [
      number,
      number,
    ];
    const width = shape.line?.width ?? 2;
    const style = {
      stroke: shape.line?.color ?? ink,
      "stroke-width": width,
      "stroke-dasharray": dashOf(shape.line?.dash, width),
      opacity: shape.opacity,
    };
    return shape.type === "rect"
      ? box(x1, y1, x2, y2, { ...style, fill: shape.fillcolor ?? "none" })
      : line(x1, y1, x2, y2, style);
  };
  return {
    below: shapes.filter(({ type }) => type === "rect").map(draw),
    above: shapes.filter(({ type }) => type !== "rect").map(draw),
  };
}

/** Words at a place, on a ground of their own where they ask for one. */
function note({ annotation, lines, size, left, top, width, height }: NotePlace): string {
  const ground = annotation.bgcolor
    ? box(left - 1, top, left + width * 0.94 + 2, top + height, {
        fill: paper,
        "fill-opacity": 0.88,
      })
    : "";
  const fill = annotation.font?.color ?? ink;
  const step = height / lines.length;
  return (
    ground +
    lines
      .map((text, i) => words(text, left, top + step * (i + 0.8), { "font-size": size, fill }))
      .join("")
  );
}
