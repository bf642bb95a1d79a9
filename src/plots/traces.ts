/**
 * What our own figures use of Plotly's traces and layouts: the part that is drawn without it.
 * @module
 */
import { unescapeHtml } from "../units/table.js";
import type { Figure } from "./figure.js";

/** A coordinate: a number or the name of a category; a gap in a line. */
export type Datum = number | string | null;

/** Keys that hold a text, a number, a list of numbers or a flag where they are there. */
type Texts<Key extends string> = { readonly [key in Key]?: string };
type Numbers<Key extends string> = { readonly [key in Key]?: number };
type Lists<Key extends string> = { readonly [key in Key]?: readonly number[] };
type Flags<Key extends string> = { readonly [key in Key]?: boolean };

type Font = Texts<"color"> & Numbers<"size">;
type Line = Texts<"color" | "dash" | "shape"> & Numbers<"width">;
type ErrorBars = Lists<"array" | "arrayminus"> & Flags<"visible">;

/** A line, a bar or a map. */
export interface Trace
  extends Texts<"type" | "name" | "mode" | "textposition" | "fillcolor" | "stackgroup">,
    Numbers<"zmin" | "zmax">,
    Flags<"showlegend" | "cliponaxis" | "reversescale" | "showscale"> {
  readonly orientation?: "h" | "v";
  readonly x?: readonly Datum[];
  readonly y?: readonly Datum[];
  readonly z?: readonly (readonly (number | null)[])[];
  readonly base?: readonly number[] | number;
  readonly text?: readonly string[] | string;
  readonly textfont?: Font;
  readonly customdata?: unknown;
  readonly line?: Line;
  readonly marker?: Texts<"symbol"> &
    Numbers<"size"> & {
      readonly color?: string | readonly string[];
      readonly line?: Line;
      readonly pattern?: Texts<"shape">;
    };
  readonly fillpattern?: Texts<"shape">;
  readonly error_x?: ErrorBars;
  readonly error_y?: ErrorBars;
  readonly zsmooth?: string | boolean;
  readonly colorscale?: string | readonly (readonly [number, string])[];
  readonly colorbar?: Pick<AxisLayout, "title" | "tickvals" | "ticktext">;
  readonly contours?: Numbers<"start" | "end" | "size"> & Flags<"showlabels">;
  /** `"y2"` in the lower one of two plots. */
  readonly yaxis?: string;
  readonly visible?: boolean | string;
}

export interface AxisLayout extends Texts<"type" | "scaleanchor">, Flags<"showgrid"> {
  readonly title?: Texts<"text">;
  readonly range?: readonly [number, number];
  readonly autorange?: boolean | string;
  readonly tickvals?: readonly number[];
  readonly ticktext?: readonly string[];
  readonly categoryarray?: readonly string[];
}

/** A line or rectangle that is no data. */
export interface Shape
  extends Texts<"type" | "xref" | "yref" | "fillcolor">,
    Numbers<"opacity">,
    Readonly<Record<"x0" | "x1" | "y0" | "y1", number>> {
  readonly line?: Line;
}

/** Words at a place. */
export interface Annotation
  extends Texts<"text" | "name" | "xref" | "yref" | "xanchor" | "yanchor" | "bgcolor">,
    Numbers<"xshift" | "yshift">,
    Readonly<Record<"x" | "y", number | string>> {
  readonly font?: Font;
}

export interface FigureLayout
  extends Texts<"barmode">,
    Numbers<"height">,
    Flags<"showlegend">,
    Readonly<Partial<Record<"xaxis" | "yaxis" | "yaxis2", AxisLayout>>> {
  readonly title?: string | Texts<"text">;
  readonly shapes?: readonly Shape[];
  readonly annotations?: readonly Annotation[];
  readonly legend?: Texts<"traceorder"> & { readonly title?: Texts<"text"> };
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

/** Types of trace that are drawn here, and keys of a trace that only Plotly draws. */
const drawnTypes = ["scatter", "bar", "heatmap", "contour"];
const plotlyKeys = ["fill", "error_x", "xaxis"];

/** The figure as plain lists, or undefined where a trace is one that only Plotly draws. */
export function drawable(figure: Pick<Figure, "data" | "layout">): DrawableFigure | undefined {
  const { data, layout } = plainJson({
    data: figure.data,
    layout: figure.layout,
  } as DrawableFigure);
  const drawn = data.filter(({ visible }) => visible !== false && visible !== "legendonly");
  const fits = drawn.every(
    (trace) =>
      drawnTypes.includes(trace.type ?? "scatter") &&
      !plotlyKeys.some((key) => key in trace) &&
      (trace.yaxis === undefined || (trace.yaxis === "y2" && layout.yaxis2 !== undefined)) &&
      (trace.line?.shape ?? "linear") === "linear" &&
      !(trace.type === "bar" && trace.error_y),
  );
  return fits ? { data: drawn, layout } : undefined;
}

/** Plotly's small HTML in a text: breaks become line ends, other tags are left out. */
export function plainWords(text: string): string {
  const lines = text.replace(/<br\s*\/?>/gi, "\n");
  return unescapeHtml(lines.replace(/<\/?(b|i|em|strong|sub|sup|span|a)\b[^>]*>/gi, ""));
}

export function titleOf({ title }: FigureLayout): string {
  return (typeof title === "string" ? title : title?.text) ?? "";
}
