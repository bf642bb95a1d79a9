/**
 * What a panel looks like, as HTML: made in Node for its first state, and in the page for each after it.
 * @module
 */
import type { Budget } from "../../mount/budget-result.js";
import type { Mount } from "../../mount/mount.js";
import { mountDrawing } from "../../plots/drawing/drawing.js";
import type { Figure } from "../../plots/figure.js";
import { figurePicture } from "../../plots/picture/picture.js";
import { escapeHtml } from "../../units/table.js";
import { caseWords } from "./cases.js";
import { answerRows, type PanelModel, valueText } from "./model.js";

/** The inputs and their numbers: what remains of the controls in print and without scripts. */
export function inputsHtml(
  { controls, case: shown }: Pick<PanelModel, "controls" | "case">,
  numbers: readonly number[],
): string {
  const rows = [
    ...controls.map((control, i) => [control.label, valueText(control, numbers[i]!)] as const),
    ...(shown === "nominal" ? [] : [["case", caseWords[shown].label] as const]),
  ];
  return `<table><caption>Inputs</caption><tbody>${rows.map((row) => rowHtml(row)).join("")}</tbody></table>`;
}

/** The answer; the chip's temperature with all its digits, in kelvin, as the value of its element. */
export function answerHtml(budget: Budget): string {
  const [[name, chip], ...rest] = answerRows(budget) as [[string, string], ...[string, string][]];
  const over = isOver(budget) ? ' class="panel-over"' : "";
  const first = `<tr><th scope="row">${name}</th><td${over}><data class="panel-chip" value="${budget.chip.temperature}">${escapeHtml(chip)}</data></td></tr>`;
  const warnings = budget.warnings.map((text) => `<li>${escapeHtml(text)}</li>`).join("");
  return (
    `<table><caption>Answer</caption><tbody>${first}${rest.map((row) => rowHtml(row, row[0] === "Limit" && isOver(budget))).join("")}</tbody></table>` +
    (warnings && `<ul class="panel-warnings">${warnings}</ul>`)
  );
}

function isOver({ margin }: Budget): boolean {
  return margin !== undefined && margin < 0;
}

/** A row; one over the limit has a mark beside its colour. */
export function rowHtml([name, value]: readonly [string, string], over = false): string {
  const cell = over
    ? `<td class="panel-over">✕ ${escapeHtml(value)}</td>`
    : `<td>${escapeHtml(value)}</td>`;
  return `<tr><th scope="row">${escapeHtml(name)}</th>${cell}</tr>`;
}

/** How wide pictures are drawn; the first state is drawn for both, and its style shows one. */
export type Width = "wide" | "narrow" | "both";

export function drawingHtml(mount: Mount, width: Width): string {
  const { svg, narrow } = mountDrawing(mount);
  return atWidth(width, (isWide) => (isWide ? svg : narrow));
}

export function pictureHtml(figure: Figure, width: Width): string {
  const words = `<p>${escapeHtml(figure.alt)}</p>`;
  return atWidth(width, (isWide) => figurePicture(figure, { width: isWide ? 680 : 350 }) ?? words);
}

function atWidth(width: Width, drawn: (isWide: boolean) => string): string {
  if (width !== "both") return drawn(width === "wide");
  return `<div class="panel-wide">${drawn(true)}</div><div class="panel-narrow">${drawn(false)}</div>`;
}

type PanelPart = "name" | "inputs" | "answer" | "drawing" | "drops" | "curve" | "source";

/** A panel in its first state; the page's script puts the controls in. */
export function panelHtml(
  id: string,
  data: string,
  state: Readonly<Record<PanelPart, string>>,
): string {
  return `<section class="coldpath-panel" id="${id}" data-lm-suppress-shortcuts="true" aria-label="Panel: ${escapeHtml(state.name)}">
<p class="panel-name">${escapeHtml(state.name)}</p>
<form class="panel-controls" hidden></form>
<div class="panel-inputs">${state.inputs}</div>
<div class="panel-shown">
<p class="panel-note" hidden></p>
<div class="panel-answer">${state.answer}</div>
<div class="panel-drops">${state.drops}</div>
<div class="panel-curve">${state.curve}</div>
<div class="panel-drawing">${state.drawing}</div>
</div>
<p class="panel-said" aria-live="polite"></p>
<details class="panel-mount"><summary>Mount as TypeScript</summary><textarea readonly rows="14" spellcheck="false" aria-label="Mount as TypeScript">${escapeHtml(state.source)}</textarea></details>
<script type="application/json" class="panel-data">${data}</script>
</section>`;
}
