/**
 * The look that all figures share: quiet lines, units on every axis, readable in grey print.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { number, roundNumbers } from "./scale.js";

/**
 * Colours of our own. In this order neighbours differ by 15 or more in lightness L* and any two by 7, so
 * that grey print keeps them apart; any two differ by 18 or more in CIELAB also for the colour-blind; each
 * has a contrast of 3 or more to the ground. tests/plots/style.test.ts computes all three.
 */
export const colours = [
  "#2F3288",
  "#269E96",
  "#972222",
  "#A76F2C",
  "#52074F",
  "#0F6A83",
  "#1D1C1C",
] as const;

/** Dashes and fill patterns repeat the distinction that colours make. */
export const dashes = ["solid", "dash", "dot", "dashdot", "longdash", "longdashdot"] as const;
export const patterns = ["", "/", ".", "\\", "x", "-", "|", "+"] as const;

export const fontFamily = "Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif";
/** Ink of axes and text. */
export const ink = "#222222";
/** Text and lines of less weight. */
export const softInk = "#5a646c";
/** Lines that mark a limit. */
export const limitColour = "#C4006A";
/** Marks on a map, dark and light; they stay when the rest turns dark. */
export const onMap = { dark: "#202020", light: "white" } as const;
/** The ground that figures stand on. */
export const paper = "#ffffff";
/** Paper that lets a little through, under a number that stands on lines. */
export const veil = "rgba(255,255,255,0.88)";
export const gridColour = "#e3e3e3";
/** Strokes of the hatchings of a drawing. */
export const hatchInk = "#5c5248";
/** The ground of a bar that is a sum of several elements. */
export const sumColour = "#c9cdd0";
/** Strokes of a fill pattern. */
export const patternInk = "rgba(255,255,255,0.7)";

/** A colour mixed with another, in sRGB. @param share - of the first */
export function mixed(first: string, second: string, share: number): string {
  const parts = [1, 3, 5].map((at) => {
    const [a, b] = [first, second].map((colour) => Number.parseInt(colour.slice(at, at + 2), 16));
    return Math.round(share * a! + (1 - share) * b!);
  });
  return `#${parts.map((part) => part.toString(16).padStart(2, "0")).join("")}`;
}

export function nth<T>(cycle: readonly T[], index: number): T {
  return cycle[index % cycle.length]!;
}

/** An axis with its title and unit. */
export function axis(title: string, more: object = {}): object {
  return {
    title: { text: title, standoff: 12 },
    showline: true,
    mirror: true,
    linecolor: ink,
    ticks: "outside",
    gridcolor: gridColour,
    zeroline: false,
    automargin: true,
    ...more,
  };
}

/** A logarithmic axis with ticks at 1, 2 and 5, at 1 alone over many decades, written out. */
export function logAxis(title: string, low: number, high: number): object {
  const values = roundNumbers(low * 0.999, high * 1.001, high / low > 3e4 ? [1] : [1, 2, 5]);
  return axis(title, {
    type: "log",
    range: [Math.log10(low), Math.log10(high)],
    tickmode: "array",
    tickvals: values,
    ticktext: values.map((value) => number(value, values.at(-1)! >= 1e5)),
  });
}

/** How the values of a figure's axis are spaced. */
export type AxisScale = "linear" | "logarithmic";

/** The axis of a swept field. @throws FieldError for a scale that is none */
export function fieldAxis(title: string, values: readonly number[], scale: AxisScale): object {
  if (scale === "linear") return axis(title);
  if (scale === "logarithmic") return logAxis(title, Math.min(...values), Math.max(...values));
  throw new FieldError("scale", '"linear" or "logarithmic"', scale);
}

/** The layout of a figure: title, size, margins and type, then its axes and what else it has. */
export function layout(title: string, own: object): object {
  return {
    title: { text: title, x: 0, xanchor: "left", xref: "paper", font: { size: 16 } },
    font: { family: fontFamily, size: 13, color: ink },
    paper_bgcolor: paper,
    plot_bgcolor: paper,
    width: 760,
    height: 460,
    margin: { l: 70, r: 30, t: 60, b: 60 },
    legend: { bgcolor: veil },
    hovermode: "closest",
    ...own,
  };
}

/** A label beside a point or line, in paper or data coordinates. */
export function note(text: string, at: object): object {
  return { text, showarrow: false, font: { size: 12, color: ink }, ...at };
}

/** Five digits are more than a screen shows, and a third of the size in a page. */
export function rounded(values: ArrayLike<number>): number[] {
  return Array.from(values, (value) => Number(value.toPrecision(5)));
}
