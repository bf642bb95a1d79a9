/**
 * Tables in print: for a terminal, in Markdown and in HTML; and lines of CSV.
 * @module
 */

import { formatQuantity, formatRise, formatShare, formatTemperature } from "./format.js";

/** A number in a table. */
export interface NumberCell {
  /** As it is printed. */
  readonly text: string;
  /** In SI, for the CSV; left out there where it is absent or not finite. */
  readonly value: number | undefined;
  /** SI unit; empty for a pure number. */
  readonly unit: string;
  /** Standard error of the value, in its unit. */
  readonly error?: number | undefined;
}

/** Words, or a number. */
export type Cell = string | NumberCell;

/** A quantity in SI as a cell, printed with three digits when no text is given. */
export function quantityCell(value: number, unit: string, text = formatQuantity(value, unit)) {
  return { value, unit, text };
}

/** A temperature [K] as a cell. */
export function temperatureCell(temperature: number): NumberCell {
  return quantityCell(temperature, "K", formatTemperature(temperature));
}

/** A temperature difference [K] as a cell. */
export function riseCell(difference: number): NumberCell {
  return quantityCell(difference, "K", formatRise(difference));
}

/** A share as a cell, in per cent. */
export function shareCell(share: number): NumberCell {
  return quantityCell(share, "", formatShare(share));
}

/** How many, as a cell; empty where that is not known. */
export function countCell(value: number | undefined, text = `${value ?? ""}`): NumberCell {
  return { value, unit: "", text };
}

export function cellText(cell: Cell): string {
  return typeof cell === "string" ? cell : cell.text;
}

/** Rows of cells under headings. */
export interface Table {
  /** Stands above the table; none when empty. */
  readonly title: string;
  /** Names of the columns. */
  readonly columns: readonly string[];
  /** Columns from this index on are right-aligned. */
  readonly numbersFrom: number;
  /** Cells, row by row. */
  readonly rows: readonly (readonly Cell[])[];
  /** `lines`: as text each row is one line of its cells, where they are too long to align. */
  readonly asText?: "columns" | "lines";
}

/** For a terminal: the title, and the rows indented below it. */
export function tableText(table: Table): string {
  const lines =
    table.asText === "lines"
      ? table.rows.map((row) => row.map(cellText).filter(Boolean).join("; "))
      : alignedLines(table);
  return [...titleOf(table), ...lines.map((line) => `  ${line}`)].join("\n");
}

function titleOf({ title }: Table): readonly string[] {
  return title === "" ? [] : [title];
}

function alignedLines({ columns, rows, numbersFrom }: Table): string[] {
  const all = [columns, ...rows].map((row) => row.map((cell) => oneLine(cellText(cell))));
  const widths = columns.map((_, c) => Math.max(...all.map((row) => row[c]!.length)));
  return all.map((row) =>
    row
      .map((cell, c) => (c < numbersFrom ? cell.padEnd(widths[c]!) : cell.padStart(widths[c]!)))
      .join("  ")
      .trimEnd(),
  );
}

function oneLine(text: string): string {
  return text.replace(/\s*\n\s*/g, " ");
}

/** For a notebook or a merge request, with the title above. */
export function tableMarkdown(table: Table): string {
  const { columns, rows, numbersFrom } = table;
  const rule = columns.map((_, c) => (c < numbersFrom ? "---" : "---:"));
  const [head, ...body] = [columns, ...rows].map((row) =>
    row.map((cell) => markdownText(cellText(cell))),
  );
  const lines = [head!, rule, ...body].map((line) => `| ${line.join(" | ")} |`).join("\n");
  return [...titleOf(table).map((title) => `**${markdownText(title)}**`), lines].join("\n\n");
}

/** Text without tags, and without the pipes and line ends that would break a table. */
export function markdownText(text: string): string {
  return oneLine(escapeHtml(text).replace(/\|/g, "\\|"));
}

/** For a page, with the title as a caption; plain elements with classes and no style of its own. */
export function tableHtml(table: Table): string {
  const { columns, rows, numbersFrom } = table;
  const cell = (tag: string) => (content: Cell, c: number) => {
    const text = cellText(content);
    // A number with the name of what it is of may stand on more lines than one.
    const kind = text.includes(", ") ? "number named" : "number";
    if (tag === "th" && text === "") return "<td></td>";
    const scope = tag === "th" ? ' scope="col"' : "";
    return `<${tag}${scope}${c < numbersFrom ? "" : ` class="${kind}"`}>${linked(escapeHtml(text))}</${tag}>`;
  };
  const body = rows.map((row) => `<tr>${row.map(cell("td")).join("")}</tr>`).join("\n");
  const caption = titleOf(table).map((title) => `<caption>${escapeHtml(title)}</caption>`);
  return (
    `<table>${caption.join("")}\n` +
    `<thead><tr>${columns.map(cell("th")).join("")}</tr></thead>\n<tbody>\n${body}\n</tbody></table>`
  );
}

/** A text of HTML whose DOI is a link. */
function linked(html: string): string {
  return html.replace(
    /doi:(10\.\d+\/[^\s<>"]+)/,
    '<a href="https://doi.org/$1" rel="noreferrer">doi:$1</a>',
  );
}

const entities: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Text as it may stand between tags, or in a quoted attribute, of HTML and XML. */
export function escapeHtml(text: string): string {
  return text.replace(/[&<>"']/g, (character) => entities[character]!);
}

/** Such a text as it was. */
export function unescapeHtml(html: string): string {
  const known = [...Object.entries(entities), [" ", "&nbsp;"]];
  return html.replace(
    /&#?\w+;/g,
    (written) => known.find(([, e]) => e === written)?.[0] ?? written,
  );
}

/**
 * A line of CSV (RFC 4180), without its end. A number's shortest text reads back as the same number. Text that
 * this library's reader would trim or take for a comment is quoted too.
 */
export function csvLine(cells: readonly (string | number)[]): string {
  const written = (cell: string | number) =>
    typeof cell === "string" && /[",#\r\n]|^\s|\s$/.test(cell) ? quoted(cell) : cell;
  return cells.map(written).join(",");
}

function quoted(text: string): string {
  return `"${text.replace(/"/g, '""')}"`;
}

/**
 * A line of CSV for a spreadsheet, every text in quotes. A = + - @ would begin a formula at the start of a
 * text, and behind what parts cells in other countries or in programs that do not look at quotes.
 */
export function spreadsheetLine(cells: readonly (string | number)[]): string {
  const safe = (text: string) => text.replace(/(?<=(?:^|[;\t\r\n])["\s]*)(?=[=+\-@])/g, "'");
  const written = (cell: string | number) =>
    typeof cell === "string" && cell !== "" ? quoted(safe(cell)) : cell;
  return `${cells.map(written).join(",")}\r\n`;
}
