/**
 * Tables in print: for a terminal, in Markdown and in HTML; and lines of CSV.
 * @module
 */

/** Rows of text under headings. */
export interface Table {
  /** Stands above the table; none when empty. */
  readonly title: string;
  /** Names of the columns. */
  readonly columns: readonly string[];
  /** Columns from this index on are right-aligned. */
  readonly numbersFrom: number;
  /** Cells as printed, row by row. */
  readonly rows: readonly (readonly string[])[];
  /** `lines`: as text each row is one line of its cells, where they are too long to align. */
  readonly asText?: "columns" | "lines";
}

/** For a terminal: the title, and the rows indented below it. */
export function tableText(table: Table): string {
  const lines =
    table.asText === "lines"
      ? table.rows.map((row) => row.filter((cell) => cell !== "").join("; "))
      : alignedLines(table);
  return [...titleOf(table), ...lines.map((line) => `  ${line}`)].join("\n");
}

function titleOf({ title }: Table): readonly string[] {
  return title === "" ? [] : [title];
}

function alignedLines({ columns, rows, numbersFrom }: Table): string[] {
  const all = [columns, ...rows].map((row) => row.map(oneLine));
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
  const [head, ...body] = [columns, ...rows].map((row) => row.map(markdownText));
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
  const cell = (tag: string) => (text: string, c: number) =>
    `<${tag}${c < numbersFrom ? "" : ' class="number"'}>${escapeHtml(text)}</${tag}>`;
  const body = rows.map((row) => `<tr>${row.map(cell("td")).join("")}</tr>`).join("\n");
  const caption = titleOf(table).map((title) => `<caption>${escapeHtml(title)}</caption>`);
  return (
    `<table>${caption.join("")}\n` +
    `<thead><tr>${columns.map(cell("th")).join("")}</tr></thead>\n<tbody>\n${body}\n</tbody></table>`
  );
}

/** Text as it stands in HTML. */
export function escapeHtml(text: string): string {
  return text
    .replace(/&/g, "&amp;")
    .replace(/</g, "&lt;")
    .replace(/>/g, "&gt;")
    .replace(/"/g, "&quot;");
}

/** A line of CSV (RFC 4180); a leading = + - @ in text would be a formula to a spreadsheet. */
export function csvLine(cells: readonly (string | number)[]): string {
  const cell = (value: string | number) => {
    if (typeof value === "number") return String(value);
    const text = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
    return /[",\r\n]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text;
  };
  return `${cells.map(cell).join(",")}\r\n`;
}
