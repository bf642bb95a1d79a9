/**
 * An executed notebook as one HTML page that needs nothing beside it: no network, no other file.
 *
 * The page's own security policy lets only its own three scripts run (by their digests) and nothing
 * load, so HTML that a cell puts out can neither run code nor fetch anything.
 * @module
 */
import { createHash } from "node:crypto";
import { escapeHtml, scriptJson } from "./escape.js";
import type { ExecutedCell, ExecutedNotebook } from "./execute.js";
import { figureType } from "./figurehtml.js";
import { foreignMarkdown, ownMarkdown } from "./markdown.js";
import { firstHeading, type MimeBundle, type Output, title } from "./notebook.js";
import { pageStyle } from "./pagestyle.js";
import { panelType } from "./panel.js";
import { pagePanels } from "./panel-script.js";
import { panelStyle } from "./panel-style.js";
import { plotlySource } from "./plotly.js";
import { answerType } from "./show.js";

/** What the page's last line says besides. */
export interface Imprint {
  /** Date of the run, as it shall read. */
  readonly date: string;
  /** Names with versions, for example `coldpath 0.1.0`. */
  readonly versions: readonly string[];
}

/** The page as HTML text. */
export function page(notebook: ExecutedNotebook, imprint: Imprint): string {
  const heading = title(notebook);
  const lines = answerLines(notebook);
  const body = withoutTitle(notebook.cells).map(cellHtml).filter(Boolean).join("\n");
  const panels = body.includes('class="coldpath-panel"') ? pagePanels() : undefined;
  const scripts = [
    ...(body.includes('class="figure"') ? [plotlySource(), drawFigures] : []),
    ...(panels ? [panels.source] : []),
  ];
  const digests = [...scripts.map(digestOf), ...(panels ? [panels.digest] : [])];
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy(digests)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(heading)}</title>
<style>${pageStyle}${panels ? panelStyle : ""}</style>
</head>
<body>
<main>
<h1>${inlineHeading(heading)}</h1>
${lines.length > 0 ? answerHtml(lines) : ""}
${body}
</main>
<footer>${escapeHtml([`Computed ${imprint.date}`, ...imprint.versions].join(" · "))}</footer>
${scripts.map((source) => `<script>${source}</script>`).join("\n")}
</body>
</html>
`;
}

/** The lines of the last `answer()` of the notebook, none if it gave none. */
export function answerLines(notebook: ExecutedNotebook): readonly string[] {
  const last = notebook.cells
    .flatMap(({ outputs }) => outputs)
    .map((output) => (output.output_type === "display_data" ? output.data[answerType] : undefined))
    .filter((data) => data !== undefined)
    .at(-1) as { lines?: unknown } | undefined;
  return Array.isArray(last?.lines) ? last.lines.map(String) : [];
}

function digestOf(source: string): string {
  return createHash("sha256").update(source).digest("base64");
}

function policy(digests: readonly string[]): string {
  const allowed = digests.map((digest) => `'sha256-${digest}'`);
  return [
    "default-src 'none'",
    `script-src ${allowed.join(" ") || "'none'"}`,
    "style-src 'unsafe-inline'",
    "img-src data: blob:",
    "font-src data:",
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
}

/** The cells without the first heading, which the page shows above the answer. */
function withoutTitle(cells: readonly ExecutedCell[]): ExecutedCell[] {
  const index = cells.findIndex(
    ({ kind, source }) => kind === "markdown" && firstHeading(source) !== undefined,
  );
  return cells.map((cell, at) =>
    at === index ? { ...cell, source: firstHeading(cell.source)!.rest } : cell,
  );
}

/** A heading's Markdown without the element around it. */
function inlineHeading(markdown: string): string {
  return ownMarkdown(`# ${markdown}`)
    .trim()
    .replace(/^<h1[^>]*>|<\/h1>$/g, "");
}

function answerHtml(lines: readonly string[]): string {
  const rows = lines.map((line) => {
    const [name, ...value] = line.trim().split(/ {2,}/).map(escapeHtml);
    return value.length === 0
      ? `<tr><td colspan="2">${name}</td></tr>`
      : `<tr><td>${name}</td><td>${value.join("  ")}</td></tr>`;
  });
  return `<section class="answer" aria-label="Answer"><h2>Answer</h2><table>${rows.join("")}</table></section>`;
}

function cellHtml(cell: ExecutedCell): string {
  if (cell.source.trim() === "" && cell.outputs.length === 0) return "";
  if (cell.kind === "markdown") return `<div class="text">${ownMarkdown(cell.source)}</div>`;
  if (cell.kind === "raw") return `<pre>${escapeHtml(cell.source)}</pre>`;
  const code = `<details class="code"><summary>Show the code</summary><pre><code>${escapeHtml(cell.source)}</code></pre></details>`;
  return [code, ...cell.outputs.map(outputHtml)].filter(Boolean).join("\n");
}

function outputHtml(output: Output): string {
  if (output.output_type === "stream")
    return `<pre class="${output.name}">${escapeHtml(withoutColour(output.text))}</pre>`;
  if (output.data[answerType] !== undefined) return "";
  const html = richest(output.data);
  return html === "" ? "" : html.startsWith("<figure") ? html : `<div class="output">${html}</div>`;
}

/** The richest form of an output that a page can show. */
function richest(data: MimeBundle): string {
  if (data[panelType] !== undefined) return (data[panelType] as { html: string }).html;
  if (data[figureType] !== undefined) return figureHtml(data[figureType], data["text/plain"]);
  const text = (type: string) => {
    const value = data[type];
    return Array.isArray(value) ? value.join("") : value === undefined ? undefined : String(value);
  };
  const picture = ["image/png", "image/jpeg", "image/gif"].find((type) => text(type) !== undefined);
  if (picture !== undefined) {
    const source = `data:${picture};base64,${text(picture)!.replace(/\s/g, "")}`;
    return `<img src="${escapeHtml(source)}" alt="${escapeHtml(text("text/plain") ?? "picture")}">`;
  }
  const html = text("text/html") ?? text("image/svg+xml");
  if (html !== undefined) return html;
  const markdown = text("text/markdown");
  if (markdown !== undefined) return foreignMarkdown(markdown);
  const plain = text("text/plain") ?? text("text/latex");
  return plain === undefined ? "" : `<pre>${escapeHtml(plain)}</pre>`;
}

function figureHtml(figure: unknown, alt: unknown): string {
  const words = escapeHtml(String(alt ?? "A figure without a description."));
  return `<figure class="figure"><div class="plot" role="img" aria-label="${words}"></div><p class="alternative">${words}</p><script type="application/json">${scriptJson(figure)}</script></figure>`;
}

/** Runs in the browser: draws each figure in place of its text alternative. */
const drawFigures = `
for (const figure of document.querySelectorAll("figure.figure")) {
  const place = figure.querySelector(".plot");
  const { data, layout, config } = JSON.parse(figure.querySelector("script").textContent);
  const fitted = { ...layout, width: undefined, autosize: true };
  place.style.height = (layout.height ?? 400) + "px";
  Plotly.newPlot(place, data, fitted, { ...config, responsive: true, displaylogo: false })
    .then(() => figure.classList.add("drawn"));
}
`;

/** Text without the escape sequences that colour it in a terminal. */
function withoutColour(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: the sequence starts with one
  return text.replace(/\u001b\[[0-9;]*[A-Za-z]/g, "");
}
