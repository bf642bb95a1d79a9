/**
 * The look that all figures share: quiet lines, units on every axis, readable in grey print.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { number, roundNumbers } from "./scale.js";

/**
 * Colours of our own. In this order neighbours differ by 15 or more in lightness L* and any two by 7, so
 * that grey print keeps them apart; and any two differ by 18 or more in CIELAB also for the colour-blind.
 * tests/plots/style.test.ts computes both.
 */
export const colours = [
  "#344E9B",
  "#F88E18",
  "#608072",
  "#512E5B",
  "#0B98E2",
  "#BE2F2D",
  "#1B1B1B",
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
export const limitColour = "#B00020";
/** Marks on a map, dark and light; they stay when the rest turns dark. */
export const onMap = { dark: "#202020", light: "white" } as const;
/** The ground that figures stand on. */
export const paper = "#ffffff";
/** Paper that lets a little through, under a number that stands on lines. */
export const veil = "rgba(255,255,255,0.88)";
/** Lines of an axis' grid. */
export const gridColour = "#e3e3e3";
/** Grounds of the parts of a drawing, and the strokes of their hatchings. */
export const tints = {
  plate: "#d5dde8",
  gold: "#e9b949",
  clamp: "#8d99a8",
  glue: "#9fc5b1",
  metal: "#e6c3a5",
  bolt: "#6b7480",
  stage: "#f2f0ea",
  hatch: "#5c5248",
} as const;
/** Strokes of a fill pattern. */
export const patternInk = "rgba(0,0,0,0.55)";

/**
 * What each colour becomes on a dark ground. Colours on a map, and those not named here, stay.
 */
export const darkColours: Readonly<Record<string, string>> = {
  [colours[0]]: "#9285DB",
  [colours[1]]: "#EFD122",
  [colours[2]]: "#4EC594",
  [colours[3]]: "#A75787",
  [colours[4]]: "#A0C5EB",
  [colours[5]]: "#EB793D",
  [colours[6]]: "#F2F2F2",
  [ink]: "#dfe3e6",
  [softInk]: "#9aa5ad",
  [limitColour]: "#FF8A8A",
  [paper]: "#171c20",
  [veil]: "rgba(23,28,32,0.88)",
  [gridColour]: "#323a41",
  [tints.plate]: "#34475c",
  [tints.gold]: "#b88914",
  [tints.clamp]: "#727f8e",
  [tints.glue]: "#3f6f59",
  [tints.metal]: "#6d4c33",
  [tints.bolt]: "#98a3ae",
  [tints.stage]: "#2a2f33",
  [tints.hatch]: "#b3a698",
};

/**
 * A figure's JSON in the colours of a dark ground.
 * A page sends this function to the browser as its source, with the colours.
 */
export function inDark<T>(part: T, dark = darkColours): T {
  if (typeof part === "string") return (dark[part] ?? part) as T;
  if (Array.isArray(part)) return part.map((each) => inDark(each, dark)) as T;
  if (typeof part !== "object" || part === null || ArrayBuffer.isView(part)) return part;
  const entries = Object.entries(part).map(([key, value]) => [key, inDark(value, dark)]);
  return Object.fromEntries(entries) as T;
}

/** An entry of a cycle. */
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

/**
 * Colours of a map, dark to light: lightness rises steadily, so grey print keeps the order, and the hue
 * runs from blue to yellow, which the common kinds of colour blindness tell apart.
 * Source: J. R. Nuñez, C. R. Anderton and R. S. Renslow, PLoS ONE 13, e0199239 (2018), the map cividis,
 * at 18 even steps.
 */
export const mapColours: readonly (readonly [at: number, colour: string])[] = (
  "0,32,76 0,42,102 0,52,110 39,63,108 60,74,107 76,85,107 91,95,109 104,106,112 117,117,117 " +
  "131,129,120 146,140,120 161,152,118 176,165,114 192,177,109 209,191,102 225,204,92 243,219,79 255,233,69"
)
  .split(" ")
  .map((rgb, i, all) => [Number((i / (all.length - 1)).toFixed(6)), `rgb(${rgb})`]);
