/**
 * A figure as a picture that needs no script: for print, for a repository's viewer, for a letter.
 *
 * Plotly cannot draw without a browser, so the few kinds our own figures use are drawn here: lines, markers,
 * error bars, stacks, bars, maps, contours. A figure with anything else has no picture.
 * @module
 */
import type { Figure } from "../figure.js";
import { gridColour, ink, paper } from "../style.js";
import { drawable, plainWords, type Shape, titleOf } from "../traces.js";
import type { Frame, FrameSizes } from "./frame.js";
import { framesOf } from "./frames.js";
import { legendIndent } from "./legend.js";
import { type Drawn, dashOf } from "./looks.js";
import { colourBar, drawMaps } from "./map.js";
import { drawBars, drawScatter, legendSample } from "./marks.js";
import { type NotePlace, placed } from "./notes.js";
import { box, element, line, nameOf, short, svgDocument, textLines, words } from "./svg.js";
import { lineHeight } from "./text-size.js";

/** How to draw a picture. */
export interface PictureOptions {
  /** Width [px], 680 when absent. */
  readonly width?: number;
  /** Sizes of what may be of any; by the width when absent. */
  readonly sizes?: FrameSizes;
  /** Whether the title stands above the plot; so when absent. */
  readonly withTitle?: boolean;
}

/** The figure as SVG text; undefined where a trace is of a kind that only Plotly draws. */
export function figurePicture(
  figure: Pick<Figure, "data" | "layout"> & { readonly alt?: string },
  { width = 680, withTitle = true, sizes = {} }: PictureOptions = {},
): string | undefined {
  const plain = drawable(figure);
  if (!plain) return undefined;
  // What rounding moves in the last digits does not show, and must not make another picture.
  const sixDigits = (_: string, value: unknown) =>
    typeof value === "number" ? Number(value.toPrecision(6)) : value;
  const id = nameOf(JSON.stringify([plain, width, withTitle, sizes], sixDigits));
  const frames = framesOf(plain, width, withTitle, sizes);
  const pieces = frames.flatMap(({ frame, down, legendDown }, k) => {
    const to: Drawn = { id: `${id}${k || ""}`, definitions: new Set(), clipped: [], free: [] };
    const legend = legendOf(frame, to);
    const body = bodyOf(frame, to);
    return [moved(down, body), moved(legendDown, legend)];
  });
  const title = plainWords(titleOf(plain.layout)) || "Figure";
  const { frame, height } = frames[0]!;
  return svgDocument(
    id,
    [frame.width, height],
    { title, alt: figure.alt ?? title },
    pieces.join(""),
  );
}

function moved(down: number, body: string): string {
  return down === 0 || body === ""
    ? body
    : element("g", { transform: `translate(0 ${short(down)})` }, body);
}

/** All of a plot but its legend. */
function bodyOf(frame: Frame, to: Drawn): string {
  const { plot } = frame;
  const { id } = to;
  drawMaps(frame, to);
  drawBars(frame, to);
  drawScatter(frame, to);
  const { below, above } = shapesOf(frame);
  const clip = element(
    "clipPath",
    { id: `${id}-clip` },
    box(plot.left, plot.top, plot.left + plot.width, plot.top + plot.height),
  );
  return [
    element("defs", {}, clip, ...to.definitions),
    textLines(frame.title, [8, 20], 21, { "font-size": 16 }),
    grid(frame),
    element("g", { "clip-path": `url(#${id}-clip)` }, ...below, ...to.clipped, ...above),
    axes(frame),
    ...to.free,
    colourBar(frame, id),
    ...frame.notes.map(note),
  ].join("");
}

function grid({ figure: { layout }, plot, xLabels, yLabels }: Frame): string {
  const [right, bottom] = [plot.left + plot.width, plot.top + plot.height];
  const upright = layout.xaxis?.showgrid === false ? [] : xLabels;
  const level = layout.yaxis?.showgrid === false ? [] : yLabels;
  return [
    ...upright.map(({ at }) => line(at, plot.top, at, bottom, { stroke: gridColour })),
    ...level.map(({ at }) => line(plot.left, at, right, at, { stroke: gridColour })),
  ].join("");
}

/** The frame of the plot, ticks, labels and titles. */
function axes({ plot, size, xLabels, yLabels, xTitle, yTitle, xTitleAt }: Frame): string {
  const { left, top, width, height } = plot;
  const bottom = top + height;
  const step = lineHeight * size.label;
  const middle = { "text-anchor": "middle", "font-size": size.label };
  const title = { ...middle, "font-size": size.title };
  return [
    box(left, top, left + width, bottom, { fill: "none", stroke: ink }),
    ...xLabels.map(
      ({ at, lines }) =>
        line(at, bottom, at, bottom + 5) +
        textLines(lines, [at, bottom + 8 + size.label], step, middle),
    ),
    ...yLabels.map(({ at, lines }) => {
      const first = at + 0.36 * size.label - (step * (lines.length - 1)) / 2;
      const style = { "text-anchor": "end", "font-size": size.label };
      return line(left - 5, at, left, at) + textLines(lines, [left - 8, first], step, style);
    }),
    textLines(xTitle, [left + width / 2, xTitleAt], lineHeight * size.title, title),
    ...yTitle.map((text, i) => {
      const [x, y] = [6 + size.title + lineHeight * size.title * i, top + height / 2];
      return words(text, x, y, { ...title, transform: `rotate(-90 ${x} ${y})` });
    }),
  ].join("");
}

function legendOf({ legend, legendTitle, legendTop, size }: Frame, to: Drawn): string {
  const style = { "font-size": size.label };
  const heading = legendTitle
    ? words(legendTitle, 8, legendTop + size.label, { ...style, "font-weight": "bold" })
    : "";
  const entries = legend.map(({ trace, index, lines, x, y }) => {
    // Light outlines on a map would not show on paper.
    const colour = trace.line?.color ?? String(trace.marker?.color ?? "");
    const isWhite = /^(#fff(fff)?|white)$/i.test(colour);
    const ground = isWhite ? box(x, y - 1, x + 34, y + 15, { fill: "#4a525c" }) : "";
    const sample = legendSample(trace, index, x, y + 7, to);
    const start = [x + legendIndent, y + size.label] as const;
    return ground + sample + textLines(lines, start, lineHeight * size.label, style);
  });
  return [heading, ...entries].join("");
}

/** Rectangles lie below what the traces draw, lines above it. */
function shapesOf(frame: Frame): { readonly below: string[]; readonly above: string[] } {
  const shapes = frame.figure.layout.shapes ?? [];
  const draw = ({ x0, x1, y0, y1, xref, yref, line: edge, ...shape }: Shape) => {
    const x = (v: number) => placed(v, xref, "x", frame);
    const y = (v: number) => placed(v, yref, "y", frame);
    const ends = [x(x0), y(y0), x(x1), y(y1)] as const;
    const { color: stroke = ink, width = 2, dash } = edge ?? {};
    const style = {
      stroke,
      "stroke-width": width,
      "stroke-dasharray": dashOf(dash, width),
      opacity: shape.opacity,
    };
    return shape.type === "rect"
      ? box(...ends, { ...style, fill: shape.fillcolor ?? "none" })
      : line(...ends, style);
  };
  return {
    below: shapes.filter(({ type }) => type === "rect").map(draw),
    above: shapes.filter(({ type }) => type !== "rect").map(draw),
  };
}

/** Words at a place, on a ground of their own where they ask for one. */
function note({ annotation, lines, size, left, top, width, height }: NotePlace): string {
  const paint = { fill: paper, "fill-opacity": 0.88 };
  const ground = box(left - 1, top, left + width * 0.94 + 2, top + height, paint);
  const style = { "font-size": size, fill: annotation.font?.color ?? ink };
  const step = height / lines.length;
  const text = textLines(lines, [left, top + 0.8 * step], step, style);
  return annotation.bgcolor ? ground + text : text;
}
