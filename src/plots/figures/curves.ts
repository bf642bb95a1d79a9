/**
 * Rise of the chip along one field, one curve a sweep, or a curve for each value of a second field.
 * @module
 */
import type { Sweep } from "../../design/sweeping/sweep-result.js";
import { formatGiven, formatQuantity } from "../../units/format.js";
import type { Figure } from "../figure.js";
import { curvesPlot, limitAbove, limitAt, linear, listed } from "../figure-parts.js";
import { fieldAxis, rounded, veil } from "../style.js";
import { type AlongOptions, type FieldMark, fieldAlong, fieldLabel, markLine } from "./fields.js";

/** What a curve figure shows beside its curves. */
export interface CurveOptions extends AlongOptions {
  /** A value of the field to mark. */
  readonly mark?: FieldMark;
  /** A value of the field that another one does not let it pass. */
  readonly end?: FieldMark;
}

/** Curves of a sweep over one field, or over two with the second as the parameter. */
export function curvesFigure(sweep: Sweep, options: CurveOptions = {}): Figure {
  const [along, across] = sweep.axes;
  const x = fieldAlong(along!);
  const parameter = across && fieldLabel(across.field);
  const curves = Array.from(across?.values ?? [0], (value, j) => ({
    name: parameter ? `${formatGiven(value * parameter.factor, "")} ${parameter.unit}`.trim() : "",
    // One of them says of what the others are values.
    ...(parameter &&
      j === 0 && {
        label:
          `${parameter.name} ${formatGiven(value * parameter.factor, "")} ${parameter.unit}`.trim(),
      }),
    x: x.values,
    y: rounded(x.values.map((_, i) => 1e3 * sweep.rise(i, j))),
  }));
  const { scale = "linear" } = options;
  const marks = [options.mark, options.end].flatMap((mark) => mark ?? []);
  const limit = limitAbove(options.limit);
  const highest = Math.max(...curves.flatMap(({ y }) => y), limit ?? 0);
  return curvesPlot({
    title: options.title ?? `Chip temperature against ${x.name}`,
    curves,
    hover: `${x.title} %{x:.4~g}<br>rise %{y:.3~f} mK`,
    x: {
      low: Math.min(...x.values),
      high: Math.max(...x.values),
      isLogarithmic: scale === "logarithmic",
      shown: fieldAxis(x.title, x.values, scale),
    },
    y: linear("chip above the stage (mK)", 0, 1.08 * highest),
    limits: limitAt("y", limit),
    marks: marks.map(({ at, text }) => markLine(at * x.factor, text, scale)),
    more: parameter && { legend: { title: { text: parameter.title }, bgcolor: veil } },
    alt: `Rise of the chip against ${x.title}: ${listed(
      curves,
      ({ name, y }) =>
        `${name && `${parameter!.name} ${name}: `}from ` +
        `${formatQuantity(y[0]! / 1e3, "K")} to ${formatQuantity(y.at(-1)! / 1e3, "K")}`,
    )}.${options.end ? ` At ${formatGiven(options.end.at * x.factor, "")}: ${options.end.text}.` : ""}`,
  });
}
