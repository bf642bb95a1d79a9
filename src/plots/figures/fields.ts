/**
 * How fields of a mount are named and scaled on an axis.
 * @module
 */

/** A field as an axis shows it. */
export interface FieldLabel {
  /** Name and unit: `bond length (mm)`. */
  readonly title: string;
  /** Multiply SI by this. */
  readonly factor: number;
}

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

/** Name, unit and factor of any numeric field of a mount. */
export function fieldLabel(field: string): FieldLabel {
  const known = labels[field];
  if (known) {
    const [name, unit, factor] = known;
    return { title: unit ? `${name} (${unit})` : name, factor };
  }
  const [unit, factor] = byLastWord[field.split(".").at(-1)!] ?? ["", 1];
  const name = field.replace(/\./g, " ").replace(/([A-Z])/g, (c) => ` ${c.toLowerCase()}`);
  return { title: unit ? `${name} (${unit})` : name, factor };
}
