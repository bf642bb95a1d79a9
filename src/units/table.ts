/**
 * A result as a table, in print: for a terminal, in Markdown and in HTML.
 * @module
 */

/** Rows of text under headings; columns from `numbersFrom` on are set to the right. */
export interface Table {
  readonly title: string;
  readonly columns: readonly string[];
  readonly numbersFrom: number;
  readonly rows: readonly (readonly string[])[];
}

/** The table's lines in aligned columns, its columns' names first. */
export function tableLines({ columns, rows, numbersFrom }: Table): string[] {
  const all = [columns, ...rows];
  const widths = columns.map((_, c) => Math.max(...all.map((row) => row[c]!.length)));
  return all.map((row) =>
    row
      .map((cell, c) => (c < numbersFrom ? cell.padEnd(widths[c]!) : cell.padStart(widths[c]!)))
      .join("  ")
      .trimEnd(),
  );
}

/** With its title above, for a notebook or a merge request. */
export function tableMarkdown({ title, columns, rows, numbersFrom }: Table): string {
  const rule = columns.map((_, c) => (c < numbersFrom ? "---" : "---:"));
  const lines = [columns, rule, ...rows.map((row) => row.map(markdownCell))];
  return [`**${title}**`, lines.map((line) => `| ${line.join(" | ")} |`).join("\n")].join("\n\n");
}

/** Pipes and line ends would break a table; the rest is left to the reader's eye. */
export function markdownCell(text: string): string {
  return escapeHtml(text)
    .replace(/\|/g, "\\|")
    .replace(/\s*\n\s*/g, " ");
}

/** With its title as a caption; plain elements with classes and no style of its own. */
export function tableHtml({ title, columns, rows, numbersFrom }: Table): string {
  const cell = (tag: string) => (text: string, c: number) =>
    `<${tag}${c < numbersFrom ? "" : ' class="number"'}>${escapeHtml(text)}</${tag}>`;
  const body = rows.map((row) => `<tr>${row.map(cell("td")).join("")}</tr>`).join("\n");
  return (
    `<table><caption>${escapeHtml(title)}</caption>\n` +
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
