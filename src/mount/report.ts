/**
 * A budget in print: text, Markdown, HTML and CSV from the same tables.
 * @module
 */
import type { Provenance } from "../provenance.js";
import {
  formatGiven,
  formatNumber,
  formatQuantity,
  formatShare,
  printedUnit,
} from "../units/format.js";
import {
  escapeHtml,
  markdownCell,
  type Table,
  tableHtml,
  tableLines,
  tableMarkdown,
} from "../units/table.js";
import type { Budget } from "./budget.js";

/** The budget in one sentence or two. */
export function budgetSummary(budget: Budget): string {
  const { chip, stage, margin, limit, governs } = budget;
  const reached =
    `The chip reaches ${kelvin(chip.temperature)} at its hottest place (${where(budget)}), ` +
    `${rise(chip.rise)} above the stage at ${kelvin(stage)}.`;
  const held =
    margin === undefined
      ? ""
      : margin >= 0
        ? ` The limit is ${kelvin(limit!)}: ${rise(margin)} of margin.`
        : ` The limit is ${kelvin(limit!)}: too warm by ${rise(-margin)}.`;
  // A rise of rounding has no part to name.
  if (!(chip.rise > 1e-9 * stage)) return `${reached}${held} No heat to speak of leaves it.`;
  const share = governs.drop / chip.rise;
  return (
    `${reached}${held} ${share > 0.5 ? "Most" : "The largest part"} of the rise, ` +
    `${rise(governs.drop)} or ${formatShare(share)}, falls over ${governs.name}.`
  );
}

/** The hottest place: on a sheet by its distance from the lower left corner. */
function where({ chip, field }: Budget): string {
  if (!field) return chip.name;
  const { x, y } = field.hottest;
  return `${formatQuantity(x, "m")} across and ${formatQuantity(y, "m")} up`;
}

/** Which model of the die was used, and what the quick one says. */
function modelOf({ field, quickRise, chip, stage }: Budget): string {
  if (!field)
    return `The die is the quick model: ${chip.name === "die" ? "one temperature" : "a centre and an edge"}.`;
  const { cellsX, cellsY } = field.grid;
  const quick =
    quickRise === undefined
      ? ""
      : ` The quick model, a centre and an edge, gives a rise of ${rise(quickRise)}: ` +
        `${rise(Math.abs(quickRise - chip.rise))} ${quickRise < chip.rise ? "too little" : "more"}.`;
  return (
    `The die is a sheet of ${cellsX} × ${cellsY} cells, on average ` +
    `${rise(field.mean - stage)} above the stage.${quick}`
  );
}

/** Temperatures below 1 K to a tenth of a millikelvin, since millikelvin decide. */
function kelvin(temperature: number): string {
  return formatQuantity(temperature, "K", 4);
}

function rise(difference: number): string {
  return formatQuantity(difference, "K", Math.abs(difference) < 1e-4 ? 2 : 3);
}

/** Heat, elements and temperatures. */
function resultTables(budget: Budget): readonly Table[] {
  const elements = [...budget.mainPath, ...budget.elements.filter(({ main }) => !main)];
  return [
    {
      title: "Heat in",
      columns: ["load", "on", "power", "share"],
      numbersFrom: 2,
      rows: [
        ...budget.sources.map(({ name, on, power, share }) => [
          name,
          on,
          formatQuantity(power, "W"),
          formatShare(share),
        ]),
        ["total", "", formatQuantity(budget.total, "W"), ""],
      ],
    },
    {
      title: "Elements from the chip to the stage",
      columns: ["element", "number", "heat", "share", "conductance", "drop", "of the rise"],
      numbersFrom: 1,
      rows: elements.map((e) => [
        e.main ? e.name : `${e.name} (beside the main path)`,
        String(e.count),
        formatQuantity(e.power, "W"),
        formatShare(e.share),
        Number.isFinite(e.conductance) ? formatQuantity(e.conductance, "W/K") : "",
        rise(e.drop),
        e.main && budget.chip.rise > 0 ? formatShare(e.drop / budget.chip.rise) : "",
      ]),
    },
    ...detectorTables(budget),
    {
      title: "Temperatures",
      columns: ["place", "temperature", "above the stage"],
      numbersFrom: 1,
      rows: budget.places.map((p) => [p.name, kelvin(p.temperature), rise(p.rise)]),
    },
  ];
}

function detectorTables({ detectors, cooling }: Budget): readonly Table[] {
  const tables: Table[] = [];
  if (cooling) {
    const { name, power, largest, holdTime } = cooling;
    const rows = [["heat it takes", formatQuantity(power, "W")]];
    if (largest !== undefined)
      rows.push(["most it is known to take", formatQuantity(largest, "W")]);
    if (holdTime !== undefined) {
      const hours = `${formatNumber(holdTime / 3600)} h`;
      rows.push(["holds for", Number.isFinite(holdTime) ? hours : "as long as there is no load"]);
    }
    tables.push({ title: `Stage: ${name}`, columns: ["quantity", "value"], numbersFrom: 1, rows });
  }
  if (detectors.length > 0) {
    tables.push({
      title: "Resonators at the hottest place",
      columns: ["resonator", "internal quality", "frequency shift", "thermal quasiparticles"],
      numbersFrom: 1,
      rows: detectors.map((d) => [
        d.name,
        formatNumber(d.internalQuality),
        `${formatNumber(1e6 * d.frequencyShift, 2)} ppm`,
        d.quasiparticleDensity === undefined
          ? ""
          : `${formatNumber(1e-18 * d.quasiparticleDensity)} /µm³`,
      ]),
    });
  }
  return tables;
}

/** Every number used, once: those of the catalogue by source, then those given in the mount. */
function numbersTables({ provenance }: Budget): readonly Table[] {
  const published = provenance.filter(({ source }) => source !== "given");
  const sources = [...new Set(published.map(({ source }) => source))];
  const own = provenance.filter(({ source }) => source === "given");
  const value = (p: Provenance) => printedUnit(formatGiven(p.value, p.unit));
  return [
    {
      title: "Numbers of the catalogue",
      columns: ["quantity", "value", "uncertainty", "source", "note"],
      numbersFrom: 5,
      rows: published.map((p) => [
        p.quantity,
        value(p),
        p.uncertainty.replace(/^x/, "× or ÷ "),
        `[${sources.indexOf(p.source) + 1}] ${p.where}`,
        p.note,
      ]),
    },
    {
      title: "Sources",
      columns: ["", "publication"],
      numbersFrom: 2,
      rows: sources.map((source, i) => [`[${i + 1}]`, source]),
    },
    {
      title: "Numbers given in the mount",
      columns: ["quantity", "value", "note"],
      numbersFrom: 3,
      rows: own.map((p) => [p.quantity, value(p), p.note]),
    },
  ];
}

/** For a terminal. */
export function budgetText(budget: Budget): string {
  const lines = [budget.name, "", budgetSummary(budget)];
  for (const warning of budget.warnings) lines.push(`Warning: ${warning}`);
  for (const table of resultTables(budget)) {
    lines.push("", table.title, ...tableLines(table).map((line) => `  ${line}`));
  }
  lines.push("", modelOf(budget), balance(budget), "", numbersText(budget));
  return lines.join("\n");
}

/** One line a number, since a terminal is narrow. */
export function numbersText(budget: Budget): string {
  return numbersTables(budget)
    .flatMap(({ title, rows }) => [
      title,
      ...rows.map((row) => `  ${row.filter((cell) => cell !== "").join("; ")}`),
    ])
    .join("\n");
}

/** For a notebook or a merge request. */
export function numbersMarkdown(budget: Budget): string {
  return numbersTables(budget).map(tableMarkdown).join("\n\n");
}

/** For a page. */
export function numbersHtml(budget: Budget): string {
  return numbersTables(budget).map(tableHtml).join("\n");
}

function balance({ solution: { steps, imbalance } }: Budget): string {
  return (
    `Solved in ${steps} steps; heat balances at every place to ` +
    `${imbalance.relative === 0 ? "the last digit" : `${formatNumber(imbalance.relative, 1)} of the largest flow`}.`
  );
}

/** For a notebook or a merge request. */
export function budgetMarkdown(budget: Budget): string {
  const parts = [`### ${markdownCell(budget.name)}`, markdownCell(budgetSummary(budget))];
  for (const warning of budget.warnings) parts.push(`**Warning:** ${markdownCell(warning)}`);
  parts.push(...resultTables(budget).map(tableMarkdown));
  parts.push(markdownCell(`${modelOf(budget)} ${balance(budget)}`), numbersMarkdown(budget));
  return parts.join("\n\n");
}

/** For a page: plain elements with classes, no style of its own; the sources are folded away. */
export function budgetHtml(budget: Budget): string {
  const warnings = budget.warnings.map((w) => `<li>${escapeHtml(w)}</li>`).join("");
  return [
    '<section class="budget">',
    `<h3>${escapeHtml(budget.name)}</h3>`,
    `<p>${escapeHtml(budgetSummary(budget))}</p>`,
    warnings && `<ul class="warnings">${warnings}</ul>`,
    ...resultTables(budget).map(tableHtml),
    `<p class="balance">${escapeHtml(`${modelOf(budget)} ${balance(budget)}`)}</p>`,
    `<details><summary>Where the numbers come from</summary>${numbersHtml(budget)}</details>`,
    "</section>",
  ]
    .filter(Boolean)
    .join("\n");
}

/** Every number of the budget in SI, one a row. */
export function budgetCsv(budget: Budget): string {
  const rows: (string | number)[][] = [
    ["section", "name", "from", "to", "quantity", "value", "unit", "uncertainty", "source", "note"],
  ];
  const put = (section: string, name: string, from: string, to: string) => {
    return (quantity: string, value: number, unit: string) =>
      rows.push([section, name, from, to, quantity, value, unit, "", "computed", ""]);
  };
  for (const { name, temperature } of budget.places) {
    put("place", name, "", "")("temperature", temperature, "K");
  }
  if (budget.limit !== undefined) {
    put("limit", budget.chip.name, "", "")("temperature", budget.limit, "K");
    put("limit", budget.chip.name, "", "")("margin", budget.margin!, "K");
  }
  for (const d of budget.detectors) {
    const row = put("resonator", d.name, "", "");
    row("internal quality", d.internalQuality, "");
    row("frequency shift", d.frequencyShift, "");
    if (d.quasiparticleDensity !== undefined) {
      row("quasiparticle density", d.quasiparticleDensity, "1/m^3");
    }
  }
  if (budget.cooling?.holdTime !== undefined && Number.isFinite(budget.cooling.holdTime)) {
    put("stage", budget.cooling.name, "", "")("hold time", budget.cooling.holdTime, "s");
  }
  for (const { name, on, power } of budget.sources) put("load", name, "", on)("power", power, "W");
  for (const e of budget.elements) {
    const row = put(e.main ? "main path" : "beside", e.name, e.from, e.to);
    row("number", e.count, "");
    row("heat", e.power, "W");
    if (Number.isFinite(e.conductance)) row("conductance", e.conductance, "W/K");
    row("drop", e.drop, "K");
  }
  for (const text of budget.warnings) {
    rows.push(["warning", "", "", "", "", "", "", "", "", text]);
  }
  for (const p of budget.provenance) {
    const source = [p.source, p.where].filter(Boolean).join("; ");
    rows.push([
      "number used",
      p.quantity,
      "",
      "",
      "",
      p.value,
      p.unit,
      p.uncertainty,
      source,
      p.note,
    ]);
  }
  return `${rows.map((row) => row.map(csvCell).join(",")).join("\r\n")}\r\n`;
}

/** RFC 4180 quoting; a leading = + - @ in text would be a formula to a spreadsheet. */
function csvCell(value: string | number): string {
  if (typeof value === "number") return String(value);
  const text = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text;
}
