/// <reference lib="dom" />
/**
 * A figure in the forms a notebook can show: Plotly's JSON, HTML that draws itself without a
 * network, and a text alternative that stays visible where scripts are taken out.
 * @module
 */
import { createHash } from "node:crypto";
import type { Drawing } from "../../plots/drawing/drawing.js";
import type { Figure } from "../../plots/figure.js";
import { fittedFigure } from "../../plots/picture/fit.js";
import { figurePicture } from "../../plots/picture/picture.js";
import { plainJson, titleOf } from "../../plots/traces.js";
import { escapeHtml } from "../../units/table.js";
import type { MimeBundle } from "../run/notebook.js";
import { titledLayout } from "./figurescript.js";
import { plotlyCompressed } from "./plotly.js";
import { unpackScript, whenReadyScript } from "./unpack.js";

/** A figure for Plotly; `alt` says in words what it shows. */
export interface PlotlyFigure extends Omit<Figure, "alt">, Partial<Pick<Figure, "alt">> {
  /** What a reader can do with it. */
  readonly config?: object;
}

/** MIME type of a figure in Plotly's JSON. */
export const figureType = "application/vnd.plotly.v1+json";
/** MIME type of a drawing: its SVG for a wide and a narrow window, and its words. */
export const drawingType = "application/vnd.coldpath.drawing+json";

export function figureBundle(figure: PlotlyFigure): MimeBundle {
  const { data, layout, frames, ...rest } = plainJson(figure);
  const config = plotConfig(rest);
  const alt = figure.alt ?? (titleOf(layout) || "A figure without a title.");
  const picture = figurePicture({ data, layout, alt });
  return {
    // Under a name of this library: a viewer would take Plotly's own `frames` for an animation.
    [figureType]: { data, layout, config, ...(frames && { coldpathFrames: frames }) },
    "text/html": figureHtml({ ...titled({ data, layout }), config }, alt, picture),
    ...(picture && { "image/svg+xml": picture }),
    "text/plain": alt,
  };
}

/** How Plotly shows any figure: nothing in its toolbar sends a figure away or leads to its maker. */
export function plotConfig({ config }: Pick<PlotlyFigure, "config">): object {
  return { ...config, responsive: true, displaylogo: false, showSendToCloud: false };
}

/** The figure with the places of its picture, and its title above. */
function titled(figure: Pick<PlotlyFigure, "data" | "layout">): typeof figure {
  const { data, layout } = fittedFigure(figure, 680);
  const text = titleOf(figure.layout);
  return { data, layout: text ? titledLayout(layout, text) : layout };
}

export function drawingBundle(drawing: Drawing): MimeBundle {
  const { svg, alt } = drawing;
  return {
    [drawingType]: { ...drawing },
    "text/html": pictureHtml(svg, alt),
    "image/svg+xml": svg,
    "text/plain": alt,
  };
}

/**
 * An SVG as an image element: viewers that take scripts and inline SVG out of a notebook mostly leave
 * images whose data they carry.
 */
function pictureHtml(svg: string, alt: string): string {
  const source = `data:image/svg+xml;base64,${Buffer.from(svg).toString("base64")}`;
  return `<img src="${source}" alt="${escapeHtml(alt)}" style="max-width:100%;height:auto">`;
}

let figuresShown = 0;

/**
 * HTML for Jupyter: the picture and its words, which Plotly replaces where scripts run. The first figure
 * after the kernel's start brings Plotly along, compressed; those after it find it in the window.
 */
function figureHtml(figure: PlotlyFigure, alt: string, picture: string | undefined): string {
  const first = figuresShown++ === 0;
  const digest = createHash("sha256").update(JSON.stringify(figure)).digest("hex").slice(0, 12);
  const id = `coldpath-${digest}-${figuresShown}`;
  const parts = [
    `<div id="${id}" style="background:#fff;color:#222;max-width:680px" role="img" aria-label="${escapeHtml(alt)}">`,
    `${picture ? pictureHtml(picture, alt) : `<p>${escapeHtml(alt)}</p>`}</div>`,
    ...(first ? [`<script>${unpackScript(plotlyCompressed(), "Plotly")}</script>`] : []),
    `<script>${whenReadyScript("Plotly", draw, id, figure)}</script>`,
  ];
  return parts.join("\n");
}

declare const Plotly: { newPlot(...values: unknown[]): Promise<unknown> };

/* v8 ignore start */
/** Draws a figure in place of its picture, in the browser. */
function draw(id: string, figure: PlotlyFigure): void {
  const place = document.getElementById(id);
  if (place === null) return;
  place.replaceChildren();
  void Plotly.newPlot(place, figure.data, { height: 400, ...figure.layout }, figure.config);
}
/* v8 ignore stop */
