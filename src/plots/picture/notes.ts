/**
 * The notes of a figure: where they go, so that they stay inside it and clear of each other.
 * @module
 */
import type { Scale } from "../scale.js";
import { type Annotation, type Datum, type DrawableFigure, plainWords } from "../traces.js";
import { lineHeight, widest } from "./text-size.js";

/** The plot's place in a figure [px], and from values to pixels. */
export interface Plane {
  readonly width: number;
  readonly isNarrow: boolean;
  readonly plot: {
    readonly left: number;
    readonly top: number;
    readonly width: number;
    readonly height: number;
  };
  readonly x: Scale;
  readonly y: Scale;
  px(value: Datum): number;
  py(value: Datum): number;
}

/** Words at a place, moved so far that they stay inside the figure and clear of each other. */
export interface NotePlace {
  readonly annotation: Annotation;
  readonly lines: readonly string[];
  readonly size: number;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  /** How far they were moved, right and down [px]. */
  readonly moved: readonly [right: number, down: number];
}

/** A coordinate of a shape or note: of the paper (0 to 1 over the plot) or of the data. */
export function placed(
  value: number | string,
  ref: string | undefined,
  name: "x" | "y",
  { plot, px, py }: Pick<Plane, "plot" | "px" | "py">,
): number {
  if (ref === "paper" || ref?.endsWith(" domain")) {
    const { left, top, width, height } = plot;
    return name === "x" ? left + Number(value) * width : top + (1 - Number(value)) * height;
  }
  return name === "x" ? px(value) : py(value);
}

/** Where notes go; those that do not fit into their bars are left out, those that hang on the paper make way downwards for those before them. */
export function notesOf({ layout }: DrawableFigure, frame: Plane): readonly NotePlace[] {
  const done: NotePlace[] = [];
  for (const annotation of layout.annotations ?? []) {
    const { text = "", xref, yref, xanchor = "center", yanchor = "middle", font } = annotation;
    const { xshift = 0, yshift = 0 } = annotation;
    const size = Math.min(font?.size ?? 12, frame.isNarrow ? 11 : 14);
    const lines = plainWords(text).split("\n");
    const width = widest(lines, size);
    const bar = Number(/^in bar (.*)/.exec(annotation.name ?? "")?.[1]);
    if (width > Math.abs(frame.px(bar) - frame.px(0))) continue;
    const height = lineHeight * size * lines.length;
    const value = (v: number | string, scale: Scale, ref?: string) =>
      scale.kind === "log" && ref === undefined && typeof v === "number" ? 10 ** v : v;
    const x = placed(value(annotation.x, frame.x, xref), xref, "x", frame) + xshift;
    const y = placed(value(annotation.y, frame.y, yref), yref, "y", frame) - yshift;
    const start = xanchor === "left" ? x : xanchor === "right" ? x - width : x - width / 2;
    const left = Math.min(Math.max(start, 2), Math.max(2, frame.width - width - 2));
    const first = yanchor === "top" ? y : yanchor === "bottom" ? y - height : y - height / 2;
    const isFree = (top: number) =>
      !done.some(
        (other) =>
          left < other.left + other.width + 4 &&
          other.left < left + width + 4 &&
          top < other.top + other.height &&
          other.top < top + height,
      );
    let top = first;
    while (yref === "paper" && !isFree(top) && top < first + 6 * height) top += height;
    const moved = [left - start, top - first] as const;
    done.push({ annotation, lines, size, left, top, width, height, moved });
  }
  return done;
}
