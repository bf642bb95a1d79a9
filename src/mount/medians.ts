/**
 * Medians in the place of the spreads of a description.
 * @module
 */
import { siSpelling } from "../materials/table.js";
import { FieldError } from "../units/errors.js";
import { dimensionOf, toSI, unitFactor, unitOf } from "../units/quantity.js";
import { distributionOf, isSpread, type Spread } from "../units/spread.js";
import { type Hearing, heard } from "./fields.js";

/** No description goes deeper; what does was made by a program that went wrong, or by malice. */
const deepest = 30;

/** Whether there is any spread in a description. @throws FieldError for one that has no bottom */
export function hasSpread(value: unknown, field: string, depth = 0): boolean {
  if (typeof value !== "object" || value === null) return false;
  if (depth > deepest) throw new FieldError(field, `objects at most ${deepest} deep`, "more");
  return isSpread(value) || Object.values(value).some((each) => hasSpread(each, field, depth + 1));
}

/**
 * What another function is to read, with medians in SI in the place of spreads, at any depth. Their
 * dimension is that of their own unit; the function checks it.
 * @throws FieldError
 */
export function withMedians(value: unknown, field: string): unknown {
  if (!hasSpread(value, field)) return value;
  return replaced(value, field, (spread, at) => {
    if (/\b(count|pixels|tones)$/.test(at)) {
      throw new FieldError(at, "a whole number, no spread", spread);
    }
    let unit = "";
    const distribution = distributionOf(
      spread,
      (end) => {
        if (typeof end === "number" && Number.isFinite(end)) return end;
        const read = typeof end === "string" ? fromText(end) : undefined;
        if (!read) throw new FieldError(at, "a spread between two quantities", end);
        if (unit !== "" && read.unit !== unit) {
          throw new FieldError(at, `a spread between two quantities in ${unit}`, end);
        }
        unit = read.unit;
        return read.value;
      },
      at,
    );
    (spread as { readonly [heard]?: Hearing })[heard]?.(at, unit, distribution);
    // With its unit, so that the function that reads it can tell a wrong dimension.
    return unit === "" ? distribution.median : `${distribution.median} ${unit}`;
  });
}

/** A text with a unit, in SI. */
function fromText(text: string): { value: number; unit: string } | undefined {
  const [, digits, symbol] = /^\s*([+-]?[\d.]+(?:e[+-]?\d+)?)\s*(\S.*?)\s*$/i.exec(text) ?? [];
  if (digits === undefined || symbol === undefined) return undefined;
  const dimension = dimensionOf(symbol);
  if (dimension) return { value: toSI("spread", text, dimension), unit: unitOf(dimension) };
  const unit = siSpelling(symbol);
  const factor = unit === undefined ? undefined : unitFactor(symbol, unit);
  return factor === undefined ? undefined : { value: Number(digits) * factor, unit: unit! };
}

/** A copy with something else in the place of every spread. */
export function replaced(
  value: unknown,
  field: string,
  by: (spread: Spread, field: string) => unknown,
): unknown {
  if (typeof value !== "object" || value === null) return value;
  if (isSpread(value)) return by(value, field);
  if (Array.isArray(value)) return value.map((entry, i) => replaced(entry, `${field}[${i}]`, by));
  return Object.fromEntries(
    Object.entries(value).map(([key, entry]) => [
      key,
      replaced(entry, field === "" ? key : `${field}.${key}`, by),
    ]),
  );
}
