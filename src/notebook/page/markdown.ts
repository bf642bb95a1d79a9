/**
 * Markdown to HTML (the only module that imports marked), for two kinds of text: the notebook's own, whose raw
 * HTML stays, and what a cell put out, whose raw HTML is shown as text.
 * @module
 */
import { Marked, type RendererObject } from "marked";
import { escapeHtml } from "../../units/table.js";

const everywhere: RendererObject = {
  // A page holds no picture from elsewhere: it must open without a network and as one file.
  image({ href, title, text }) {
    if (!/^data:image\//i.test(href)) return `<span>[picture: ${escapeHtml(text)}]</span>`;
    const caption = title ? ` title="${escapeHtml(title)}"` : "";
    return `<img src="${escapeHtml(href)}" alt="${escapeHtml(text)}"${caption}>`;
  },
  link({ href, tokens }) {
    const inner = this.parser.parseInline(tokens);
    // Another notebook is another page beside this one.
    const page = /^([\w-]+)\.ipynb(#[\w-]+)?$/.exec(href);
    if (page) return `<a href="${page[1]}.html${page[2] ?? ""}">${inner}</a>`;
    if (!/^(https?:|mailto:|#)/i.test(href)) return inner;
    return `<a href="${escapeHtml(href)}" rel="noreferrer">${inner}</a>`;
  },
  code({ text }) {
    return `<pre><code>${escapeHtml(text)}\n</code></pre>\n`;
  },
  // An empty cell heads no column.
  tablecell({ tokens, header, align }) {
    const inner = this.parser.parseInline(tokens);
    const aligned = align ? ` align="${align}"` : "";
    return header && inner !== ""
      ? `<th scope="col"${aligned}>${inner}</th>\n`
      : `<td${aligned}>${inner}</td>\n`;
  },
};

const own = new Marked({ gfm: true, renderer: everywhere });
const foreign = new Marked({
  gfm: true,
  renderer: { ...everywhere, html: ({ text }) => escapeHtml(text) },
});

/** The notebook's own text as HTML; HTML in it stays. */
export function ownMarkdown(text: string): string {
  return own.parse(text, { async: false });
}

/** What a cell put out as HTML; HTML in it is shown as text. */
export function foreignMarkdown(text: string): string {
  return foreign.parse(text, { async: false });
}
