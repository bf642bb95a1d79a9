/**
 * A page in sections: each heading of the second level begins one. What follows a cell that is only a rule
 * (`---`) is folded, a section at a time.
 * @module
 */
import type { ExecutedCell } from "../run/execute.js";

/** A section before it is HTML. */
export interface Section {
  /** Its heading in Markdown; none for what stands before the first. */
  readonly heading?: string;
  /** Unique in the page. */
  readonly id?: string;
  readonly isFolded: boolean;
  readonly cells: readonly ExecutedCell[];
}

export function sectionsOf(cells: readonly ExecutedCell[]): readonly Section[] {
  const sections: (Section & { readonly cells: ExecutedCell[] })[] = [
    { isFolded: false, cells: [] },
  ];
  const ids = new Set<string>();
  let isFolded = false;
  for (const cell of cells) {
    if (cell.kind === "markdown" && cell.source.trim() === "---") {
      isFolded = true;
      continue;
    }
    if (cell.kind !== "markdown") {
      sections.at(-1)!.cells.push(cell);
      continue;
    }
    for (const [i, part] of byHeading(cell.source).entries()) {
      const heading = /^## +(.+?)\s*#*\s*$/m.exec(part.split("\n", 1)[0]!)?.[1];
      if (heading !== undefined)
        sections.push({ heading, id: uniqueId(heading, ids), isFolded, cells: [] });
      const source = heading === undefined ? part : part.slice(part.split("\n", 1)[0]!.length);
      if (i === 0 || source.trim()) sections.at(-1)!.cells.push({ ...cell, source });
    }
  }
  return sections;
}

/** A Markdown text cut before each heading of the second level that is not in a code block. */
function byHeading(source: string): readonly string[] {
  const parts: string[][] = [[]];
  let isCode = false;
  for (const line of source.split("\n")) {
    if (/^(```|~~~)/.test(line)) isCode = !isCode;
    if (!isCode && line.startsWith("## ")) parts.push([]);
    parts.at(-1)!.push(line);
  }
  return parts.map((lines) => lines.join("\n")).filter((part) => part.trim() !== "");
}

/** Small letters and digits of a text, with hyphens between them. */
export function hyphened(text: string): string {
  const words = text.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-");
  return words.replace(/^-+|-+$/g, "");
}

function uniqueId(heading: string, taken: Set<string>): string {
  const plain = hyphened(heading) || "section";
  let id = plain;
  for (let n = 2; taken.has(id); n++) id = `${plain}-${n}`;
  taken.add(id);
  return id;
}
