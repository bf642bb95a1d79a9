/**
 * How fields of a mount are named and scaled on an axis.
 * @module
 */
import type { Sweep } from "../../design/sweeping/sweep-result.js";
import type { FigureOptions } from "../figure.js";
import { lineAt, type Marks } from "../figure-parts.js";
import { type AxisScale, ink, note, rounded } from "../style.js";

/** The fields people sweep most, in the unit they say them in. */
const labels: Readonly<Record<string, readonly [name: string, unit: string, factor: number]>> = {
  "bonds.count": ["number of bonds", "", 1],
  "bonds.length": ["bond length", "mm", 1e3],
  "bonds.diameter": ["wire diameter", "µm", 1e6],
  "bonds.residualResistivityRatio": ["residual resistivity ratio of the bonds", "", 1],
  "bonds.footResistance": ["resistance of a bond foot", "mΩ", 1e3],
  "pads.thickness": ["pad thickness", "nm", 1e9],
  "pads.width": ["pad width", "µm", 1e6],
  "pads.length": ["pad length", "µm", 1e6],
  "pads.residualResistivityRatio": ["residual resistivity ratio of the pads", "", 1],
  "die.thickness": ["die thickness", "mm", 1e3],
  "die.width": ["die width", "mm", 1e3],
  "die.length": ["die length", "mm", 1e3],
  "die.meanFreePath": ["mean free path of phonons in the die", "mm", 1e3],
  "box.pathLength": ["path through the box", "mm", 1e3],
  "box.crossSection": ["cross-section of the box wall", "mm²", 1e6],
  stage: ["stage temperature", "mK", 1e3],
};

/** Units of fields not listed above, by their last word. */
const byLastWord: Readonly<Record<string, readonly [unit: string, factor: number]>> = {
  length: ["mm", 1e3],
  width: ["mm", 1e3],
  thickness: ["µm", 1e6],
  diameter: ["µm", 1e6],
  area: ["mm²", 1e6],
  force: ["N", 1],
  power: ["nW", 1e9],
  powerPerPixel: ["pW", 1e12],
  powerPerTone: ["pW", 1e12],
  resistance: ["µΩ", 1e6],
  conductance: ["µW/K", 1e6],
  temperature: ["K", 1],
  from: ["K", 1],
};

/**
 * How an axis shows a numeric field of a mount: its name and its unit, empty for a pure number, both
 * in a title as `bond length (mm)`; and the factor from SI to the unit.
 */
export function fieldLabel(field: string) {
  const ownName = field.replace(/\./g, " ").replace(/([A-Z])/g, (c) => ` ${c.toLowerCase()}`);
  const [name, unit, factor] = labels[field] ?? [
    ownName,
    ...(byLastWord[field.split(".").at(-1)!] ?? (["", 1] as const)),
  ];
  return { title: unit ? `${name} (${unit})` : name, name, unit, factor };
}

/** What a figure along a field shows beside its curves. */
export interface AlongOptions extends FigureOptions {
  /** Highest rise allowed [K]. */
  readonly limit?: number;
  /** Scale of the swept field's axis; linear when absent. */
  readonly scale?: AxisScale;
}

/** A value of a field to mark with a dotted line. */
export interface FieldMark {
  /** Value of the field [SI]. */
  readonly at: number;
  /** What it is. */
  readonly text: string;
}

/** A swept field as an axis shows it, and its values in the unit of the axis. */
export function fieldAlong({ field, values }: Sweep["axes"][number]) {
  const label = fieldLabel(field);
  return { ...label, values: rounded(values.map((v) => v * label.factor)) };
}

/** A dotted line at a marked value, with its text beside the top. @param at - on the axis */
export function markLine(at: number, text: string, scale: AxisScale, place: object = {}): Marks {
  const x = scale === "logarithmic" ? Math.log10(at) : at;
  const beside = { x, y: 1, yref: "paper", yanchor: "top", xanchor: "left", xshift: 4, ...place };
  return {
    shapes: [lineAt("x", at, { color: ink, width: 1.5, dash: "dot" })],
    annotations: [note(text, beside)],
  };
}
