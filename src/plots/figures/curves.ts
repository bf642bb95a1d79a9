/**
 * Rise of the chip along one field, one curve a sweep, or a curve for each value of a second field.
 * @module
 */
import type { Sweep } from "../../design/sweeping/sweep-result.js";
import { formatGiven, formatQuantity } from "../../units/format.js";
import type { Figure } from "../figure.js";
import {
  type AxisScale,
  axis,
  colours,
  dashes,
  fieldAxis,
  ink,
  layout,
  limitLine,
  note,
  nth,
  rounded,
  veil,
} from "../style.js";
import { fieldLabel } from "./fields.js";

/** What a curve figure shows beside its curves. */
export interface CurveOptions {
  /** Title over the figure; one of its own words when absent. */
  readonly title?: string;
  /** Highest rise allowed [K]. */
  readonly limit?: number;
  /** Scale of the swept field's axis; linear when absent. */
  readonly scale?: AxisScale;
  /** A value of the field to mark with a dotted line [SI], and what it is. */
  readonly mark?: {
    /** Value of the field [SI]. */
    readonly at: number;
    /** What it is. */
    readonly text: string;
  };
}

/** Curves of a sweep over one field, or over two with the second as the parameter. */
export function curvesFigure(sweep: Sweep, options: CurveOptions = {}): Figure {
  const [along, across] = sweep.axes;
  const x = fieldLabel(along!.field);
  const xs = rounded(along!.values.map((v) => v * x.factor));
  const parameter = across && fieldLabel(across.field);
  const count = across?.values.length ?? 1;
  const curves = Array.from({ length: count }, (_, j) => ({
    name: parameter ? formatGiven(across!.values[j]! * parameter.factor, "") : "",
    ys: rounded(xs.map((_, i) => 1e3 * sweep.rise(i, j))),
  }));
  const { limit, mark, scale = "linear" } = options;
  const highest = Math.max(...curves.flatMap(({ ys }) => ys), limit ? 1e3 * limit : 0);
  const xTitle = x.title;
  const shapes: object[] = [];
  const annotations: object[] = [];
  if (limit !== undefined) {
    const { shape, annotation } = limitLine(1e3 * limit);
    shapes.push(shape);
    annotations.push(annotation);
  }
  if (mark) {
    const at = mark.at * x.factor;
    const line = { color: ink, width: 1.5, dash: "dot" };
    shapes.push({ type: "line", x0: at, x1: at, y0: 0, y1: 1, yref: "paper", line });
    annotations.push(
      note(mark.text, {
        x: scale === "logarithmic" ? Math.log10(at) : at,
        y: 1,
        yref: "paper",
        yanchor: "top",
        xanchor: "left",
        xshift: 4,
      }),
    );
  }
  return {
    data: curves.map(({ name, ys }, j) => ({
      type: "scatter",
      mode: "lines",
      x: xs,
      y: ys,
      name,
      showlegend: count > 1,
      line: { color: nth(colours, j), dash: nth(dashes, j), width: 2.5 },
      hovertemplate: `${xTitle} %{x:.4~g}<br>rise %{y:.3~f} mK<extra>${name}</extra>`,
    })),
    layout: layout(
      options.title ?? `Chip temperature against ${x.title.replace(/ \(.*\)$/, "")}`,
      {
        xaxis: fieldAxis(xTitle, xs, scale),
        yaxis: axis("chip above the stage (mK)", { range: [0, 1.08 * highest] }),
      },
      {
        shapes,
        annotations,
        ...(parameter && {
          legend: { title: { text: parameter.title }, bgcolor: veil },
        }),
      },
    ),
    alt: `Rise of the chip against ${xTitle}: ${curves
      .map(
        ({ name, ys }) =>
          `${name && `${parameter!.title} ${name}: `}from ` +
          `${formatQuantity(ys[0]! / 1e3, "K")} to ${formatQuantity(ys.at(-1)! / 1e3, "K")}`,
      )
      .join("; ")}.`,
  };
}
