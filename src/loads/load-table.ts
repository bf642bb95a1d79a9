/**
 * The small table of a load: what it brings, from where, and the figures on the way.
 * @module
 */
import { formatNumber, formatQuantity } from "../units/format.js";
import type { HeatLoad, LightLoad } from "./heat-load.js";

/** A load as Markdown. */
export function loadMarkdown(load: HeatLoad): string {
  const [head, ...rows] = tableOf(load);
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  const rule = line(head!.map((_, i) => (i === 0 ? "---" : "---:")));
  return [line(head!), rule, ...rows.map(line)].join("\n");
}

/** A load as plain text. */
export function loadText(load: HeatLoad): string {
  const rows = tableOf(load);
  const widths = rows[0]!.map((_, i) => Math.max(...rows.map((row) => row[i]!.length)));
  return rows
    .map((row) =>
      row
        .map((cell, i) => (i === 0 ? cell.padEnd(widths[i]!) : cell.padStart(widths[i]!)))
        .join("  ")
        .trimEnd(),
    )
    .join("\n");
}

function tableOf(load: HeatLoad): string[][] {
  const light = isLight(load) ? load : undefined;
  const lines: { name: string; power: string; photons: string }[] = [];
  const photons = (rate: number) => (rate === 0 ? "" : formatNumber(rate));
  const watts = (power: number) => formatQuantity(power, "W");
  if (light && light.parts.length > 1) {
    for (const { name, power, photonRate } of light.parts) {
      lines.push({ name, power: watts(power), photons: photons(photonRate) });
    }
  }
  lines.push({
    name: load.name,
    power: watts(load.power),
    photons: photons(light?.photonRate ?? 0),
  });
  if (light && light.pixels > 1) {
    lines.push({
      name: "on the average pixel",
      power: watts(light.powerPerPixel),
      photons: photons(light.photonRatePerPixel),
    });
  }
  for (const [name, value] of Object.entries(load.details)) {
    const [, words, unit = ""] = /^(.*?)(?: \[(.*)\])?$/.exec(name)!;
    lines.push({ name: words!, power: formatQuantity(value, unit), photons: "" });
  }
  const counted = lines.some((line) => line.photons !== "");
  const head = ["", "power", ...(counted ? ["photons a second"] : [])];
  return [
    head,
    ...lines.map(({ name, power, photons: rate }) => [name, power, ...(counted ? [rate] : [])]),
  ];
}

function isLight(load: HeatLoad): load is LightLoad {
  return "parts" in load && "pixels" in load;
}
