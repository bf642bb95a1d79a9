/**
 * Errors that name the field, the value that came, and what was wanted.
 * @module
 */

import { printable } from "./format.js";

/** Wrong input: `field: expected wanted, got value`. */
export class FieldError extends Error {
  override readonly name = "FieldError";
  constructor(
    /** Path of the field, for example `bonds.diameter`, or `gold.csv:12 value`. */
    readonly field: string,
    /** What was wanted, in words. */
    readonly wanted: string,
    /** What came. */
    readonly value: unknown,
    /** What else helps, such as the units that are known. */
    readonly more: string = "",
  ) {
    super(printable(`${field}: expected ${wanted}, got ${describe(value)}${more && ` (${more})`}`));
  }

  /** The same error, of a field that is called otherwise. */
  at(field: string): FieldError {
    return new FieldError(field, this.wanted, this.value, this.more);
  }
}

/** A name that is not known, with the known ones and the nearest. */
export class UnknownNameError extends Error {
  override readonly name = "UnknownNameError";
  constructor(
    /** Path of the field. */
    readonly field: string,
    /** What it should be a name of. */
    readonly kind: string,
    /** What came. */
    readonly value: unknown,
    /** Names that are known. */
    readonly known: readonly string[],
  ) {
    const near = typeof value === "string" ? nearest(value, known) : undefined;
    super(
      printable(
        `${field}: ${kind} ${describe(value)} is not known` +
          (near === undefined ? "." : `, did you mean ${JSON.stringify(near)}?`) +
          ` Known: ${known.join(", ") || "none"}`,
      ),
    );
  }
}

/** A value as it looks in an error message: short, and never throwing. */
export function describe(value: unknown): string {
  if (typeof value === "string") return JSON.stringify(clip(value));
  if (typeof value === "number" || typeof value === "boolean" || value == null)
    return String(value);
  if (typeof value === "bigint") return `${value}n`;
  if (typeof value === "function" || typeof value === "symbol") return `a ${typeof value}`;
  try {
    return clip(JSON.stringify(value) ?? `a ${typeof value}`);
  } catch {
    return "an object";
  }
}

function clip(text: string): string {
  return text.length > 80 ? `${text.slice(0, 77)}...` : text;
}

/** The known name nearest to what was written, or undefined when none is near. */
export function nearest(written: string, known: readonly string[]): string | undefined {
  const word = written.slice(0, 80).toLowerCase();
  let best: string | undefined;
  let bestDistance = Math.max(2, Math.floor(word.length / 3)) + 1;
  for (const name of known) {
    const distance = editDistance(word, name.toLowerCase());
    if (distance < bestDistance) [best, bestDistance] = [name, distance];
  }
  return best;
}

/** Levenshtein distance: insertions, deletions and replacements from one word to the other. */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const replaced = row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(replaced, row[j]! + 1, next[j - 1]! + 1));
    }
    row = next;
  }
  return row[b.length]!;
}
