/**
 * What a part of a mount is, and the names of the places between parts.
 * @module
 */
import type { Conductor } from "../conductor.js";
import type { ResidualResistivityRatio } from "../materials/types.js";
import { FieldError } from "../units/errors.js";
import type { Side } from "./description.js";
import type { PlainMount } from "./read.js";

/** Names of the places that every mount of a kind has; films add their own. */
export const place = {
  hottest: "die, hottest place",
  die: "die",
  dieCentre: "die centre",
  dieEdge: "die edge",
  ledgeFoot: "ledge foot",
  boxByDie: "box by the die",
  boxByBolts: "box by the bolts",
  stage: "stage",
} as const;

/** Places that all paths share; any other behind the die belongs to one group of contacts. */
export const sharedPlaces: readonly string[] = [place.boxByDie, place.boxByBolts, place.stage];

/** One heat path of a mount. */
export interface Part {
  /** As the budget shows it. */
  readonly name: string;
  /** Place on its warm side. */
  readonly from: string;
  /** Place on its cold side. */
  readonly to: string;
  /** The group of contacts of the die that it stands behind; absent when it stands behind none. */
  readonly group?: string;
  /** Shared among the contacts of its group by their bonds; by their area when absent. */
  readonly byBonds?: boolean;
  /** The conductor of one of them. */
  conductor(mount: PlainMount): Conductor;
  /** How many stand side by side; 1 when absent. */
  count?(mount: PlainMount): number;
}

/** Whether the die is a sheet, which is so when nothing is said. */
export function isSheet({ die }: PlainMount): boolean {
  return (die.model ?? "sheet") === "sheet";
}

/** The place whose temperature is the chip's: the hottest on the die. */
export function chipPlace(mount: PlainMount): string {
  if (isSheet(mount)) return place.hottest;
  return mount.die.model === "one node" ? place.die : place.dieCentre;
}

/** The place on the die where a group of contacts takes the heat. */
export function dieAt(mount: PlainMount, group: string): string {
  if (isSheet(mount)) return `die at the ${group}`;
  return mount.die.model === "one node" ? place.die : place.dieEdge;
}

/** Edges of the die that carry bonds, against the clock from the lower one; all when there are none. */
export function cooledSides({ bonds }: PlainMount): readonly Side[] {
  const edges = bonds?.edges ?? 4;
  if (typeof edges !== "number") return edges;
  const sides: Readonly<Record<1 | 2 | 3 | 4, readonly Side[]>> = {
    1: ["lower"],
    2: ["lower", "upper"],
    3: ["lower", "upper", "left"],
    4: ["lower", "right", "upper", "left"],
  };
  return sides[edges];
}

/** The named fields that are there, and no others: a part must read only what it depends on. */
export function pick<T extends object, K extends keyof T>(from: T, ...names: K[]): Pick<T, K> {
  const picked: Partial<Pick<T, K>> = {};
  for (const name of names) if (from[name] !== undefined) picked[name] = from[name];
  return picked as Pick<T, K>;
}

export function purity<R extends { readonly residualResistivityRatio?: ResidualResistivityRatio }>(
  metal: R,
) {
  return pick(metal, "residualResistivityRatio");
}

/** Runs what asks a material for a property; what it lacks is told by the mount's field. */
export function inMaterial<T>(material: string, field: string, ask: () => T): T {
  try {
    return ask();
  } catch (error) {
    if (!(error instanceof FieldError) || !error.field.startsWith(`${material}.`)) throw error;
    const property = error.field.slice(material.length + 1).replace(/_/g, " ");
    throw new FieldError(field, `a material with ${property}: ${error.wanted}`, material);
  }
}
