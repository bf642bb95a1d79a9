/**
 * From the solution of a network back to the places and paths of the mount.
 * @module
 */
import type { SheetField } from "../chip/field.js";
import type { SteadySolution } from "../network/solution.js";
import type { Structure } from "./assemble.js";
import type { Links } from "./links.js";
import { ownDie } from "./on-die.js";

/** What a solution says of the mount's places and paths. */
export interface Reading {
  /** By place; of many alike, the mean weighted by the heat through them [K]. */
  readonly temperatures: ReadonlyMap<string, number>;
  /** Lowest and highest temperature of each place [K]. */
  readonly extents: ReadonlyMap<string, readonly [low: number, high: number]>;
  /** Heat through each path and warm wire, all that stand side by side [W]. */
  readonly flows: ReadonlyMap<string, number>;
  /** The temperature of every place on the mount's own die, where it is resolved. */
  readonly field?: SheetField;
  /** The same of each die by its name; empty where they have few nodes. */
  readonly fields: ReadonlyMap<string, SheetField>;
}

/** Where each place is one node, and each path one link. */
export function readingOfNodes({ temperatures, flows }: SteadySolution): Reading {
  return {
    temperatures,
    extents: new Map([...temperatures].map(([name, T]) => [name, [T, T]])),
    flows: new Map(flows.map(({ link, power }) => [link, power])),
    fields: new Map(),
  };
}

/** Where each contact of a die has nodes and links of its own. @param fields - of each die by its name */
export function readingOf2D(
  { places, dies }: Structure,
  { links, linksOf, nodesOf }: Links,
  solution: SteadySolution,
  fields: ReadonlyMap<string, SheetField>,
): Reading {
  const powers = new Map(solution.flows.map(({ link, power }) => [link, power]));
  const leaving = new Map<string, number>();
  for (const { from, name } of links) {
    leaving.set(from, (leaving.get(from) ?? 0) + Math.abs(powers.get(name)!));
  }
  const temperatures = new Map<string, number>();
  const extents = new Map<string, readonly [number, number]>();
  // A wire touches the die at a place of its own, through which no path goes.
  for (const place of new Set([...places, ...nodesOf.keys()])) {
    if (dies.some(({ chip }) => chip === place)) continue;
    const nodes = nodesOf.get(place) ?? [place.name];
    const each = nodes.map((node) => solution.temperatures.get(node)!);
    const weights = nodes.map((node) => leaving.get(node) ?? 0);
    temperatures.set(place.name, mean(each, weights));
    extents.set(place.name, [Math.min(...each), Math.max(...each)]);
  }
  for (const { name, chip } of dies) {
    const field = fields.get(name)!;
    const hottest = field.hottest.temperature;
    temperatures.set(chip.name, hottest);
    extents.set(chip.name, [field.coldest.temperature, hottest]);
  }
  const flows = new Map<string, number>();
  for (const [path, own] of linksOf) {
    flows.set(
      path,
      own.reduce((sum, link) => sum + powers.get(link)!, 0),
    );
  }
  return { temperatures, extents, flows, field: fields.get(ownDie)!, fields };
}

/** Weighted mean; the plain mean when nothing has weight. */
function mean(values: readonly number[], weights: readonly number[]): number {
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return total > 0
    ? values.reduce((sum, value, i) => sum + value * (weights[i]! / total), 0)
    : values.reduce((sum, value) => sum + value / values.length, 0);
}
