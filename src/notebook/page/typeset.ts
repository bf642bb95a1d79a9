/**
 * Numbers as they are set on a page: a true minus, a thin space that does not break before a unit, and
 * powers of ten in one notation, `2.4·10⁹`.
 * Source: the International System of Units, 9th edition (2019), 5.4.3: a space between number and unit.
 * @module
 */

import { raised } from "../../units/format.js";

const prefixed = "[afpnuµmckMGT]?(?:K|W|m|s|N|J|eV|V|A|Hz|g|Pa|Ω|T|mol|l)(?![A-Za-z])";
const plain = "%|dBm|dB|ppm|h(?![A-Za-z])|min(?![A-Za-z])|keV|RRR(?![A-Za-z])";
const spaceBeforeUnit = new RegExp(
  `(?<=[\\d)]|10[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+) (?=(?:${prefixed}|${plain}))`,
  "g",
);

/** A text, with its numbers so set. */
export function typeset(text: string): string {
  return text
    .replace(
      /(?<![\w.,])(-?\d+(?:\.\d+)?|\([^()]*\))e([+-]?\d+)(?![\w.])/g,
      (_, m: string, e: string) =>
        m === "1" ? `10${raised(Number(e))}` : `${m}·10${raised(Number(e))}`,
    )
    .replace(/(?<=^|[\s(±≈×:])-(?=\d)/g, "−")
    .replace(spaceBeforeUnit, "\u202f");
}

/** The texts of a piece of HTML or SVG; code, scripts, styles, fields and attributes stay. */
export function typesetHtml(html: string): string {
  const skipped = /^(?:pre|code|script|style|textarea|button|svg)$/;
  let inside: string | undefined;
  let depth = 0;
  return html
    .split(/(<[^>]*>)/)
    .map((piece) => {
      const tag = /^<(\/?)([a-z][a-z0-9-]*)/i.exec(piece);
      if (!tag) return inside === undefined && !piece.startsWith("<") ? typeset(piece) : piece;
      const name = tag[2]!.toLowerCase();
      const isEmpty = piece.endsWith("/>");
      if (inside === undefined) {
        if (!tag[1] && !isEmpty && skipped.test(name)) [inside, depth] = [name, 1];
      } else if (name === inside && !isEmpty) {
        depth += tag[1] ? -1 : 1;
        if (depth === 0) inside = undefined;
      }
      return piece;
    })
    .join("");
}

/** Keys of a figure under which a reader finds words; rows are named by their place on an axis. */
const worded = new Set(["text", "ticktext", "name", "customdata", "x", "y", "categoryarray"]);

/** The words of a figure's JSON. */
export function typesetFigure<T>(part: T, isWorded = false): T {
  if (typeof part === "string") return (isWorded ? typeset(part) : part) as T;
  if (Array.isArray(part)) return part.map((each) => typesetFigure(each, isWorded)) as T;
  if (typeof part !== "object" || part === null || ArrayBuffer.isView(part)) return part;
  const entries = Object.entries(part).map(([key, value]) => [
    key,
    typesetFigure(value, worded.has(key)),
  ]);
  return Object.fromEntries(entries) as T;
}
