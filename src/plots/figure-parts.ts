/**
 * Parts that several figures share: curves, bars, lines at limits, rows of names, axes of the die.
 * @module
 */
import {
  axis,
  colours,
  dashes,
  ink,
  limitColour,
  note,
  nth,
  patternInk,
  patterns,
  rounded,
  veil,
} from "./style.js";

/** Shapes and notes of a layout. */
export interface Marks {
  readonly shapes: readonly object[];
  readonly annotations: readonly object[];
}

/** Markers in an order in which neighbours differ. */
export const symbols = [
  "circle",
  "square",
  "diamond",
  "triangle-up",
  "x",
  "star",
  "cross",
  "hexagon",
];

/** Line of one curve among several. */
export function lineLook(i: number): object {
  return { color: nth(colours, i), dash: nth(dashes, i), width: 2.5 };
}

/**
 * Curves, each with a colour and dash of its own; named in the legend when there are several.
 * @param hover - what is shown of a point; the curve's name stands beside it
 */
export function curveTraces(
  curves: readonly {
    readonly name: string;
    readonly x: readonly number[];
    readonly y: readonly (number | null)[];
  }[],
  hover: string,
): object[] {
  return curves.map(({ name, x, y }, i) => ({
    type: "scatter",
    mode: "lines",
    name,
    x,
    y,
    showlegend: curves.length > 1,
    line: lineLook(i),
    hovertemplate: `${hover}<extra>${name}</extra>`,
  }));
}

/** Hatching over a bar, which grey print shows too. */
export function hatching(i: number): object {
  return { shape: nth(patterns, i), fillmode: "overlay", fgcolor: patternInk };
}

/** Look of one part of stacked bars. */
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

/** A number beside the end of a bar, on a ground so that no line runs through it. */
export function barEnd(
  text: string,
  x: number,
  y: string,
  side: "left" | "right" = "right",
): object {
  const [xanchor, xshift] = side === "right" ? ["left", 4] : ["right", -4];
  return note(text, { x, y, xanchor, xshift, bgcolor: veil });
}

/** The two axes of a map of the die, at equal scales. */
export function dieAxes(x: object, y: object): object {
  const map = { constrain: "domain", showgrid: false };
  return {
    xaxis: axis("across the die (mm)", { ...x, ...map }),
    yaxis: axis("up the die (mm)", { ...y, scaleanchor: "x", ...map }),
  };
}

/** An upright line over the whole height. */
export function uprightLine(at: number, color: string, dash: string, width: number): object {
  return {
    type: "line",
    x0: at,
    x1: at,
    y0: 0,
    y1: 1,
    yref: "paper",
    line: { color, width, dash },
  };
}

/** A note in the colour of a limit. */
export function limitNote(text: string, at: object): object {
  return note(text, { ...at, font: { size: 12, color: limitColour } });
}

/**
 * An upright line at a limit with its name beside the top; nothing where there is no limit.
 * @param place - of the name, where it stands elsewhere
 */
export function uprightLimit(
  at: number | undefined,
  {
    logarithmic = false,
    place = {},
  }: { readonly logarithmic?: boolean; readonly place?: object } = {},
): Marks {
  if (at === undefined) return { shapes: [], annotations: [] };
  const x = logarithmic ? Math.log10(at) : at;
  const beside = { x, y: 1, yref: "paper", xanchor: "left", yanchor: "bottom", ...place };
  return {
    shapes: [uprightLine(at, limitColour, "dash", 2)],
    annotations: [limitNote("limit", beside)],
  };
}

/** A level line at a limit with its name at the right end; nothing where there is no limit. */
export function levelLimit(
  at: number | undefined,
  { text = "limit", logarithmic = false } = {},
): Marks {
  if (at === undefined) return { shapes: [], annotations: [] };
  const y = logarithmic ? Math.log10(at) : at;
  return {
    shapes: [levelLine(at, limitColour, 2)],
    annotations: [limitNote(text, { x: 1, xref: "paper", y, xanchor: "right", yanchor: "bottom" })],
  };
}

/** A dashed level line over the whole width. */
export function levelLine(at: number, color: string, width: number): object {
  const line = { color, width, dash: "dash" };
  return { type: "line", x0: 0, x1: 1, xref: "paper", y0: at, y1: at, line };
}

/** Several marks of one figure. */
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
