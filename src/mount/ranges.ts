/**
 * Holds a result against the ranges of temperature, force and the like that the laws are backed in.
 * @module
 */
import type { Conductor, TemperatureRange } from "../conductor.js";
import { formatNumber, formatQuantity } from "../units/format.js";
import { spreading } from "./assemble.js";
import { coolingBase, coolingLink } from "./links.js";
import type { OperatingPoint } from "./model.js";

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
      const outside = outsideOf(range, cold, hot);
      if (!outside) continue;
      const message = `${name}: ${outside}`;
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

/**
 * By how much a law was used outside a range, in words; undefined where it was not.
 * @param coldest - and hottest temperature of its ends [K]; a range of a given number looks at that
 */
export function outsideOf(
  range: TemperatureRange,
  coldest: number,
  hottest: number,
): string | undefined {
  const { from, to, of, given } = range;
  const unit = given?.unit ?? "K";
  const [low, high] = given ? [given.value, given.value] : [coldest, hottest];
  if (low >= from * (1 - 1e-9) && high <= to * (1 + 1e-9)) return undefined;
  const below = low < from;
  const words = formatQuantity(below ? low : high, unit);
  const times = formatNumber(below ? from / low : high / to, 2);
  const factor = given ? `, by a factor of ${times}` : "";
  const subject = given ? `a ${given.quantity} of ${words}` : words;
  return `${subject} is outside ${inWords(range, unit)}${factor} (${of})`;
}

function inWords({ from, to }: TemperatureRange, unit: string): string {
  if (to === Number.POSITIVE_INFINITY) return `${formatQuantity(from, unit)} and up`;
  if (from <= 0) return `what holds up to ${formatQuantity(to, unit)}`;
  return `${formatQuantity(from, unit)} to ${formatQuantity(to, unit)}`;
}

/**
 * The same for a mount in its steady state.
 * @param extents - of places, where they were wider than at this point, as over a sweep [K]
 */
export function pointWarnings(
  { structure, conductors, network, reading }: OperatingPoint,
  extents = reading.extents,
): string[] {
  const { paths, warm, chip, stage } = structure;
  const ranged = [
    ...[...paths, ...warm].map(({ name, from, to }) => ({ name, from: from.name, to: to.name })),
    ...(conductors.has(coolingLink)
      ? [{ name: coolingLink, from: stage.name, to: coolingBase }]
      : []),
    // A 2-D die spreads within itself, between its coldest and its hottest place.
    ...(structure.die === "sheet" ? [{ name: spreading, from: chip.name, to: chip.name }] : []),
  ].map((path) => ({ conductor: conductors.get(path.name)!, ...path }));
  const fixed = new Map(network.nodes.map((node) => [node.name, node.temperature]));
  return rangeWarnings(ranged, (name) => {
    const T = fixed.get(name);
    return T === undefined ? extents.get(name)! : [T, T];
  });
}
