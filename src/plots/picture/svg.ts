/**
 * Pieces of an SVG picture as text: every word escaped, numbers short, colours light and dark.
 * @module
 */
import { escapeHtml } from "../../units/table.js";
import { darkColours } from "../dark.js";
import { fontFamily, ink, paper } from "../style.js";

/** Attributes of an element; those undefined are left out. */
export type Attributes = Readonly<Record<string, string | number | undefined>>;

/** Text as it may stand between tags or in a quoted attribute; what XML forbids is left out. */
export function escapeXml(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: XML has no way to write these
  const forbidden = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff\ud800-\udfff]/gu;
  return escapeHtml(text.replace(forbidden, ""));
}

/** A coordinate: a hundredth of a pixel is enough. */
export function short(value: number): string {
  return String(Number(value.toFixed(2)));
}

/** An element with its children, which are SVG already. */
export function element(name: string, attributes: Attributes, ...children: string[]): string {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(
      ([key, value]) => ` ${key}="${typeof value === "number" ? short(value) : escapeXml(value!)}"`,
    )
    .join("");
  return children.length === 0
    ? `<${name}${written}/>`
    : `<${name}${written}>${children.join("")}</${name}>`;
}

export function words(text: string, x: number, y: number, more: Attributes = {}): string {
  return element("text", { x, y, "font-size": 12, fill: ink, ...more }, escapeXml(text));
}

/** Lines of text, each a step below the one before. */
export function textLines(
  texts: readonly string[],
  [x, y]: readonly [number, number],
  step: number,
  more: Attributes = {},
): string {
  return texts.map((text, i) => words(text, x, y + step * i, more)).join("");
}

export function line(x1: number, y1: number, x2: number, y2: number, more: Attributes = {}) {
  return element("path", {
    d: `M${short(x1)} ${short(y1)}L${short(x2)} ${short(y2)}`,
    fill: "none",
    stroke: ink,
    ...more,
  });
}

/** A rectangle by its corners, in any order. */
export function box(x1: number, y1: number, x2: number, y2: number, more: Attributes = {}): string {
  return element("rect", {
    x: Math.min(x1, x2),
    y: Math.min(y1, y2),
    width: Math.abs(x2 - x1),
    height: Math.abs(y2 - y1),
    ...more,
  });
}

/** A short name made of a text, the same each time: FNV-1a, 32 bits. */
export function nameOf(text: string): string {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return `c${(hash >>> 0).toString(36)}`;
}

/**
 * An SVG document that stands by itself or inside a page. Colours are written for light; where the
 * reader's system asks for dark they are exchanged one for one, and print is always light.
 * @param id - unique in a page
 * @param words - for those who can't see it: what it is, and what it shows
 * @param pixel - millimetres that one pixel of the body takes in print; as the page has it when absent
 */
export function svgDocument(
  id: string,
  [width, height]: readonly [width: number, height: number],
  { title, alt }: { readonly title: string; readonly alt: string },
  body: string,
  pixel?: number,
): string {
  const inPrint = (pixels: number) => (pixel ? `${short(pixels * pixel)}mm` : pixels);
  return element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      id,
      class: "coldpath-svg",
      viewBox: `0 0 ${short(width)} ${short(height)}`,
      width: inPrint(width),
      height: inPrint(height),
      role: "img",
      "aria-labelledby": `${id}-t ${id}-d`,
      "font-family": fontFamily,
      style: pixel ? undefined : "max-width:100%;height:auto",
    },
    element("title", { id: `${id}-t` }, escapeXml(title)),
    element("desc", { id: `${id}-d` }, escapeXml(alt)),
    `<style>${darkStyle(body)}</style>`,
    element("rect", { width, height, fill: paper }),
    body,
  );
}

/** The exchange of colours for dark, of those that the picture has. */
function darkStyle(body: string): string {
  const rules = Object.entries(darkColours).flatMap(([light, dark]) =>
    ["fill", "stroke"]
      .filter((paint) => light === paper || body.includes(`${paint}="${light}"`))
      .map((paint) => `.coldpath-svg [${paint}="${light}"]{${paint}:${dark}}`),
  );
  return `@media screen and (prefers-color-scheme:dark){${rules.join("")}}`;
}
