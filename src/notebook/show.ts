/**
 * What a notebook cell calls: `show` for a figure, text or a result, `answer` for the short answer.
 * Outside a notebook both print plain text.
 * @module
 */

import type { Drawing } from "../plots/drawing/drawing.js";
import { FieldError } from "../units/errors.js";
import { printable } from "../units/format.js";
import { htmlText } from "./page/escape.js";
import { drawingBundle, figureBundle, type PlotlyFigure } from "./page/figurehtml.js";
import type { MimeBundle } from "./run/notebook.js";
import { runningDisplay } from "./run/tslab.js";

/** A result that can say what it is: in plain text, Markdown or HTML, at least one of them. */
export interface Presentable {
  /** For a terminal. */
  toText?(): string;
  /** For a notebook without HTML. */
  toMarkdown?(): string;
  /** For a page; every text in it escaped. */
  toHtml?(): string;
  /** All forms that a notebook can show, by MIME type. */
  toBundle?(): MimeBundle;
}

/** MIME type of the short answer: `{ lines: string[] }`. */
export const answerType = "application/vnd.coldpath.answer+json";

/**
 * Show something below the cell.
 * @param thing a figure (`{ data, layout, alt }`), a drawing, a text in Markdown, or a result with `toText()`,
 *   `toMarkdown()` or `toHtml()`
 * @throws FieldError for anything else
 */
export function show(thing: PlotlyFigure | Drawing | string | Presentable): void {
  write(bundle(thing));
}

/**
 * Set the notebook's short answer: `npm start` prints it and the page opens with it. Two or more
 * spaces in a line part a name from its value. The last call counts.
 * @param lines about five lines of plain text
 * @throws FieldError when a line is not text or has a line break
 */
export function answer(lines: readonly string[]): void {
  if (!Array.isArray(lines) || lines.length === 0)
    throw new FieldError("answer", "a list of lines", lines);
  lines.forEach((line: unknown, index) => {
    if (typeof line !== "string" || /[\r\n]/.test(line))
      throw new FieldError(`answer[${index}]`, "one line of text", line);
  });
  write({
    [answerType]: { lines: [...lines] },
    "text/markdown": lines.map(markdownText).join("  \n"),
    "text/plain": lines.join("\n"),
  });
}

function bundle(thing: unknown): MimeBundle {
  if (typeof thing === "string") return { "text/markdown": thing, "text/plain": thing };
  if (typeof thing === "object" && thing !== null) {
    if (isFigure(thing)) return figureBundle(thing);
    const { toBundle } = thing as Presentable;
    if (toBundle !== undefined && runningDisplay() !== undefined) return toBundle.call(thing);
    if (isDrawing(thing)) return drawingBundle(thing);
    const { toText, toMarkdown, toHtml } = thing as Presentable;
    const html = toHtml?.call(thing);
    const markdown = toMarkdown?.call(thing);
    const text = toText?.call(thing) ?? markdown ?? (html === undefined ? html : htmlText(html));
    if (text !== undefined)
      return {
        ...(html === undefined ? {} : { "text/html": html }),
        ...(markdown === undefined ? {} : { "text/markdown": markdown }),
        "text/plain": text,
      };
  }
  const wanted = "a figure, a text, or a result with toText(), toMarkdown() or toHtml()";
  throw new FieldError("show", wanted, thing);
}

function isFigure(thing: object): thing is PlotlyFigure {
  const { data, layout } = thing as Partial<PlotlyFigure>;
  return Array.isArray(data) && typeof layout === "object" && layout !== null;
}

function isDrawing(thing: object): thing is Drawing {
  const { svg, alt } = thing as Partial<Drawing>;
  return typeof svg === "string" && typeof alt === "string";
}

function write(data: MimeBundle): void {
  const display = runningDisplay();
  if (display === undefined) console.log(printable(String(data["text/plain"])));
  else display(data);
}

/** A text as Markdown that shows it as it is. */
function markdownText(text: string): string {
  return text.replace(/[\\`*_{}[\]()#+\-.!|<>~&]/g, "\\$&");
}
