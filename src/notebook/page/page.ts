/**
 * An executed notebook as one HTML page that needs nothing beside it: no network, no other file.
 *
 * The page's own security policy lets only its own scripts run (by their digests) and nothing
 * load, so HTML that a cell puts out can neither run code nor fetch anything.
 * @module
 */
import { createHash } from "node:crypto";
import type { FigureFrames } from "../../plots/figure.js";
import { fittedFigure } from "../../plots/picture/fit.js";
import { figurePicture } from "../../plots/picture/picture.js";
import { type FigureLayout, plainWords, titleOf } from "../../plots/traces.js";
import { escapeHtml } from "../../units/table.js";
import { pagePanels, panelType } from "../panel/script.js";
import { panelStyle } from "../panel/style.js";
import type { ExecutedCell, ExecutedNotebook } from "../run/execute.js";
import { firstHeading, type MimeBundle, type Output, title } from "../run/notebook.js";
import { answerType } from "../show.js";
import { scriptJson } from "./escape.js";
import { drawingType, figureType, type PlotlyFigure, plotConfig } from "./figurehtml.js";
import { figureScript, type PageFigure } from "./figurescript.js";
import { foreignMarkdown, ownMarkdown } from "./markdown.js";
import { pageStyle } from "./pagestyle.js";
import { plotlySource } from "./plotly.js";
import { hyphened, type Section, sectionsOf } from "./sections.js";
import { tableScript } from "./tablescript.js";
import { typeset, typesetFigure, typesetHtml } from "./typeset.js";

/** What the page's last line says besides. */
export interface Imprint {
  /** Date of the run, as it shall read. */
  readonly date: string;
  /** Names with versions, for example `coldpath 0.1.0`. */
  readonly versions: readonly string[];
}

export function page(notebook: ExecutedNotebook, imprint: Imprint): string {
  const heading = title(notebook);
  const lines = answerLines(notebook);
  const count: Counter = { figures: 0 };
  const sections = sectionsOf(withoutTitle(notebook.cells)).map((section) => ({
    ...section,
    html: sectionHtml(section, count),
  }));
  const shown = sections.filter(({ html }) => html !== "");
  // The policy stops what runs or loads; only a meta element could still lead the reader away.
  const body = typesetHtml(shown.map(({ html }) => html).join("\n")).replace(
    /<(?=meta\b)/gi,
    "&lt;",
  );
  const panels = body.includes('class="coldpath-panel"') ? pagePanels() : undefined;
  const scripts = [
    ...(body.includes('<div class="plot"') ? [plotlySource(), figureScript()] : []),
    ...(panels ? [panels.source] : []),
    ...(body.includes("<thead>") ? [tableScript()] : []),
  ];
  const digests = scripts.map((source) => createHash("sha256").update(source).digest("base64"));
  if (panels) digests.push(panels.digest);
  const foot = [`Computed ${imprint.date}`, ...imprint.versions].join(" · ");
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy(digests)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(heading)}</title>
<style>${pageStyle}${panels ? panelStyle : ""}${printedFoot(foot)}</style>
</head>
<body>
${panels ? '<a class="skip" href="#panel">Skip to the panel</a>\n' : ""}<a class="skip" href="#text">Skip to the text</a>
<main>
<h1>${inlineHeading(heading)}</h1>
${lines.length > 0 ? typesetHtml(answerHtml(lines)) : ""}
${contents(shown)}
<div id="text" tabindex="-1">
${panels ? body.replace('class="coldpath-panel"', 'id="panel" tabindex="-1" class="coldpath-panel"') : body}
</div>
</main>
<footer>${escapeHtml(foot)}</footer>
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

/** The last line of the page at the foot of each sheet, so that it takes none of its own. */
function printedFoot(text: string): string {
  const escaped = text.replace(/[^\w .,:-]/gu, (c) => `\\${c.codePointAt(0)!.toString(16)} `);
  return `@media print { footer { display: none; } @page { @bottom-left { content: "${escaped}"; font: 7.5pt sans-serif; } } }`;
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

/** Least number of sections for which a list of contents is worth its space. */
const leastListed = 3;

/** The sections by name; those that are folded say so. */
function contents(sections: readonly Section[]): string {
  const named = sections.filter(({ heading }) => heading !== undefined);
  if (named.length < leastListed) return "";
  const entries = named.map(
    ({ heading, id, isFolded }) =>
      `<li${isFolded ? ' class="folded"' : ""}><a href="#${id}">${inlineHeading(heading!)}</a></li>`,
  );
  return `<nav class="contents" aria-label="Contents"><ul>${entries.join("")}</ul></nav>`;
}

/** A section: its heading, texts and outputs, then its code, folded. A heading over nothing is left out. */
function sectionHtml({ heading, id, isFolded, cells }: Section, count: Counter): string {
  const parts = cells.flatMap((cell): readonly Part[] =>
    cell.kind === "code" ? cell.outputs : [cell],
  );
  // Two maps that follow each other stand side by side on paper.
  const isHalf = (i: number) => isMap(parts[i]) && (isMap(parts[i - 1]) || isMap(parts[i + 1]));
  const shown = parts.map((part, i) => partHtml(part, count, isHalf(i))).filter(Boolean);
  const sources = cells.filter(({ kind, source }) => kind === "code" && source.trim() !== "");
  const code =
    sources.length === 0
      ? ""
      : `<details class="code"><summary>Show the code</summary>${sources.map(({ source }) => `<pre><code>${escapeHtml(source)}</code></pre>`).join("")}</details>`;
  if (heading === undefined || (shown.length === 0 && !isFolded))
    return [...shown, code].filter(Boolean).join("\n");
  const head = `<h2 id="${id}">${inlineHeading(heading)}</h2>`;
  const inner = [...shown, code].filter(Boolean).join("\n");
  return isFolded
    ? `<details class="section"><summary>${head}</summary>\n${inner}</details>`
    : `${head}\n${inner}`;
}

/** A cell of text, or an output of a cell of code. */
type Part = ExecutedCell | Output;

function partHtml(part: Part, count: Counter, isHalf: boolean): string {
  if ("output_type" in part) return outputHtml(part, count, isHalf);
  if (part.kind === "raw") return `<pre>${escapeHtml(part.source)}</pre>`;
  return part.source.trim() === "" ? "" : `<div class="text">${ownMarkdown(part.source)}</div>`;
}

function outputHtml(output: Output, count: Counter, isHalf: boolean): string {
  if (output.output_type === "stream")
    return `<pre class="${output.name}">${escapeHtml(withoutColour(output.text))}</pre>`;
  if (output.data[answerType] !== undefined) return "";
  const html = richest(output.data, count, isHalf);
  // A bar of progress has nothing to say once its work is done.
  if (html.startsWith("<label><progress")) return "";
  if (html === "" || html.startsWith("<figure")) return html;
  // A table may be wider than the page: whoever has no mouse scrolls it by keys.
  const scrolled = html.includes("<table") ? ' tabindex="0"' : "";
  return `<div class="output"${scrolled}>${withBreaks(html)}</div>`;
}

/** Names of fields, which may break after their dots where a column is narrow. */
function withBreaks(html: string): string {
  return html.replace(/(?<=<td[^>]*>)[a-z]\w*(?:\.\w+)+(?=<\/td>)/gi, (name) =>
    name.replaceAll(".", ".<wbr>"),
  );
}

/** The richest form of an output that a page can show. */
function richest(data: MimeBundle, count: Counter, isHalf: boolean): string {
  if (data[panelType] !== undefined) return (data[panelType] as { html: string }).html;
  if (data[figureType] !== undefined)
    return figureHtml(data[figureType], data["text/plain"], count, isHalf);
  if (data[drawingType] !== undefined) return drawingHtml(data[drawingType], count);
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

/** Figures and drawings of a page, counted from 1. */
interface Counter {
  figures: number;
}

/**
 * A figure: its picture, which stays where scripts are off and in print; the place where Plotly draws; what
 * it shows in words; buttons that save it.
 */
function figureHtml(given: unknown, alt: unknown, count: Counter, isHalf: boolean): string {
  const figure = given as PlotlyFigure & { readonly coldpathFrames?: FigureFrames };
  const { coldpathFrames: frames } = figure;
  const number = ++count.figures;
  const title = sentence(plainWords(titleOf(figure.layout as never)).replace(/\s+/g, " "));
  const words = String(alt ?? "A figure without a description.");
  const set = typesetFigure(figure);
  const picture = printed({ ...set, alt: words }, isHalf);
  const wide = fittedFigure(set, 680);
  const narrow = fittedFigure(set, 360);
  const bar = narrow.data.find((trace) => "colorbar" in trace) as { colorbar?: object } | undefined;
  const spec: PageFigure = {
    title,
    name: hyphened(title).slice(0, 60) || `figure-${number}`,
    data: wide.data,
    layout: wide.layout,
    narrow: { layout: narrow.layout, ...(bar?.colorbar && { colourBar: bar.colorbar }) },
    config: plotConfig(figure),
    ...(frames && {
      frames: {
        label: sentence(frames.label),
        start: typeset(frames.start),
        each: frames.each.map((frame) => ({
          name: typeset(frame.name),
          ...fittedFigure(typesetFigure(frame), 680),
          narrow: fittedFigure(typesetFigure(frame), 360).layout,
        })),
      },
    }),
  };
  const label = title || `Figure ${number}`;
  const buttons = ["SVG", "PNG", "CSV"].map(
    (kind) =>
      `<button type="button" data-save="${kind.toLowerCase()}" aria-label="${escapeHtml(`Save ${label} as ${kind}`)}">${kind}</button>`,
  );
  return [
    `<figure class="figure${picture ? "" : " without-picture"}${isHalf ? " half" : ""}" aria-labelledby="figure-${number}">`,
    picture ? `<div class="picture">${picture}</div>` : "",
    `<div class="plot" role="img" aria-label="${escapeHtml(words)}" hidden></div>`,
    `<p class="save">Save: ${buttons.join(" ")}</p>`,
    caption(number, title, picture ? "" : words),
    `<script type="application/json">${scriptJson(spec)}</script></figure>`,
  ].join("");
}

/** Sizes on paper, where a figure is as large as it is drawn, so that its words stay legible [px]. */
const onPaper = {
  plot: { width: 680, sizes: { high: 154, row: 24 } },
  twoPlots: { width: 680, sizes: { high: 136 } },
  map: { width: 600, sizes: { aside: 260 } },
  halfMap: { width: 336 },
} as const;

/** Whether an output is a map at equal scales, whose height follows its width. */
function isMap(part: Part | undefined): boolean {
  const data = part && "output_type" in part && part.output_type !== "stream" && part.data;
  const figure = data ? (data[figureType] as PlotlyFigure | undefined) : undefined;
  return (figure?.layout as FigureLayout | undefined)?.yaxis?.scaleanchor !== undefined;
}

/** The picture that is printed. */
function printed(figure: PlotlyFigure, isHalf: boolean): string | undefined {
  const { yaxis, yaxis2 } = figure.layout as FigureLayout;
  const map = isHalf ? onPaper.halfMap : onPaper.map;
  const kind = yaxis?.scaleanchor ? map : yaxis2 ? onPaper.twoPlots : onPaper.plot;
  return figurePicture(figure, { withTitle: false, ...kind });
}

function drawingHtml(given: unknown, count: Counter): string {
  const { title, svg, narrow, alt } = given as Readonly<Record<string, string>>;
  const number = ++count.figures;
  return [
    `<figure class="figure drawing" aria-labelledby="figure-${number}">`,
    `<div class="picture wide">${svg}</div><div class="picture narrow">${narrow}</div>`,
    `${caption(number, title!, alt!.split(":")[0]!.concat("."))}</figure>`,
  ].join("");
}

function caption(number: number, title: string, words: string): string {
  const heading = escapeHtml(`Figure ${number}.${title ? ` ${title}.` : ""}`);
  return `<figcaption id="figure-${number}"><strong>${heading}</strong>${words && ` <span class="alternative">${escapeHtml(words)}</span>`}</figcaption>`;
}

/** A caption begins with a capital. */
function sentence(text: string): string {
  return text.replace(/^\p{Ll}/u, (first) => first.toUpperCase());
}

/** Text without the escape sequences that colour it in a terminal. */
function withoutColour(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: the sequence starts with one
  return text.replace(/\u001b\[[0-9;]*[A-Za-z]/g, "");
}
