/**
 * A figure in the forms a notebook can show: Plotly's JSON, HTML that draws itself without a
 * network, and a text alternative that stays visible where scripts are taken out.
 * @module
 */
import { createHash } from "node:crypto";
import type { Drawing } from "../../plots/drawing/drawing.js";
import { fittedFigure } from "../../plots/picture/fit.js";
import { figurePicture } from "../../plots/picture/picture.js";
import { plainJson, titleOf } from "../../plots/traces.js";
import type { MimeBundle } from "../run/notebook.js";
import { escapeHtml, scriptJson } from "./escape.js";
import { plotlyCompressed } from "./plotly.js";

/** A figure for Plotly; `alt` says in words what it shows. */
export interface PlotlyFigure {
  /** Traces. */
  readonly data: readonly object[];
  /** Axes, titles and marks. */
  readonly layout: object;
  /** What a reader can do with it. */
  readonly config?: object;
  /** What it shows, in words, for those who do not see it. */
  readonly alt?: string;
}

/** MIME type of a figure in Plotly's JSON. */
export const figureType = "application/vnd.plotly.v1+json";
/** MIME type of a drawing: its SVG for a wide and a narrow window, and its words. */
export const drawingType = "application/vnd.coldpath.drawing+json";

/** The figure in all its forms. */
export function figureBundle(figure: PlotlyFigure): MimeBundle {
  const { data, layout, config } = plainJson(figure);
  const alt = figure.alt ?? (titleOf(layout) || "A figure without a title.");
  const picture = figurePicture({ data, layout, alt });
  return {
    [figureType]: { data, layout, config: { displaylogo: false, responsive: true, ...config } },
    "text/html": figureHtml({ ...titled({ data, layout }), config: config ?? {} }, alt, picture),
    ...(picture && { "image/svg+xml": picture }),
    "text/plain": alt,
  };
}

/** The figure with the places of its picture, and its title above. */
function titled(
  figure: Pick<PlotlyFigure, "data" | "layout">,
): Pick<PlotlyFigure, "data" | "layout"> {
  const { data, layout } = fittedFigure(figure, 680);
  const fitted = layout as { readonly height?: number; readonly margin: { readonly t: number } };
  const text = titleOf(figure.layout);
  if (!text) return { data, layout };
  const room = 26;
  return {
    data,
    layout: {
      ...fitted,
      ...(fitted.height !== undefined && { height: fitted.height + room }),
      margin: { ...fitted.margin, t: fitted.margin.t + room },
      title: {
        text,
        x: 0,
        xref: "container",
        xanchor: "left",
        y: 1,
        yref: "container",
        yanchor: "top",
        pad: { t: 8, l: 8 },
        font: { size: 16 },
      },
    },
  };
}

/** A drawing in all its forms. */
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
    ...(first ? [`<script>(${unpack.toString()})("${plotlyCompressed()}")</script>`] : []),
    `<script>(${drawWhenReady.toString()})("${id}",${scriptJson(figure)})</script>`,
  ];
  return parts.join("\n");
}

// The two functions below run in the browser; they are sent as their source and use nothing outside.

interface BrowserWindow {
  coldpathPlotly?: Promise<void>;
  Plotly?: { newPlot(...values: unknown[]): Promise<unknown> };
  document: {
    createElement(name: string): { text: string };
    head: { append(element: object): void };
    getElementById(id: string): { replaceChildren(): void } | null;
  };
  Blob: new (parts: unknown[]) => { stream(): { pipeThrough(through: unknown): unknown } };
  DecompressionStream: new (format: string) => unknown;
  Response: new (body: unknown) => { text(): Promise<string> };
  atob(text: string): string;
  setTimeout(call: () => void, delay: number): void;
}

/* v8 ignore start */
function unpack(compressed: string): void {
  const page = globalThis as unknown as BrowserWindow;
  if (page.Plotly !== undefined) return;
  const bytes = Uint8Array.from(page.atob(compressed), (character) => character.charCodeAt(0));
  const source = new page.Blob([bytes]).stream().pipeThrough(new page.DecompressionStream("gzip"));
  page.coldpathPlotly = new page.Response(source).text().then((text) => {
    const script = page.document.createElement("script");
    script.text = text;
    page.document.head.append(script);
  });
}

function drawWhenReady(id: string, figure: PlotlyFigure): void {
  const page = globalThis as unknown as BrowserWindow;
  const draw = (): void => {
    const place = page.document.getElementById(id);
    if (place === null || page.Plotly === undefined) return;
    place.replaceChildren();
    const config = { displaylogo: false, responsive: true, ...figure.config };
    void page.Plotly.newPlot(place, figure.data, { height: 400, ...figure.layout }, config);
  };
  // The place of an output can enter the page after its script has run.
  page.setTimeout(() => {
    if (page.Plotly !== undefined) draw();
    else page.coldpathPlotly?.then(draw);
  }, 0);
}
/* v8 ignore stop */
