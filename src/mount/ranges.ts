/**
 * Holds a result against the ranges of temperature that the laws are backed in.
 * @module
 */

import type { Conductor, TemperatureRange } from "../conductor.js";
import { formatQuantity } from "../units/format.js";
import { spreading } from "./die-parts.js";
import { place } from "./part.js";
import { coolingLinks, type Reading, type Translation } from "./translate.js";

/** A heat path with the law that is held against its ranges. */
export interface RangedPath {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  readonly conductor: Conductor;
}

/**
 * Warnings for every heat path that was used outside a range of its law.
 * @param extent - lowest and highest temperature that a place had [K]
 * @throws RangeError where the law is refused there
 */
export function rangeWarnings(
  paths: readonly RangedPath[],
  extent: (place: string) => readonly [low: number, high: number],
): string[] {
  const warnings = new Set<string>();
  for (const { name, from, to, conductor } of paths) {
    const [a, b] = [extent(from), extent(to)];
    const [cold, hot] = [Math.min(a[0], b[0]), Math.max(a[1], b[1])];
    for (const range of conductor.ranges ?? []) {
      if (cold >= range.from * (1 - 1e-9) && hot <= range.to * (1 + 1e-9)) continue;
      const outside = formatQuantity(cold < range.from ? cold : hot, "K");
      const message = `${name}: ${outside} is outside ${inWords(range)} (${range.of})`;
      if (range.outside === "refuse") {
        throw new RangeError(
          `${message}. Nothing sound continues it there: use another material, sample or curve.`,
        );
      }
      warnings.add(`${message}; the law was continued.`);
    }
  }
  return [...warnings];
}

function inWords({ from, to }: TemperatureRange): string {
  if (to === Number.POSITIVE_INFINITY) return `${formatQuantity(from, "K")} and up`;
  if (from <= 0) return `what holds up to ${formatQuantity(to, "K")}`;
  return `${formatQuantity(from, "K")} to ${formatQuantity(to, "K")}`;
}

/** The heat paths of a mount, and where each place's temperature lies in a reading. */
export function readingWarnings(
  translation: Translation,
  readings: readonly Pick<Reading, "extents">[],
): string[] {
  const { structure, conductors } = translation;
  const paths = [
    ...structure.parts.map(({ name, from, to }) => ({ name, from, to })),
    ...structure.warm.map(({ name, warmEnd: from, on: to }) => ({ name, from, to })),
    ...coolingLinks(structure, conductors),
    // A sheet spreads within itself, between its coldest and its hottest place.
    ...(conductors.has(spreading) && structure.places.includes(place.hottest)
      ? [{ name: spreading, from: place.hottest, to: place.hottest }]
      : []),
  ].map((path) => ({ ...path, conductor: conductors.get(path.name)! }));
  const fixed = new Map(translation.network.nodes.map((n) => [n.name, n.temperature]));
  return rangeWarnings(paths, (name) => {
    const T = fixed.get(name);
    if (T !== undefined) return [T, T];
    const extents = readings.map((reading) => reading.extents.get(name)!);
    return [Math.min(...extents.map(([low]) => low)), Math.max(...extents.map(([, high]) => high))];
  });
}
