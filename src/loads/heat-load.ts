/**
 * A heat load: watts, what they were made of, and the small table that shows them.
 * @module
 */
import type { Provenance } from "../provenance.js";
import { formatNumber } from "../units/format.js";
import {
  type Cell,
  markdownText,
  quantityCell,
  type Table,
  tableMarkdown,
  tableText,
} from "../units/table.js";

/** Heat that enters a node. */
export interface HeatLoad {
  /** As it stands in the budget. */
  readonly name: string;
  /** Power [W]. */
  readonly power: number;
  /** The numbers it was made of. */
  readonly provenance: readonly Provenance[];
  /** Figures on the way, by name with unit: `fraction dissipated`, `rate [1/s]`. */
  readonly details: Readonly<Record<string, number>>;
  /** Laws of it that were used outside their ranges; empty where every law holds. */
  readonly warnings: readonly string[];
}

/** Light that pixels absorb. */
export interface LightLoad extends HeatLoad {
  /** How many share it. */
  readonly pixels: number;
  /** On the average pixel [W]; `power` is that of all. */
  readonly powerPerPixel: number;
  /** Photons that all pixels absorb in the band [1/s]; 0 where the wavelength was not given. */
  readonly photonRate: number;
  /** On the average pixel [1/s] */
  readonly photonRatePerPixel: number;
  /** Where it comes from; their powers add up to `power`. */
  readonly parts: readonly LightPart[];
}

/** What one source of light brings to all pixels. */
export interface LightPart {
  /** Which part of the band or chain. */
  readonly name: string;
  /** Power [W]. */
  readonly power: number;
  /** In the band [1/s] */
  readonly photonRate: number;
}

/** Sum of loads [W]. */
export function totalPower(loads: readonly HeatLoad[]): number {
  return loads.reduce((sum, { power }) => sum + power, 0);
}

/** A light load from its parts. */
export function lightLoad(
  name: string,
  pixels: number,
  parts: readonly LightPart[],
  provenance: readonly Provenance[],
  details: Readonly<Record<string, number>> = {},
): LightLoad {
  const power = parts.reduce((sum, part) => sum + part.power, 0);
  const photonRate = parts.reduce((sum, part) => sum + part.photonRate, 0);
  return {
    name,
    power,
    pixels,
    powerPerPixel: power / pixels,
    photonRate,
    photonRatePerPixel: photonRate / pixels,
    parts,
    provenance,
    details,
    warnings: [],
  };
}

/** A load as Markdown. */
export function loadMarkdown(load: HeatLoad): string {
  const told = load.warnings.map((text) => `**Warning:** ${markdownText(text)}`);
  return [tableMarkdown(tableOf(load)), ...told].join("\n\n");
}

/** A load as plain text. */
export function loadText(load: HeatLoad): string {
  return [tableText(tableOf(load)), ...load.warnings.map((text) => `Warning: ${text}`)].join("\n");
}

/** What a load brings, from where, and the figures on the way. */
function tableOf(load: HeatLoad): Table {
  const row = (name: string, value: number, unit: string, photons = 0): readonly Cell[] => [
    name,
    quantityCell(value, unit),
    photons === 0 ? "" : formatNumber(photons),
  ];
  const { pixels = 1, parts = [], ...light }: HeatLoad & Partial<LightLoad> = load;
  const rows = parts.length > 1 ? parts.map((p) => row(p.name, p.power, "W", p.photonRate)) : [];
  rows.push(row(load.name, load.power, "W", light.photonRate));
  if (pixels > 1) {
    rows.push(row("on the average pixel", load.power / pixels, "W", light.photonRatePerPixel));
  }
  for (const [name, value] of Object.entries(load.details)) {
    const [, words, unit = ""] = /^(.*?)(?: \[(.*)\])?$/.exec(name)!;
    rows.push(row(words!, value, unit));
  }
  const columns = ["", "power", "photons a second"];
  const shown = rows.some(([, , photons]) => photons !== "") ? 3 : 2;
  return {
    title: "",
    columns: columns.slice(0, shown),
    numbersFrom: 1,
    rows: rows.map((cells) => cells.slice(0, shown)),
  };
}
