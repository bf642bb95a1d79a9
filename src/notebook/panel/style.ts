/**
 * The look of a panel. Text takes the colour of what is around it, so that it reads in a notebook of
 * any theme and on the page; controls stand below each other where the window is narrow.
 * @module
 */
export const panelStyle = `
.coldpath-panel { margin: 1.2rem 0; padding: 0.9rem 1rem; border: 1px solid color-mix(in srgb, currentColor 30%, transparent);
  max-width: 720px; box-sizing: border-box; line-height: 1.45; container-type: inline-size; }
.coldpath-panel * { box-sizing: border-box; }
.coldpath-panel .panel-name { margin: 0 0 0.7rem; font-weight: 600; overflow-wrap: anywhere; }
.coldpath-panel .panel-controls { display: grid; gap: 0.7rem; margin: 0 0 0.8rem; }
.coldpath-panel [hidden] { display: none; }
.coldpath-panel .panel-control { display: grid; gap: 0.15rem 0.8rem; align-items: center;
  grid-template-columns: minmax(9rem, 14rem) minmax(6rem, 1fr) 7rem 3.2rem; }
.coldpath-panel input[type="range"] { width: 100%; margin: 0; min-height: 1.6rem; accent-color: #1f7ab8; }
.coldpath-panel input[type="text"] { width: 100%; font: inherit; padding: 0.15rem 0.3rem; text-align: right; }
.coldpath-panel input[aria-invalid="true"] { outline: 2px solid #b00020; }
.coldpath-panel .panel-error { grid-column: 1 / -1; margin: 0; padding: 0.2rem 0.5rem; border-left: 4px solid #b00020; overflow-wrap: anywhere; }
.coldpath-panel .panel-cases { display: flex; flex-wrap: wrap; gap: 0.1rem 1.1rem; margin: 0; padding: 0; border: 0; }
.coldpath-panel .panel-cases legend { float: left; padding: 0; margin-right: 1.1rem; }
.coldpath-panel .panel-cases label { min-height: 24px; }
.coldpath-panel .panel-buttons { display: flex; flex-wrap: wrap; gap: 0.6rem; align-items: center; }
.coldpath-panel button { font: inherit; padding: 0.2rem 0.8rem; min-height: 1.8rem; cursor: pointer; }
.coldpath-panel.panel-live .panel-inputs { display: none; }
.coldpath-panel table { border-collapse: collapse; margin: 0 0 0.6rem; width: 100%; font-variant-numeric: tabular-nums; }
.coldpath-panel caption { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
.coldpath-panel th, .coldpath-panel td { text-align: left; vertical-align: top; padding: 0.15rem 0.8rem 0.15rem 0; border: 0; background: none; }
.coldpath-panel th { width: 14rem; font-weight: 400; }
.coldpath-panel .panel-chip { font-size: 1.35rem; font-weight: 600; }
.coldpath-panel .panel-over { color: #b00020; font-weight: 600; }
@media screen and (prefers-color-scheme: dark) { .coldpath-panel .panel-over { color: #ff8a8a; } }
.coldpath-panel .panel-warnings { margin: 0 0 0.6rem; padding-left: 1.2rem; }
.coldpath-panel .panel-note { margin: 0 0 0.5rem; font-style: italic; }
.coldpath-panel .panel-said { position: absolute; width: 1px; height: 1px; margin: 0; overflow: hidden; clip-path: inset(50%); }
.coldpath-panel.panel-stale .panel-answer, .coldpath-panel.panel-stale .panel-drawing,
.coldpath-panel.panel-stale .panel-drops, .coldpath-panel.panel-stale .panel-curve { opacity: 0.65; filter: grayscale(1); }
.coldpath-panel .panel-curve.panel-waiting { opacity: 0.75; }
.coldpath-panel svg { display: block; max-width: 100%; height: auto; }
.coldpath-panel .panel-shown { overflow-x: auto; }
.coldpath-panel textarea { width: 100%; font: 0.8rem/1.4 ui-monospace, "DejaVu Sans Mono", monospace; white-space: pre; overflow: auto; }
.coldpath-panel .panel-narrow { display: none; }
.coldpath-panel summary { min-height: 24px; }
.coldpath-panel .panel-controls { position: sticky; top: 0; z-index: 2; padding: 0.4rem 0; background: var(--paper, Canvas);
  max-height: 55vh; overflow-y: auto; }
@container (max-width: 560px) {
  .coldpath-panel .panel-narrow { display: block; }
  .coldpath-panel .panel-wide { display: none; }
  .coldpath-panel .panel-control { grid-template-columns: 1fr 7rem 3.2rem; }
  .coldpath-panel .panel-control label { grid-column: 1 / -1; }
  .coldpath-panel th { width: auto; }
}
@media print {
  .coldpath-panel .panel-controls, .coldpath-panel .panel-mount { display: none; }
  .coldpath-panel.panel-live .panel-inputs { display: block; }
  .coldpath-panel .panel-shown { overflow: visible; }
  .coldpath-panel .panel-drops, .coldpath-panel .panel-curve, .coldpath-panel .panel-drawing, .coldpath-panel table { break-inside: avoid; }
}
`;
