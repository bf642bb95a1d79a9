/**
 * Where a number came from. Every number that enters a result carries one of these up to the budget.
 * @module
 */

/** One number used in a result, with its source. */
export interface Provenance {
  /** What the number is, for example `gold: electron-phonon coupling`. */
  readonly quantity: string;
  /** The value, in the unit beside it. */
  readonly value: number;
  /** SI unit, for example `W/(m^3 K^5)`; empty for a pure number. */
  readonly unit: string;
  /** As stated by the source: `5 %`, `x2` (a factor either way), `0.3` (same unit), or empty. */
  readonly uncertainty: string;
  /** Author, title, journal, year; or `given` for a number the user gave. */
  readonly source: string;
  /** Table, equation or figure in the source; may be empty. */
  readonly where: string;
  /** Sample, conditions, and how it was read, from which `gradeOf` follows. */
  readonly note: string;
}

/**
 * How well a number of the catalogue is known to be what its source says: A read in the publication, B at second
 * hand, in an abstract, or computed from what was read, C not checked against the publication.
 */
export type Grade = "A" | "B" | "C";

/** The grade of a number, by its note. */
export function gradeOf({ note }: Pick<Provenance, "note">): Grade {
  if (/from memory|in memory|not read|estimate/.test(note)) return "C";
  if (/read in the publication(?!'s abstract)/.test(note)) return "A";
  return /read in|computed|own fit|cites it|arXiv/.test(note) ? "B" : "C";
}

/** Provenance of a number that the user wrote in a mount. */
export function given(quantity: string, value: number, unit: string, note = ""): Provenance {
  return { quantity, value, unit, uncertainty: "", source: "given", where: "", note };
}

/** How many stand side by side, where the user gave more than one. */
export function givenCount(field: string, count: number): readonly Provenance[] {
  return count === 1 ? [] : [given(`${field}: count`, count, "")];
}

/** Each number once, in the order of use. */
export function distinct(rows: Iterable<Provenance>): readonly Provenance[] {
  const found: Provenance[] = [];
  // By quantity first: to write every number as a text for a key costs more than all else here.
  const places = new Map<string, number[]>();
  for (const row of rows) {
    const known = places.get(row.quantity);
    const place = known?.find((at) => isSame(found[at]!, row)) ?? found.length;
    if (place === found.length) {
      if (known) known.push(place);
      else places.set(row.quantity, [place]);
    }
    found[place] = row;
  }
  return found;
}

function isSame(a: Provenance, b: Provenance): boolean {
  const isValue = a.value === b.value || (Number.isNaN(a.value) && Number.isNaN(b.value));
  return isValue && a.unit === b.unit && a.source === b.source;
}
