/**
 * Cross-sections of wires, ribbons and strips.
 * @module
 */

import { positive } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import type { Area, Length } from "../units/quantity.js";

/** A cross-section: round (`diameter`), rectangular (`width` and `thickness`), or just its `area`. */
export interface CrossSection {
  readonly diameter?: Length;
  readonly width?: Length;
  readonly thickness?: Length;
  readonly area?: Area;
}

/** π d²/4 [m²] */
export function roundArea(diameter: number): number {
  return (Math.PI * diameter ** 2) / 4;
}

/**
 * A cross-section in SI.
 * @returns its area [m²], and where its shape is given the smallest of its dimensions [m]
 * @throws FieldError when it is given in none or in more than one of the three ways
 */
export function crossSection(
  field: string,
  given: { readonly [K in keyof CrossSection]: CrossSection[K] | undefined },
): { readonly area: number; readonly smallest?: number } {
  const { diameter, width, thickness, area } = given;
  const rectangular = width !== undefined || thickness !== undefined;
  const ways = [diameter !== undefined, rectangular, area !== undefined].filter(Boolean).length;
  if (ways !== 1) {
    const named = Object.entries({ diameter, width, thickness, area })
      .filter(([, value]) => value !== undefined)
      .map(([name]) => name);
    throw new FieldError(
      field,
      "one cross-section: diameter, or width and thickness, or area",
      named.length === 0 ? "none of them" : named.join(", "),
    );
  }
  if (diameter !== undefined) {
    const d = positive(`${field}.diameter`, diameter, "length");
    return { area: roundArea(d), smallest: d };
  }
  if (rectangular) {
    const w = positive(`${field}.width`, width, "length");
    const t = positive(`${field}.thickness`, thickness, "length");
    return { area: w * t, smallest: Math.min(w, t) };
  }
  return { area: positive(`${field}.area`, area, "area") };
}
