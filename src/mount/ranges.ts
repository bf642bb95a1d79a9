/**
 * Holds a result against the ranges of temperature that the laws are backed in.
 * @module
 */
import type { Conductor, TemperatureRange } from "../conductor.js";
import { formatQuantity } from "../units/format.js";
import { spreading } from "./assemble.js";
import { coolingBase, coolingLink } from "./links.js";
import type { OperatingPoint } from "./model.js";
import { isResolved } from "./things/die.js";

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
    ...(isResolved(structure.die) ? [{ name: spreading, from: chip.name, to: chip.name }] : []),
  ].map((path) => ({ ...path, conductor: conductors.get(path.name)! }));
  const fixed = new Map(network.nodes.map((node) => [node.name, node.temperature]));
  return rangeWarnings(ranged, (name) => {
    const T = fixed.get(name);
    return T === undefined ? extents.get(name)! : [T, T];
  });
}
