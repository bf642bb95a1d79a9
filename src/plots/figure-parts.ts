/**
 * Parts that several figures share: curves, bars, lines at limits, rows of names, axes of the die.
 * @module
 */
import { directLabels, type LabelledAxis, type LabelledCurve } from "./direct-labels.js";
import { type ElementKind, elementLooks } from "./elements.js";
import type { Figure } from "./figure.js";
import {
  axis,
  colours,
  dashes,
  ink,
  layout,
  limitColour,
  logAxis,
  note,
  nth,
  patternInk,
  patterns,
  rounded,
  veil,
} from "./style.js";
import type { Shape } from "./traces.js";

/** Shapes and notes of a layout. */
export interface Marks {
  readonly shapes: readonly object[];
  readonly annotations: readonly object[];
}

const none: Marks = { shapes: [], annotations: [] };

/** Hatching over a bar, which grey print shows too. */
export function hatching(i: number): object {
  return { shape: nth(patterns, i), fillmode: "overlay", fgcolor: patternInk };
}

/** Look of a bar that stands for an element, also where there are several traces of one name. */
export function elementBar(kind: ElementKind): object {
  const { colour, pattern } = elementLooks[kind];
  const hatched = pattern && {
    pattern: { shape: pattern, fillmode: "overlay", fgcolor: patternInk, size: 7 },
  };
  return { color: colour, ...hatched, line: { color: ink, width: 0.8 } };
}

export function stackLook(i: number): object {
  return {
    color: nth(colours, i),
    pattern: { ...hatching(i), size: 7 },
    line: { color: ink, width: 0.8 },
  };
}

/**
 * An axis whose rows have names, the first on top.
 * @param names - their order, where several traces have some of them
 */
export function rowAxis(title: string, names?: readonly string[], more: object = {}): object {
  const order = names && { categoryorder: "array", categoryarray: names };
  return axis(title, { autorange: "reversed", showgrid: false, ...order, ...more });
}

/** Lying bars in rows of these names; `more` is their look and the like. */
export function lyingBars(rows: readonly string[], lengths: readonly number[], more: object) {
  return { type: "bar", orientation: "h", y: rows, x: rounded(lengths), ...more };
}

/** The same for what elements of a kind drop [mK]. */
export function dropBars(kind: ElementKind, rows: readonly string[], drops: readonly number[]) {
  const name = elementLooks[kind].label;
  const hovertemplate = `%{y}<br>${name} %{x:.3~f} mK<extra></extra>`;
  return lyingBars(rows, drops, { name, marker: elementBar(kind), hovertemplate });
}

/** A number beside the end of a bar, on a ground so that no line runs through it. */
export function barEnd(text: string, x: number, y: string, side: "left" | "right" = "right") {
  const [xanchor, xshift] = side === "right" ? ["left", 4] : ["right", -4];
  return note(text, { x, y, xanchor, xshift, bgcolor: veil });
}

/** How the note in a bar's middle is named: by the bar's length, so that it is left out where it does not fit. */
export function inBar(length: number): string {
  return `in bar ${length}`;
}

/** The two axes of a map of the die, at equal scales. */
export function dieAxes(x: object, y: object): object {
  const map = { constrain: "domain", showgrid: false };
  return {
    xaxis: axis("x (mm)", { ...x, ...map }),
    yaxis: axis("y (mm)", { ...y, scaleanchor: "x", ...map }),
  };
}

/** A straight line across the whole plot at a value of its x or its y axis. */
export function lineAt(
  axis: "x" | "y",
  at: number,
  line: { readonly color: string; readonly width: number; readonly dash: string },
): object {
  return axis === "x"
    ? { type: "line", x0: at, x1: at, y0: 0, y1: 1, yref: "paper", line }
    : { type: "line", x0: 0, x1: 1, xref: "paper", y0: at, y1: at, line };
}

export function limitNote(text: string, at: object): object {
  return note(text, { ...at, font: { size: 12, color: limitColour } });
}

/**
 * A dashed line at a limit, its name beside the top or at the right end; nothing where there is no limit.
 * @param place - of the name, where it stands elsewhere
 */
export function limitAt(
  axis: "x" | "y",
  at: number | undefined,
  { text = "limit", isLogarithmic = false, place = {} } = {},
): Marks {
  if (at === undefined) return none;
  const value = isLogarithmic ? Math.log10(at) : at;
  const beside =
    axis === "x"
      ? { x: value, y: 1, yref: "paper", xanchor: "left", yanchor: "bottom" }
      : { x: 1, xref: "paper", y: value, xanchor: "right", yanchor: "bottom" };
  return {
    shapes: [lineAt(axis, at, { color: limitColour, width: 2, dash: "dash" })],
    annotations: [limitNote(text, { ...beside, ...place })],
  };
}

/** A limit [K] as the millikelvin of an axis that begins at another temperature [K]. */
export function limitAbove(limit: number | undefined, start = 0): number | undefined {
  return limit === undefined ? undefined : 1e3 * (limit - start);
}

/** An axis of curves, with the ends that it is drawn between. */
interface CurveAxis extends LabelledAxis {
  readonly shown: object;
}

export function linear(title: string, low: number, high: number): CurveAxis {
  return { low, high, shown: axis(title, { range: [low, high] }) };
}

export function logarithmic(title: string, low: number, high: number): CurveAxis {
  return { low, high, isLogarithmic: true, shown: logAxis(title, low, high) };
}

/** A figure of curves, their names beside them or, where these do not fit, in the legend. */
export function curvesPlot(plot: {
  readonly title: string;
  readonly curves: readonly LabelledCurve[];
  /** What is shown of a point; the curve's name stands beside it. */
  readonly hover: string;
  readonly x: CurveAxis;
  readonly y: CurveAxis;
  /** Lines that names keep off. */
  readonly limits?: Marks;
  readonly marks?: readonly Marks[];
  /** Keys of the layout in place of the usual ones. */
  readonly more?: object | undefined;
  readonly alt: string;
}): Figure {
  const { title, alt, curves, hover, x, y, limits = none, marks = [], more } = plot;
  const level = (limits.shapes as readonly Shape[]).filter(({ xref }) => xref === "paper");
  const lines = level.map(({ y0 }) => y0);
  const labels = curves.length > 1 ? directLabels(curves, x, y, lines) : undefined;
  const data = curves.map(({ name, x, y }, i) => ({
    type: "scatter",
    mode: "lines",
    name,
    x,
    y,
    showlegend: curves.length > 1 && labels === undefined,
    line: { color: nth(colours, i), dash: nth(dashes, i), width: 2.5 },
    hovertemplate: `${hover}<extra>${name}</extra>`,
  }));
  const drawn = together(limits, { shapes: [], annotations: labels ?? [] }, ...marks);
  return {
    data,
    layout: layout(title, { xaxis: x.shown, yaxis: y.shown, ...drawn, ...more }),
    alt,
  };
}

export function together(...marks: readonly Marks[]): Marks {
  return {
    shapes: marks.flatMap(({ shapes }) => shapes),
    annotations: marks.flatMap(({ annotations }) => annotations),
  };
}

/** Kelvin as the millikelvin of an axis. */
export function millikelvin(temperatures: ArrayLike<number>): number[] {
  return rounded(Array.from(temperatures, (T) => 1e3 * T));
}

/** Several things in words, one after the other. */
export function listed<T>(things: readonly T[], words: (thing: T, i: number) => string): string {
  return things.map(words).join("; ");
}

/** The unit of an axis, by its name and its size in SI, for times up to this one [s]. */
export function unitOfTime(time: number) {
  if (time < 1e-4) return { name: "µs", size: 1e-6 };
  if (time < 0.5) return { name: "ms", size: 1e-3 };
  if (time < 1000) return { name: "s", size: 1 };
  return { name: "h", size: 3600 };
}

/** The same for powers up to this one [W]. */
export function unitOfPower(power: number) {
  if (power < 1e-9) return { name: "pW", size: 1e-12 };
  if (power < 1e-6) return { name: "nW", size: 1e-9 };
  return power < 1e-3 ? { name: "µW", size: 1e-6 } : { name: "mW", size: 1e-3 };
}
