/**
 * Text made safe for the places of an HTML page.
 * @module
 */

import { unescapeHtml } from "../../units/table.js";

/** A value as JSON that may stand inside a script element. */
export function scriptJson(value: unknown): string {
  const escaped = (c: string) => `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`;
  return JSON.stringify(value).replace(/[<>&\u2028\u2029]/g, escaped);
}

/**
 * JavaScript source that may stand inside a script element. In valid code the sequences that end a
 * script or turn it into a comment occur only in strings and regular expressions, where the escape
 * means the same character.
 */
export function scriptSource(source: string): string {
  return source.replace(/<(?=\/script|script|!--)/gi, "\\x3c").replace(/\r\n?/g, "\n");
}

/** What HTML says, without its tags. */
export function htmlText(html: string): string {
  const text = html
    .replace(/<(script|style)\b[\s\S]*?<\/\1\s*>/gi, " ")
    .replace(/<\/(p|div|h[1-6]|li|tr|table)\s*>|<br\b[^>]*>/gi, "\n")
    .replace(/<[^>]*>/g, " ");
  return unescapeHtml(text)
    .replace(/[ \t]+/g, " ")
    .replace(/ *\n\s*/g, "\n")
    .trim();
}
