/**
 * A notebook file: cells of text and code, read from .ipynb (nbformat 4) and checked.
 * @module
 */
import { readdirSync, readFileSync } from "node:fs";
import { basename, join, relative } from "node:path";
import { FieldError, UnknownNameError } from "../../units/errors.js";

/** What a cell shows, by MIME type: the same content in several forms. */
export type MimeBundle = Readonly<Record<string, unknown>>;

/** What one cell put out, in nbformat's words. */
export type Output =
  | { readonly output_type: "stream"; readonly name: "stdout" | "stderr"; readonly text: string }
  | { readonly output_type: "display_data"; readonly data: MimeBundle };

/** One cell; `source` is its whole text. */
export interface Cell {
  readonly kind: "markdown" | "code" | "raw";
  readonly source: string;
}

/** A notebook: its name is the file's name without `.ipynb`. */
export interface Notebook {
  readonly name: string;
  readonly file: string;
  readonly cells: readonly Cell[];
}

const extension = ".ipynb";

/** The names of the notebooks in a folder, sorted, without `.ipynb`. */
export function notebookNames(folder: string): string[] {
  let names: string[];
  try {
    names = readdirSync(folder);
  } catch {
    throw new FieldError("notebooks", "a folder that can be read", folder);
  }
  return names
    .filter((name) => name.endsWith(extension) && !name.startsWith("."))
    .map((name) => name.slice(0, -extension.length))
    .sort();
}

/** Each notebook in a folder with its first heading. */
export function listNotebooks(folder: string) {
  return notebookNames(folder).map((name) => ({
    name,
    title: titleOrFault(join(folder, name + extension)),
  }));
}

/** One broken notebook must not hide the others. */
function titleOrFault(file: string): string {
  try {
    return title(readNotebook(file));
  } catch (error) {
    return `(cannot be read: ${(error as Error).message})`;
  }
}

/**
 * The file of the notebook of this name, written with or without `.ipynb` and with or without
 * the folder in front.
 * @throws UnknownNameError with the nearest known name and the list
 */
export function findNotebook(folder: string, written: string): string {
  const known = notebookNames(folder);
  const name = basename(written, extension);
  if (!known.includes(name)) throw new UnknownNameError("notebook", "notebook", written, known);
  return join(folder, name + extension);
}

/**
 * Read and check a notebook file.
 * @throws FieldError naming the file and the cell that is not as nbformat 4 wants it
 */
export function readNotebook(file: string): Notebook {
  let json: unknown;
  const text = readFileSync(file, "utf8");
  try {
    json = JSON.parse(text);
  } catch (error) {
    throw new FieldError(file, `a notebook in JSON (${(error as Error).message})`, text);
  }
  const { nbformat, cells } = (json ?? {}) as { nbformat?: unknown; cells?: unknown };
  if (nbformat !== 4) throw new FieldError(`${file} nbformat`, "4", nbformat);
  if (!Array.isArray(cells)) throw new FieldError(`${file} cells`, "a list of cells", cells);
  return {
    name: basename(file, extension),
    file,
    cells: cells.map((cell, index) => readCell(cell, `${file} cells[${index}]`)),
  };
}

function readCell(cell: unknown, where: string): Cell {
  const { cell_type: kind, source } = (cell ?? {}) as { cell_type?: unknown; source?: unknown };
  if (kind !== "markdown" && kind !== "code" && kind !== "raw")
    throw new FieldError(`${where}.cell_type`, '"markdown", "code" or "raw"', kind);
  // nbformat allows a text to be stored whole or as a list of lines that keep their line ends.
  const text = Array.isArray(source) ? source.join("") : source;
  if (typeof text !== "string") throw new FieldError(`${where}.source`, "text", source);
  return { kind, source: text };
}

/** The first heading in the notebook's text, or its name when it has none. */
export function title(notebook: Notebook): string {
  for (const { kind, source } of notebook.cells) {
    const heading = kind === "markdown" ? firstHeading(source) : undefined;
    if (heading !== undefined) return heading.text;
  }
  return notebook.name;
}

/** The first line of the form `# words`, and the Markdown without it. */
export function firstHeading(markdown: string): { text: string; rest: string } | undefined {
  const found = /^#{1,6}[ \t]+(.+?)[ \t]*#*[ \t]*$/m.exec(markdown);
  if (found === null) return undefined;
  const rest = markdown.slice(0, found.index) + markdown.slice(found.index + found[0].length);
  return { text: found[1]!, rest: rest.trim() };
}

/** The path from a folder, or the whole path when the file lies elsewhere. */
export function shortPath(here: string, file: string): string {
  const path = relative(here, file);
  return path.startsWith("..") ? file : path;
}
