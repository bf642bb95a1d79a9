/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/**
 * What draws the figures of a page in the browser. It is sent as its source and uses nothing outside.
 * @module
 */

import { darkColours, inDark } from "../../plots/dark.js";
import type { Figure, FigureFrames } from "../../plots/figure.js";
import { figureCsv } from "../../plots/picture/figure-csv.js";

/** A figure as it stands in a page: once for a wide, once for a narrow window. */
export interface PageFigure extends Pick<Figure, "data" | "layout"> {
  readonly title: string;
  /** For the names of saved files. */
  readonly name: string;
  readonly narrow: { readonly layout: object; readonly colourBar?: object };
  readonly config: object;
  /** What a slider shows in its place. */
  readonly frames?: Omit<FigureFrames, "each"> & {
    readonly each: readonly (FigureFrames["each"][number] & { readonly narrow: object })[];
  };
}

declare const Plotly: {
  react(place: Element, data: unknown, layout: unknown, config: unknown): Promise<unknown>;
  downloadImage(figure: unknown, options: unknown): Promise<unknown>;
};

/* v8 ignore start */
/**
 * A layout with the title above the plot, `space` higher [px]. A page sends this function to the browser
 * as its source, so it uses nothing outside itself.
 */
export function titledLayout(layout: object, text: string, space = 26): object {
  const { height, margin } = layout as { height?: number; margin: { t: number } };
  return {
    ...layout,
    ...(height !== undefined && { height: height + space }),
    margin: { ...margin, t: margin.t + space },
    title: {
      text,
      x: 0,
      xref: "container",
      xanchor: "left",
      y: 1,
      yref: "container",
      yanchor: "top",
      pad: { t: 8, l: 8 },
      font: { size: 16 },
    },
  };
}

/**
 * Draws each figure in place of its picture; follows the window's width and the reader's wish for light or
 * dark; saves as SVG, PNG and CSV.
 */
function drawFigures(
  darkColours: Readonly<Record<string, string>>,
  csv: typeof figureCsv,
  inDark: (part: unknown, dark: Readonly<Record<string, string>>) => unknown,
  titled: typeof titledLayout,
): void {
  const dark = matchMedia("(prefers-color-scheme: dark)");
  for (const figure of document.querySelectorAll("figure.figure:not(.drawing)")) {
    const place = figure.querySelector<HTMLElement>(".plot")!;
    const spec = JSON.parse(figure.querySelector("script")!.text) as PageFigure;
    let drawn = "";
    let shown = 0;
    const draw = (): void => {
      const { narrow } = spec;
      const isNarrow = figure.clientWidth < 520;
      const state = `${isNarrow} ${dark.matches} ${shown}`;
      // In a section that is folded there is no width to draw for.
      if (figure.clientWidth === 0 || state === drawn) return;
      drawn = state;
      const frame = spec.frames?.each[shown - 1];
      const layout = isNarrow ? (frame?.narrow ?? narrow.layout) : (frame ?? spec).layout;
      const colorbar = isNarrow && narrow.colourBar;
      const data = (frame ?? spec).data.map((trace) =>
        colorbar && "colorbar" in trace ? { ...trace, colorbar } : trace,
      );
      const { height = 400 } = layout as { height?: number };
      place.hidden = false;
      place.style.height = `${height}px`;
      const coloured = dark.matches ? inDark([data, layout], darkColours) : [data, layout];
      // Each drawing gets a copy of its own: Plotly writes into what it is given.
      const [d, l] = JSON.parse(JSON.stringify(coloured)) as [object[], object];
      const config = {
        ...spec.config,
        toImageButtonOptions: { filename: spec.name, scale: 2 },
        modeBarButtonsToRemove: ["lasso2d", "select2d", "toImage"],
      };
      Plotly.react(place, d, l, config).then(() => figure.classList.add("drawn"));
      // What Plotly draws holds links of its own, so it is no single image.
      place.setAttribute("role", "group");
    };
    const save = (kind: string): void => {
      if (kind === "csv") {
        const link = document.createElement("a");
        link.href = URL.createObjectURL(new Blob([`\ufeff${csv(spec)}`], { type: "text/csv" }));
        link.download = `${spec.name}.csv`;
        link.click();
        setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
        return;
      }
      // Saved light and at the page's width, whatever the window is, and with its title.
      const layout = titled(JSON.parse(JSON.stringify(spec.layout)) as object, spec.title);
      const { height } = layout as { height: number };
      const scale = kind === "png" ? 3 : 1;
      void Plotly.downloadImage(
        { data: JSON.parse(JSON.stringify(spec.data)), layout },
        { format: kind, width: 680, height, scale, filename: spec.name },
      );
    };
    if (spec.frames) {
      const { label, start, each } = spec.frames;
      const box = document.createElement("label");
      const slider = document.createElement("input");
      const words = document.createElement("output");
      box.setAttribute("class", "slider");
      for (const [key, value] of Object.entries({ type: "range", min: "0", max: `${each.length}` }))
        slider.setAttribute(key, value);
      slider.value = "0";
      const tell = (): void => {
        shown = Number(slider.value);
        words.textContent = each[shown - 1]?.name ?? start;
        slider.setAttribute("aria-valuetext", words.textContent);
      };
      slider.addEventListener("input", () => {
        tell();
        draw();
      });
      tell();
      box.append(label, slider, words);
      place.after(box);
    }
    for (const button of figure.querySelectorAll("button[data-save]")) {
      button.addEventListener("click", () => save(button.getAttribute("data-save")!));
    }
    draw();
    for (const fold of document.querySelectorAll("details")) fold.addEventListener("toggle", draw);
    dark.addEventListener("change", draw);
    addEventListener("resize", draw);
  }
}
/* v8 ignore stop */

export function figureScript(): string {
  const values = [JSON.stringify(darkColours), figureCsv, inDark, titledLayout];
  return `(${drawFigures})(${values.join(",")})`;
}
