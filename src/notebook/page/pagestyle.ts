/**
 * The page's style: one column, light or dark as the reader's system asks, and paper in print.
 * Print shows the pictures of the figures, which fit on A4 and Letter; the screen shows Plotly where it runs.
 * @module
 */
export const pageStyle = `
:root { color-scheme: light dark; --ink: #1d2226; --soft: #5a646c; --paper: #fbfbf9;
  --panel: #f0f1ed; --line: #d3d6d0; --accent: #1f5f8b; --warning: #8a3b12; }
@media screen and (prefers-color-scheme: dark) {
  :root { --ink: #dfe3e6; --soft: #9aa5ad; --paper: #15191c; --panel: #1f2529; --line: #39424a;
    --accent: #7db8e0; --warning: #f0a27a; } }
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink);
  font: 1rem/1.55 system-ui, "DejaVu Sans", "Liberation Sans", sans-serif; }
main, footer { max-width: 720px; margin: 0 auto; padding: 0 20px; }
main { padding-top: 2rem; }
h1, h2, h3 { line-height: 1.25; font-weight: 600; margin: 1.6em 0 0.4em; }
h1 { font-size: 1.8rem; margin-top: 0; } h2 { font-size: 1.3rem; } h3 { font-size: 1.08rem; }
a { color: var(--accent); }
.answer { margin: 1rem 0 1.2rem; padding: 0.9rem 1.1rem; background: var(--panel);
  border-left: 4px solid var(--accent); }
.answer h2 { margin: 0 0 0.4rem; font-size: 0.85rem; color: var(--soft); }
.answer table { width: 100%; margin: 0; font-size: 1rem; }
.answer td { border: 0; padding: 0.15rem 1rem 0.15rem 0; text-align: left; }
.answer tr:first-child td { font-size: 1.1rem; font-weight: 600; }
.answer td:first-child { white-space: nowrap; }
pre, code { font-family: ui-monospace, "DejaVu Sans Mono", "Liberation Mono", monospace; font-size: 0.86rem; }
pre { margin: 0.6rem 0; padding: 0.7rem 0.9rem; background: var(--panel); white-space: pre-wrap;
  overflow-wrap: anywhere; line-height: 1.45; }
.skip { position: absolute; left: -999px; padding: 0.5rem 1rem; background: var(--paper); }
.skip:focus { left: 0.5rem; top: 0.5rem; z-index: 9; }
.contents { margin: 0 0 1.5rem; font-size: 0.9rem; } .contents ul { margin: 0; padding: 0; }
.contents li { display: inline-block; margin: 0 1.2rem 0 0; line-height: 1.75rem; }
.contents .folded a { color: var(--soft); }
summary { min-height: 24px; cursor: pointer; }
details.section { border-top: 1px solid var(--line); }
details.section > summary { padding: 0.5rem 0; }
details.section > summary h2 { display: inline; font-size: 1.08rem; margin: 0; }
pre.stderr { border-left: 4px solid var(--warning); }
details.code { margin: 0.8rem 0; }
details.code summary { color: var(--soft); font-size: 0.85rem; cursor: pointer; }
.text, .output { overflow-x: auto; }
.output { background: linear-gradient(to right, var(--paper) 50%, transparent) 0 0 / 40px 100%, linear-gradient(to left, var(--paper) 50%, transparent) 100% 0 / 40px 100%,
  linear-gradient(to right, var(--soft), transparent) 0 0 / 10px 100%, linear-gradient(to left, var(--soft), transparent) 100% 0 / 10px 100%;
  background-attachment: local, local, scroll, scroll; background-repeat: no-repeat; }
table { border-collapse: collapse; margin: 0.8rem 0; font-size: 0.92rem; font-variant-numeric: tabular-nums; }
th, td { padding: 0.3rem 0.8rem 0.3rem 0; border-bottom: 1px solid var(--line); text-align: left; vertical-align: top; }
th { font-weight: 600; border-bottom-color: var(--soft); }
caption { text-align: left; font-weight: 600; padding: 0.6rem 0 0.2rem; }
.result table { min-width: 60%; }
td.number { white-space: nowrap; } td.named { white-space: normal; } .number { text-align: right; }
th.number, td.number { padding-left: 0.8rem; padding-right: 0; }
.warnings { color: var(--warning); }
.filter { display: block; margin: 0.6rem 0 0; font-size: 0.86rem; color: var(--soft); }
.filter input, .slider input { font: inherit; margin: 0 0.6rem; vertical-align: middle; min-height: 24px; }
.slider { display: block; margin: 0.3rem 0 0; font-size: 0.86rem; } .slider input { width: min(22rem, 45%); }
th button { font: inherit; color: inherit; background: none; border: 0; padding: 0; min-height: 24px; min-width: 24px; text-align: inherit; cursor: pointer; }
th button::after { content: " ↕"; color: var(--soft); } th[aria-sort="ascending"] button::after { content: " ↑"; } th[aria-sort="descending"] button::after { content: " ↓"; }
[align="right"] { text-align: right; } td[align="right"] { white-space: nowrap; } [align="center"] { text-align: center; }
.figure { margin: 1rem 0; max-width: 680px; }
.figure .plot { width: 100%; min-height: 2rem; }
.figure .picture svg { display: block; max-width: 100%; height: auto; }
.figure.drawn .picture, .drawing .narrow, .figure .save { display: none; }
.figure.drawn .save { display: block; }
.figure .save { margin: 0.3rem 0 0; font-size: 0.82rem; color: var(--soft); }
.figure button { font: inherit; color: var(--accent); background: none; border: 1px solid var(--line);
  border-radius: 3px; padding: 0.1rem 0.5rem; min-height: 24px; min-width: 24px; cursor: pointer; }
.figure button:hover, .figure button:focus-visible { border-color: var(--accent); }
.figure figcaption { margin: 0.4rem 0 0; font-size: 0.86rem; line-height: 1.45; color: var(--soft); }
.figure figcaption strong { color: var(--ink); font-weight: 600; }
@media screen and (max-width: 600px) {
  main, footer { padding: 0 14px; }
  .answer tr { display: block; } .answer td { display: block; padding: 0; }
  .answer td:first-child { font-size: 0.86rem; color: var(--soft); padding-top: 0.4rem; }
  table { font-size: 0.84rem; } th, td { overflow-wrap: break-word; }
  td.number, td[align="right"] { white-space: normal; } th.number, td.number { padding-left: 0.5rem; }
  th, td { padding-right: 0.4rem; }
  .drawing .wide { display: none; } .drawing .narrow { display: block; } }
img, svg { max-width: 100%; }
.plot svg { max-width: none; }
footer { margin-top: 3rem; padding-top: 0.8rem; padding-bottom: 2rem; color: var(--soft); font-size: 0.82rem; }
@media print {
  @page { margin: 14mm 14mm 16mm; @bottom-right { content: counter(page) " / " counter(pages); font: 8pt sans-serif; white-space: nowrap; } }
  :root { font-size: 10pt; }
  body { background: #fff; line-height: 1.45; }
  main, footer { max-width: none; padding: 0; }
  h1 { font-size: 1.5rem; } h2 { margin-top: 0.9em; }
  .answer, .figure, p, ul, blockquote { margin-top: 0.5rem; margin-bottom: 0.5rem; }
  .figure, .answer, table, tr, img { break-inside: avoid; }
  .contents, .skip { display: none; }
  .figure { max-width: none; }
  .figure .picture, .figure.drawn .picture, .drawing .wide { display: block; }
  .picture svg { max-height: 225mm; }
  .figure.half { display: inline-block; width: 49%; vertical-align: top; }
  .drawing .narrow, .figure.drawn .save, .figure.drawn:not(.without-picture) .plot { display: none; }
  .figure figcaption { break-before: avoid; }
  h1, h2, h3 { break-after: avoid; }
  pre { white-space: pre-wrap; overflow-wrap: anywhere; }
  .text, .output { overflow: visible; background: none; }
  details:not([open]), .modebar-container, .filter, .slider { display: none; }
  th button::after { content: none; }
  .answer, pre { print-color-adjust: exact; }
}
`;
