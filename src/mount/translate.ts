/**
 * From a mount to its thermal network, and from the network's solution back to the mount's places.
 * @module
 */
import type { SheetField } from "../chip/field.js";
import type { Conductor, Load } from "../conductor.js";
import type { HeatLoad } from "../loads/heat-load.js";
import type { ReadoutLaw } from "../loads/readout.js";
import type { Catalogue } from "../materials/types.js";
import type { LinkDescription, NetworkDescription } from "../network/description.js";
import type { SteadySolution } from "../network/solution.js";
import { FieldError } from "../units/errors.js";
import { spreading } from "./die-parts.js";
import { type PowerSource, sourcesOf, type WarmSource } from "./heat-sources.js";
import { chipPlace, isSheet, type Part, place, sharedPlaces } from "./part.js";
import { partsOf } from "./parts.js";
import type { PlainMount } from "./read.js";
import { SheetStore, sheetConductors, sheetNetwork } from "./sheet-model.js";
import { coolingBase, coolingLink, type StageModel, stageModel } from "./stage.js";

/** A mount's structure: its parts and sources, whose numbers come from any mount of that structure. */
export interface Structure {
  /** Places in the order the heat takes; the stage last. */
  readonly places: readonly string[];
  /** Hottest place on the die. */
  readonly chip: string;
  /** What conducts heat, from the die to the stage. */
  readonly parts: readonly Part[];
  /** Heat sources of a given power. */
  readonly powers: readonly PowerSource[];
  /** Heat that conducts in from warmer places. */
  readonly warm: readonly WarmSource[];
  /** The stage: held, or cooled. */
  readonly stage: StageModel;
}

/** What a solution says of the mount's places and parts. */
export interface Reading {
  /** By place; of many alike, the mean weighted by the heat through them [K]. */
  readonly temperatures: ReadonlyMap<string, number>;
  /** Lowest and highest temperature of each place [K]. */
  readonly extents: ReadonlyMap<string, readonly [low: number, high: number]>;
  /** Heat through each part and wire, all that stand side by side [W]. */
  readonly flows: ReadonlyMap<string, number>;
  /** The temperature of every place on the die, when it is a sheet. */
  readonly field?: SheetField;
}

/** A load of the mount, in watts, and the law it follows when it depends on the chip's temperature. */
export interface MountHeat {
  /** What it falls on: the die or another part, by name. */
  readonly on: string;
  /** The heat, with its formula and sources. */
  readonly load: HeatLoad;
  /** How its power follows the chip's temperature; constant when absent. */
  readonly law?: ReadoutLaw;
}

/** A mount translated: the network, and what each link and load was made of. */
export interface Translation {
  /** What the mount is made of. */
  readonly structure: Structure;
  /** The network to solve. */
  readonly network: NetworkDescription;
  /** By part and wire, and the cooling of the stage when it has one. */
  readonly conductors: ReadonlyMap<string, Conductor>;
  /** The heat, and where it falls. */
  readonly loads: readonly MountHeat[];
  /** Temperatures and flows of the solved network by the names of the mount. */
  read(solution: SteadySolution): Reading;
}

/** Which places and parts a mount has. */
export function structureOf(mount: PlainMount, catalogue: Catalogue): Structure {
  const parts = partsOf(mount, catalogue);
  const { powers, warm } = sourcesOf(mount, catalogue);
  // The step inside a sheet is no part, but the budget names it.
  const names = new Set<string>(isSheet(mount) ? [spreading] : []);
  for (const { name } of [...parts, ...warm]) {
    if (names.has(name)) {
      throw new FieldError("name", "a name that no other part has", name);
    }
    names.add(name);
  }
  const chip = chipPlace(mount);
  const used = new Set([chip, ...parts.flatMap(({ from, to }) => [from, to])]);
  return {
    // Paths of their own come first, in the order of the parts; what all share comes last.
    places: [...[...used].filter((name) => !sharedPlaces.includes(name)), ...sharedPlaces],
    chip,
    parts,
    powers,
    warm,
    stage: stageModel(mount, catalogue),
  };
}

/**
 * The network of a mount.
 * @param sheets - keeps the sheets of dies already seen, for loops over one die
 * @param chip - temperature of the chip for loads that depend on it [K]; the coldest there is when absent
 * @throws FieldError or UnknownNameError naming the field of the mount
 */
export function translate(
  mount: PlainMount,
  catalogue: Catalogue,
  sheets: SheetStore = new SheetStore(),
  chip?: number,
): Translation {
  const structure = structureOf(mount, catalogue);
  const { stage } = structure;
  const coldest = "cooling" in stage ? stage.cooling.base : stage.temperature;
  const loads = structure.powers.map(
    (source): MountHeat => ({
      on: source.on,
      load: source.load(mount, chip ?? coldest),
      ...(source.law && { law: source.law(mount) }),
    }),
  );
  const conductors = new Map<string, Conductor>(
    isSheet(mount) ? sheetConductors(mount, catalogue) : [],
  );
  for (const part of [...structure.parts, ...structure.warm]) {
    conductors.set(part.name, part.conductor(mount));
  }
  if ("cooling" in stage) conductors.set(coolingLink, stage.cooling.conductor);
  const shared = { structure, conductors, loads };
  return isSheet(mount)
    ? { ...shared, ...sheetNetwork(mount, shared, sheets) }
    : { ...shared, ...lumpedNetwork(mount, shared) };
}

/** One node a place. */
function lumpedNetwork(
  mount: PlainMount,
  { structure, conductors, loads }: Omit<Translation, "network" | "read">,
): Pick<Translation, "network" | "read"> {
  const { places, parts, warm } = structure;
  const links: LinkDescription[] = [...parts, ...warm].map((part) => ({
    name: part.name,
    from: "warmEnd" in part ? part.warmEnd : part.from,
    to: "warmEnd" in part ? part.on : part.to,
    conductor: conductors.get(part.name)!,
    count: part.count?.(mount) ?? 1,
  }));
  const held = heldTemperatures(mount, structure);
  links.push(...coolingLinks(structure, conductors));
  return {
    network: {
      nodes: [
        ...places.map((name) => {
          const temperature = held.get(name);
          return temperature === undefined
            ? { name, load: heatOn(name, loads) }
            : { name, temperature };
        }),
        ...[...held]
          .filter(([name]) => !places.includes(name))
          .map(([name, temperature]) => ({ name, temperature })),
      ],
      links,
    },
    read: ({ temperatures, flows }) => ({
      temperatures,
      extents: new Map([...temperatures].map(([name, T]) => [name, [T, T]])),
      flows: new Map(flows.map(({ link, power }) => [link, power])),
    }),
  };
}

/** Nodes of fixed temperature: the stage or what cools it, and warm ends [K]. */
export function heldTemperatures(
  mount: PlainMount,
  { stage, warm }: Structure,
): ReadonlyMap<string, number> {
  const held = new Map<string, number>(
    "cooling" in stage ? [[coolingBase, stage.cooling.base]] : [[place.stage, stage.temperature]],
  );
  for (const wire of warm) held.set(wire.warmEnd, wire.temperature(mount));
  return held;
}

/** The link that cools a stage which finds its own temperature. */
export function coolingLinks(
  { stage }: Structure,
  conductors: ReadonlyMap<string, Conductor>,
): readonly LinkDescription[] {
  if (!("cooling" in stage)) return [];
  const conductor = conductors.get(coolingLink)!;
  return [{ name: coolingLink, from: place.stage, to: coolingBase, conductor }];
}

/** All loads on a place: watts, or a law when one of them depends on the temperature there. */
export function heatOn(name: string, loads: readonly MountHeat[]): number | Load {
  const here = loads.filter(({ on }) => on === name);
  const fixed = here.reduce((sum, { load, law }) => (law ? sum : sum + load.power), 0);
  const laws = here.flatMap(({ law }) => law ?? []);
  if (laws.length === 0) return fixed;
  return {
    power: (T) => laws.reduce((sum, law) => sum + law.power(T), fixed),
    slope: (T) => laws.reduce((sum, law) => sum + law.slope(T), 0),
  };
}
