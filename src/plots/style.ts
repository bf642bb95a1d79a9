/**
 * The look that all figures share: quiet lines, units on every axis, readable in grey print.
 * @module
 */

/**
 * Colours that stay apart for the common kinds of colour blindness and, in this order, in grey print.
 * Source: M. Okabe and K. Ito, Color Universal Design (2008), the palette without black and yellow.
 */
export const colours = [
  "#0072B2",
  "#E69F00",
  "#009E73",
  "#D55E00",
  "#56B4E9",
  "#CC79A7",
  "#1B1B1B",
] as const;

/** Dashes and fill patterns repeat the distinction that colours make. */
export const dashes = ["solid", "dash", "dot", "dashdot", "longdash", "longdashdot"] as const;
export const patterns = ["", "/", ".", "\\", "x", "-", "|", "+"] as const;

/** Ink of axes and text. */
export const ink = "#222222";
/** Lines that mark a limit. */
export const limitColour = "#B00020";

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
    gridcolor: "#e3e3e3",
    zeroline: false,
    automargin: true,
    ...more,
  };
}

/** Ticks of a logarithmic axis at 1, 2 and 5, written out. */
export function logAxis(title: string, low: number, high: number, more: object = {}): object {
  const values: number[] = [];
  for (let e = Math.floor(Math.log10(low)); e <= Math.ceil(Math.log10(high)); e++) {
    for (const m of [1, 2, 5]) {
      const value = m * 10 ** e;
      if (value >= low * 0.999 && value <= high * 1.001) values.push(value);
    }
  }
  return axis(title, {
    type: "log",
    range: [Math.log10(low), Math.log10(high)],
    tickmode: "array",
    tickvals: values,
    ticktext: values.map((v) => String(Number(v.toPrecision(3)))),
    ...more,
  });
}

/** The layout of a figure: title, size, margins, type. */
export function layout(title: string, axes: object, more: object = {}): object {
  return {
    title: { text: title, x: 0, xanchor: "left", xref: "paper", font: { size: 16 } },
    font: { family: "Helvetica, Arial, sans-serif", size: 13, color: ink },
    paper_bgcolor: "white",
    plot_bgcolor: "white",
    width: 760,
    height: 460,
    margin: { l: 70, r: 30, t: 60, b: 60 },
    legend: { bgcolor: "rgba(255,255,255,0.85)" },
    hovermode: "closest",
    ...axes,
    ...more,
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

/** A horizontal line at a limit, with its name at the right end. */
export function limitLine(at: number): { readonly shape: object; readonly annotation: object } {
  return {
    shape: {
      type: "line",
      x0: 0,
      x1: 1,
      xref: "paper",
      y0: at,
      y1: at,
      line: { color: limitColour, width: 2, dash: "dash" },
    },
    annotation: note("limit", {
      x: 1,
      xref: "paper",
      y: at,
      xanchor: "right",
      yanchor: "bottom",
      font: { size: 12, color: limitColour },
    }),
  };
}
