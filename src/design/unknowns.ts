/**
 * What of a mount is not known: its spreads, and the numbers of the catalogue that it may use.
 * @module
 */
import type { Catalogue } from "../materials/types.js";
import type { VariedRow } from "../materials/varied.js";
import type { Mount } from "../mount/description.js";
import { sourceNames } from "../mount/heat-sources.js";
import { type PlainMount, readMount } from "../mount/read.js";
import { spreadsOf } from "../mount/spreads.js";
import { translate } from "../mount/translate.js";
import { logNormal } from "../units/spread.js";
import { setNumber } from "./compiled-mount.js";
import type { Changed } from "./slopes.js";

/** One thing that is not known. */
export interface Unknown {
  /** In words: `pads: thickness`, `gold: electron-phonon coupling, coefficient`. */
  readonly name: string;
  /** Path of the field, when it is one of the mount. */
  readonly field?: string;
  /** Key of the row, when it is one of the catalogue: `materials/gold.csv:5`. */
  readonly row?: string;
  /** SI unit; empty for a pure number. */
  readonly unit: string;
  readonly median: number;
  /** Ends of the middle 90 %. */
  readonly low: number;
  readonly high: number;
  /** `given`, or author, title, journal and year of the row. */
  readonly source: string;
  /** The value that a share u of all values lies below, 0 < u < 1. */
  quantile(u: number): number;
}

/** The unknowns of a mount, each to be given a value. */
export class Unknowns {
  constructor(
    readonly list: readonly Unknown[],
    /** Every unknown at its median. */
    readonly mount: PlainMount,
    readonly catalogue: Catalogue,
  ) {}

  /** The mount and the catalogue with one of them at x, the others at their medians. */
  with({ field, row, median }: Unknown, x: number): Changed {
    const { mount, catalogue } = this;
    if (row !== undefined) {
      return { mount, catalogue: catalogue.withFactors(new Map([[row, x / median]])) };
    }
    const changed = structuredClone(mount);
    setNumber(changed, field!, x);
    return { mount: changed, catalogue };
  }
}

/**
 * The spreads of a mount, and with `rows` every uncertain number of the materials, joints and loads that
 * it asks the catalogue for; some of them it may not use.
 * @throws FieldError or UnknownNameError as `readMount`
 */
export function unknownsOf(
  mount: Mount,
  catalogue: Catalogue,
  { rows = false }: { readonly rows?: boolean } = {},
): Unknowns {
  const plain = readMount(mount);
  const spreads = spreadsOf(mount).map(({ field, unit, distribution }): Unknown => {
    const { median, low, high, quantile } = distribution;
    return {
      name: inWords(field, plain),
      field,
      unit,
      median,
      low,
      high,
      quantile,
      source: "given",
    };
  });
  const asked = rows ? filesAsked(plain, catalogue) : new Set<string>();
  const ofCatalogue = catalogue
    .rows()
    .filter(({ key }) => asked.has(key.replace(/\.csv:\d+$/, "")))
    .map(ofRow);
  return new Unknowns([...spreads, ...ofCatalogue], plain, catalogue);
}

function ofRow({ key, quantity, value, unit, factor, source }: VariedRow): Unknown {
  const { quantile } = logNormal(1 / factor, factor);
  const [low, high] =
    value > 0 ? [value / factor, value * factor] : [value * factor, value / factor];
  return {
    name: quantity,
    row: key,
    unit,
    median: value,
    low,
    high,
    source,
    quantile: value > 0 ? (u) => value * quantile(u) : (u) => value * quantile(1 - u),
  };
}

/** Files of the catalogue that the mount asks when it is translated: `materials/gold`. */
function filesAsked(mount: PlainMount, catalogue: Catalogue): ReadonlySet<string> {
  const files = new Set<string>();
  translate(mount, {
    ...catalogue,
    material(name, field) {
      files.add(`materials/${name}`);
      return catalogue.material(name, field);
    },
    laws(folder, kind) {
      files.add(`${folder}/${kind}`);
      return catalogue.laws(folder, kind);
    },
  });
  return files;
}

/** A field by its part or load and its own name. */
function inWords(field: string, { loads }: PlainMount): string {
  const words = (key: string) => key.replace(/([A-Z])/g, (letter) => ` ${letter.toLowerCase()}`);
  const [first, ...rest] = field.split(".");
  if (first === "loads") {
    return `${sourceNames(loads)[Number(rest[0])]}: ${rest.slice(1).map(words).join(", ")}`;
  }
  if (rest.length === 0) return words(first!);
  const numbered = rest.map((key) => (/^\d+$/.test(key) ? `${Number(key) + 1}` : words(key)));
  return `${words(first!)}: ${numbered.join(", ")}`;
}
