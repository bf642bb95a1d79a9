/**
 * What our own figures use of Plotly's traces and layouts: the part that is drawn without it.
 * @module
 */
import type { Figure } from "./figure.js";

/** A coordinate: a number or the name of a category; a gap in a line. */
export type Datum = number | string | null;

interface ErrorBars {
  readonly array?: readonly number[];
  readonly arrayminus?: readonly number[];
  readonly visible?: boolean;
}

interface Line {
  readonly color?: string;
  readonly width?: number;
  readonly dash?: string;
  readonly shape?: string;
}

interface Font {
  readonly color?: string;
  readonly size?: number;
}

interface Title {
  readonly text?: string;
}

interface Pattern {
  readonly shape?: string;
}

/** A line, a bar or a map. */
export interface Trace {
  readonly type?: string;
  readonly name?: string;
  readonly mode?: string;
  readonly orientation?: "h" | "v";
  readonly x?: readonly Datum[];
  readonly y?: readonly Datum[];
  readonly z?: readonly (readonly (number | null)[])[];
  readonly base?: readonly number[] | number;
  readonly text?: readonly string[] | string;
  readonly textposition?: string;
  readonly textfont?: Font;
  readonly customdata?: unknown;
  readonly line?: Line;
  readonly marker?: {
    readonly color?: string | readonly string[];
    readonly symbol?: string;
    readonly size?: number;
    readonly line?: Line;
    readonly pattern?: Pattern;
  };
  readonly fillcolor?: string;
  readonly fillpattern?: Pattern;
  readonly stackgroup?: string;
  readonly error_x?: ErrorBars;
  readonly error_y?: ErrorBars;
  readonly showlegend?: boolean;
  readonly cliponaxis?: boolean;
  readonly zsmooth?: string | boolean;
  readonly zmin?: number;
  readonly zmax?: number;
  readonly reversescale?: boolean;
  readonly showscale?: boolean;
  readonly colorscale?: string | readonly (readonly [number, string])[];
  readonly colorbar?: Pick<AxisLayout, "title" | "tickvals" | "ticktext">;
  readonly contours?: {
    readonly start?: number;
    readonly end?: number;
    readonly size?: number;
    readonly showlabels?: boolean;
  };
  readonly visible?: boolean | string;
}

/** One axis. */
export interface AxisLayout {
  readonly title?: Title;
  readonly type?: string;
  readonly range?: readonly [number, number];
  readonly autorange?: boolean | string;
  readonly tickvals?: readonly number[];
  readonly ticktext?: readonly string[];
  readonly categoryarray?: readonly string[];
  readonly showgrid?: boolean;
  readonly scaleanchor?: string;
}

/** A line or rectangle that is no data. */
export interface Shape {
  readonly type?: string;
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
  readonly xref?: string;
  readonly yref?: string;
  readonly line?: Line;
  readonly fillcolor?: string;
  readonly opacity?: number;
}

/** Words at a place. */
export interface Annotation {
  readonly text?: string;
  readonly x: number | string;
  readonly y: number | string;
  readonly xref?: string;
  readonly yref?: string;
  readonly xanchor?: string;
  readonly yanchor?: string;
  readonly xshift?: number;
  readonly yshift?: number;
  readonly bgcolor?: string;
  readonly font?: Font;
}

/** A layout. */
export interface FigureLayout {
  readonly title?: string | Title;
  readonly height?: number;
  readonly barmode?: string;
  readonly xaxis?: AxisLayout;
  readonly yaxis?: AxisLayout;
  readonly shapes?: readonly Shape[];
  readonly annotations?: readonly Annotation[];
  readonly showlegend?: boolean;
  readonly legend?: { readonly title?: Title; readonly traceorder?: string };
}

/** A figure whose every trace is of a kind that is drawn here. */
export interface DrawableFigure {
  readonly data: readonly Trace[];
  readonly layout: FigureLayout;
}

/** Plain JSON: typed arrays become lists, and numbers that JSON lacks become gaps. */
export function plainJson<T>(value: T): T {
  const lists = (_key: string, part: unknown) =>
    ArrayBuffer.isView(part) && !(part instanceof DataView)
      ? Array.from(part as Float64Array)
      : part;
  return JSON.parse(JSON.stringify(value, lists)) as T;
}

/** What is drawn of a trace here; Plotly alone draws others, and those with a key of `plotlys`. */
const kinds = ["scatter", "bar", "heatmap", "contour"];
const plotlys = ["fill", "error_x", "xaxis", "yaxis"];

/** The figure as plain lists, or undefined where a trace is one that only Plotly draws. */
export function drawable(figure: Pick<Figure, "data" | "layout">): DrawableFigure | undefined {
  const { data, layout } = plainJson({
    data: figure.data,
    layout: figure.layout,
  } as DrawableFigure);
  const drawn = data.filter(({ visible }) => visible !== false && visible !== "legendonly");
  const fits = drawn.every(
    (trace) =>
      kinds.includes(trace.type ?? "scatter") &&
      !plotlys.some((key) => key in trace) &&
      (trace.line?.shape ?? "linear") === "linear" &&
      !(trace.type === "bar" && trace.error_y),
  );
  return fits ? { data: drawn, layout } : undefined;
}

/** Plotly's small HTML in a text: breaks become line ends, other tags are left out. */
export function plainWords(text: string): string {
  return text
    .replace(/<br\s*\/?>/gi, "\n")
    .replace(/<\/?(b|i|em|strong|sub|sup|span|a)\b[^>]*>/gi, "")
    .replace(/&lt;/g, "<")
    .replace(/&gt;/g, ">")
    .replace(/&nbsp;/g, " ")
    .replace(/&amp;/g, "&");
}

/** The title's words. */
export function titleOf({ title }: FigureLayout): string {
  return (typeof title === "string" ? title : title?.text) ?? "";
}
