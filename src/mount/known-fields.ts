/**
 * The fields of what a mount hands on to a load's, a stage's or a resonator's own function. They check
 * the values; a misspelt field is found here, before it is left out of account.
 * @module
 */
import { aList } from "../units/checks.js";
import { FieldError, UnknownNameError } from "../units/errors.js";

/** Fields by name: `true` for a value, a shape for an object, a list of one shape for a list of them. */
export interface Shape {
  readonly [field: string]: true | Shape | readonly [Shape];
}

const resonatorShape: Shape = {
  superconductor: {
    material: true,
    sample: true,
    criticalTemperature: true,
    gapRatio: true,
    densityOfStates: true,
  },
  frequency: true,
  kineticInductanceFraction: true,
  otherQuality: true,
  filmThickness: true,
  penetrationDepth: true,
};
const curve: Shape = { csv: true, file: true, points: true, shorter: true, longer: true };

/** What each function takes. */
export const shapes = {
  resonator: resonatorShape,
  sky: {
    pixels: true,
    band: {
      name: true,
      system: true,
      zeroPoint: true,
      wavelength: true,
      width: true,
      transmission: curve,
    },
    sky: true,
    telescopeArea: true,
    pixelScale: true,
    throughput: curve,
    absorption: curve,
    star: { magnitude: true, extinction: true, shareOnBrightest: true },
  },
  millimetre: {
    pixels: true,
    from: true,
    to: true,
    modes: true,
    source: { temperature: true, opacity: true, airmass: true, airTemperature: true, behind: true },
    chain: [{ name: true, transmission: true, temperature: true }],
    absorption: true,
    law: true,
  },
  radiation: {
    pixels: true,
    source: { temperature: true, emissivity: true },
    through: { area: true, viewFactor: true, etendue: true, modes: true },
    filters: [{ name: true, temperature: true, transmission: curve, emissivity: true }],
    band: { from: true, to: true },
    absorption: curve,
  },
  lamp: { power: true, shareOnChip: true, absorption: true, wavelength: true, pixels: true },
  wiring: {
    members: [
      {
        material: true,
        diameter: true,
        innerDiameter: true,
        area: true,
        count: true,
        residualResistivityRatio: true,
        state: true,
        meanFreePath: true,
        sample: true,
      },
    ],
    count: true,
    stages: [{ name: true, temperature: true, length: true }],
  },
  spectrum: {
    csv: true,
    file: true,
    points: true,
    lines: [{ energy: true, rate: true, share: true }],
    from: true,
    to: true,
  },
  coolingCurve: { points: true, csv: true, file: true, base: true },
  dilution: { circulation: true, exchangerTemperature: true, base: true },
  demagnetisation: {
    salt: true,
    amount: true,
    mass: true,
    field: true,
    start: true,
    temperature: true,
  },
} as const satisfies Record<string, Shape>;

/** Fields of which just one may stand in an object. */
const alternatives: readonly (readonly string[])[] = [
  ["area", "etendue", "modes"],
  ["points", "csv"],
  ["amount", "mass"],
];

/**
 * Refuses fields that a shape does not have, at any depth; plain values pass where a shape is wanted,
 * since most functions take them too.
 * @throws UnknownNameError with the nearest name; FieldError for two fields that exclude each other
 */
export function onlyKnown(value: unknown, field: string, shape: Shape): void {
  if (typeof value !== "object" || value === null || Array.isArray(value)) return;
  const names = Object.keys(shape);
  for (const name of Object.keys(value)) {
    const at = `${field}.${name}`;
    const inner = Object.hasOwn(shape, name) ? shape[name] : undefined;
    if (inner === undefined) throw new UnknownNameError(at, "field", name, names);
    const given: unknown = (value as Readonly<Record<string, unknown>>)[name];
    if (Number.isNaN(given)) throw new FieldError(at, "a value", given);
    if (inner === true) continue;
    if (given === null) throw new FieldError(at, "an object, or nothing at all", given);
    if (!isList(inner)) onlyKnown(given, at, inner);
    else if (Array.isArray(given)) {
      aList<unknown>(at, given, "a list").forEach((entry, i) => {
        if (typeof entry !== "object" || entry === null) {
          throw new FieldError(
            `${at}[${i}]`,
            `an object with ${Object.keys(inner[0]).join(", ")}`,
            entry,
          );
        }
        onlyKnown(entry, `${at}[${i}]`, inner[0]);
      });
    } else if (given !== undefined) throw new FieldError(at, "a list", given);
  }
  for (const each of alternatives) {
    const present = each.filter((name) => names.includes(name) && Object.hasOwn(value, name));
    if (present.length > 1) {
      throw new FieldError(field, `only one of ${each.join(", ")}`, present.join(" and "));
    }
  }
}

function isList(inner: Shape | readonly [Shape]): inner is readonly [Shape] {
  return Array.isArray(inner);
}
