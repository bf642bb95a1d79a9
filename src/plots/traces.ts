/**
 * What our own figures use of Plotly's traces and layouts: the part that is drawn without it.
 * @module
 */

/** A coordinate: a number or the name of a category; a gap in a line. */
export type Datum = number | string | null;

/** Lengths of error bars. */
export interface ErrorBars {
  readonly array?: readonly number[];
  readonly arrayminus?: readonly number[];
  readonly visible?: boolean;
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
  readonly textfont?: { readonly color?: string; readonly size?: number };
  readonly customdata?: unknown;
  readonly line?: {
    readonly color?: string;
    readonly width?: number;
    readonly dash?: string;
    readonly shape?: string;
  };
  readonly marker?: {
    readonly color?: string | readonly string[];
    readonly symbol?: string;
    readonly size?: number;
    readonly line?: { readonly color?: string; readonly width?: number };
    readonly pattern?: { readonly shape?: string };
  };
  readonly fill?: string;
  readonly fillcolor?: string;
  readonly fillpattern?: { readonly shape?: string };
  readonly stackgroup?: string;
  readonly error_x?: ErrorBars;
  readonly error_y?: ErrorBars;
  readonly showlegend?: boolean;
  readonly cliponaxis?: boolean;
  readonly xaxis?: string;
  readonly yaxis?: string;
  readonly opacity?: number;
  readonly zsmooth?: string | boolean;
  readonly zmin?: number;
  readonly zmax?: number;
  readonly reversescale?: boolean;
  readonly showscale?: boolean;
  readonly colorscale?: string | readonly (readonly [number, string])[];
  readonly colorbar?: {
    readonly title?: { readonly text?: string };
    readonly tickvals?: readonly number[];
    readonly ticktext?: readonly string[];
  };
  readonly contours?: {
    readonly start?: number;
    readonly end?: number;
    readonly size?: number;
    readonly showlabels?: boolean;
    readonly coloring?: string;
  };
  readonly visible?: boolean | string;
}

/** One axis. */
export interface AxisLayout {
  readonly title?: { readonly text?: string };
  readonly type?: string;
  readonly range?: readonly [number, number];
  readonly autorange?: boolean | string;
  readonly tickvals?: readonly number[];
  readonly ticktext?: readonly string[];
  readonly categoryarray?: readonly string[];
  readonly showgrid?: boolean;
  readonly scaleanchor?: string;
  readonly rangemode?: string;
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
  readonly line?: { readonly color?: string; readonly width?: number; readonly dash?: string };
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
  readonly font?: { readonly color?: string; readonly size?: number };
}

/** A layout. */
export interface FigureLayout {
  readonly title?: string | { readonly text?: string };
  readonly height?: number;
  readonly barmode?: string;
  readonly xaxis?: AxisLayout;
  readonly yaxis?: AxisLayout;
  readonly shapes?: readonly Shape[];
  readonly annotations?: readonly Annotation[];
  readonly showlegend?: boolean;
  readonly legend?: { readonly title?: { readonly text?: string }; readonly traceorder?: string };
}

/** A figure whose every trace is of a kind that is drawn here. */
export interface DrawableFigure {
  readonly data: readonly Trace[];
  readonly layout: FigureLayout;
}

const kinds = ["scatter", "scattergl", "bar", "heatmap", "contour"];

/** Plain JSON: typed arrays become lists, and numbers that JSON lacks become gaps. */
export function plainJson<T>(value: T): T {
  const lists = (_key: string, part: unknown) =>
    ArrayBuffer.isView(part) && !(part instanceof DataView)
      ? Array.from(part as Float64Array)
      : part;
  return JSON.parse(JSON.stringify(value, lists)) as T;
}

/** The figure as plain lists, or undefined where a trace is of another kind or on a second axis. */
export function drawable(figure: {
  readonly data: readonly object[];
  readonly layout: object;
}): DrawableFigure | undefined {
  const { data, layout } = plainJson({
    data: figure.data,
    layout: figure.layout,
  }) as DrawableFigure;
  const drawn = data.filter(({ visible }) => visible !== false && visible !== "legendonly");
  const fits = drawn.every(
    ({ type = "scatter", xaxis = "x", yaxis = "y" }) =>
      kinds.includes(type) && xaxis === "x" && yaxis === "y",
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
