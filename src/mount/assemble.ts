/**
 * From a mount to its structure: places, heat paths, contacts on the die, loads and stores, for one model
 * of the die. It holds no numbers: those are read from any mount of the same structure.
 * @module
 */
import type { Rectangle } from "../chip/grid.js";
import type { Conductor, Load } from "../conductor.js";
import type { HeatLoad } from "../loads/heat-load.js";
import type { ReadoutLaw } from "../loads/readout.js";
import type { Catalogue } from "../materials/types.js";
import { FieldError } from "../units/errors.js";
import { allThings, type PlainMount } from "./mount.js";
import { fieldOn, lawOfDie, lawOn, ownDie, pathOn, seenFrom } from "./on-die.js";
import { allSources } from "./sources.js";
import {
  boxByBolts,
  boxByDie,
  type Contacts,
  coolingLink,
  type End,
  type HeatPath,
  type Patch,
  type PatchLink,
  type PlacedStore,
  stageEnd,
} from "./thing.js";
import { type WarmWire, warmWires } from "./things/conduction.js";
import {
  centreToEdge,
  type DieModel,
  dieStore,
  isResolved,
  meanOverHottest,
  spreading,
} from "./things/die.js";
import { type PowerSource, sourceNames } from "./things/load.js";

import { heatedPieces, pathPlaces } from "./things/path.js";
import { dieNames } from "./things/stack.js";

export { spreading };

/** A group of contacts of the die, laid out for one mount. */
export interface ContactGroup
  extends Pick<Contacts<PlainMount>, "name" | "die" | "pair" | "layer" | "field"> {
  /** One entry a contact. */
  readonly contacts: readonly Patch[];
  /** Ways along a film between contacts, by index, and their squares. */
  readonly links: readonly PatchLink[];
  /** Rectangles of the front within which they move with their number; absent where they do not. */
  readonly bands?: readonly Rectangle[];
}

/** A place of a mount: one temperature, or one behind each contact of a group. */
export interface PlaceInMount {
  /** As results show it; no two places have the same. */
  readonly name: string;
  /** The group behind whose contacts it stands, or at whose contacts it is on the die. */
  readonly group?: Contacts<PlainMount>;
  /** Whether it is on a die itself. */
  readonly onDie?: true;
  /** Name of the further die it is on; absent on the mount's own and elsewhere. */
  readonly die?: string;
  /** Whether each piece of a contact that is cut has one of its own. */
  readonly inPieces?: true;
}

/** A heat path between places. */
export interface PlacedPath {
  /** As the budget shows it. */
  readonly name: string;
  readonly from: PlaceInMount;
  readonly to: PlaceInMount;
  /** What it is shared by among the contacts of its group. */
  readonly by: "area" | "bonds";
  /** The conductor of one of them. */
  conductor(mount: PlainMount, catalogue: Catalogue): Conductor;
  /** How many stand side by side; 1 when absent. */
  count?(mount: PlainMount): number;
}

/** A wire or support from a warm end, whose heat comes out of the solution. */
export interface WarmPath extends PlacedPath {
  /** Of its warm end [K]. */
  temperature(mount: PlainMount): number;
}

/** Heat stored at a place. */
export interface Store extends Omit<PlacedStore<PlainMount>, "at" | "by"> {
  readonly at: PlaceInMount;
  readonly by: "area" | "bonds";
  /** Whether it is the die's own: without it nothing can be followed in time. */
  readonly ofDie: boolean;
}

/** A die of a mount. */
export interface DieInMount {
  /** `die` of the mount's own. */
  readonly name: string;
  /** Its hottest point. */
  readonly chip: PlaceInMount;
  /** Name of the step from there to where the heat leaves it. */
  readonly spreading: string;
  /** The mount as the things around it read it. */
  of(mount: PlainMount): PlainMount;
}

/** What a mount is made of, for one model of the die. */
export interface Structure {
  readonly die: DieModel;
  /** All dies, the mount's own first. */
  readonly dies: readonly DieInMount[];
  /** Hottest point on the die. */
  readonly chip: PlaceInMount;
  readonly box: PlaceInMount;
  readonly stage: PlaceInMount;
  /** Places in the order the heat takes; what all share comes last, the stage at the end. */
  readonly places: readonly PlaceInMount[];
  /** Groups of contacts of the die, those of warm wires last. */
  readonly groups: readonly Contacts<PlainMount>[];
  /** What conducts heat, from the die to the stage. */
  readonly paths: readonly PlacedPath[];
  /** Heat that conducts in from warmer places. */
  readonly warm: readonly WarmPath[];
  /** Heat sources of a given power. */
  readonly powers: readonly PowerSource[];
  /** What they fall on, and the place that each heats there; no two the same. */
  readonly heated: readonly { readonly on: string; readonly place: PlaceInMount }[];
  readonly stores: readonly Store[];
}

/** What names of hottest points of a die add to its own. */
const hottestPlace = {
  sheet: ", hottest point",
  flights: ", hottest point",
  "two nodes": " centre",
  "one node": "",
};

/** Which model of the die a mount is solved with. */
export function dieModel({ die }: PlainMount): DieModel {
  return die.model;
}

/** The groups of contacts of a mount, laid out. @throws FieldError naming what does not fit */
export function contactGroups(mount: PlainMount): readonly ContactGroup[] {
  return assemble(mount).groups.map((group) => laidOut(group, mount));
}

/** A group laid out for a mount. */
export function laidOut(
  { lay, bands, film: _, ...group }: Contacts<PlainMount>,
  mount: PlainMount,
): ContactGroup {
  const { patches: contacts, links = [] } = lay(mount);
  return { ...group, contacts, links, ...(bands && { bands: bands(mount) }) };
}

/**
 * The structure of a mount: its places, and what joins them.
 * @param die - another model of the die than the mount's own
 * @throws FieldError for two paths of one name
 */
export function assemble(mount: PlainMount, die: DieModel = dieModel(mount)): Structure {
  const parts = allThings.map(([, thing]) => thing.parts?.(mount) ?? {});
  const wires = dieNames(mount).flatMap((name) => {
    const seen = seenFrom(mount, name);
    const own: readonly WarmWire[] = warmWires(seen, sourceNames(seen.loads));
    return name === ownDie ? own : own.map((wire) => pathOn<PlainMount, WarmWire>(name, wire));
  });
  const places = new Places(die);
  const dies = dieNames(mount).map(
    (name): DieInMount => ({
      name,
      chip: places.chip(name),
      spreading: name === ownDie ? spreading : `spreading in ${name}`,
      of: (m) => seenFrom(m, name),
    }),
  );
  const { chip } = dies[0]!;

  const placed = (path: HeatPath<PlainMount>): PlacedPath => ({
    name: path.name,
    from: places.of(path.from),
    to: places.of(path.to),
    by: path.by ?? "area",
    conductor: path.conductor,
    ...(path.count && { count: path.count }),
  });
  const across = dies.map(
    (each): PlacedPath => ({
      name: each.spreading,
      from: each.chip,
      to: places.edge(each.name),
      by: "area",
      conductor: (m, catalogue) => lawOn(each.name, centreToEdge(each.of(m), catalogue)),
    }),
  );
  const paths = parts.flatMap((part) => (part.paths ?? []).map(placed));
  if (die === "two nodes") {
    for (const step of [...across].reverse()) {
      const first = paths.findIndex(({ from }) => from === step.to);
      paths.splice(step.from === chip ? 0 : first < 0 ? paths.length : first, 0, step);
    }
  }
  const warm = wires.map((wire) => ({ temperature: wire.from.temperature, ...placed(wire) }));
  // The step inside a 2-D die is no path, but the budget names it.
  const within = [...(isResolved(die) ? across : []), { name: coolingLink }];
  refuseTwins([...within, ...paths, ...warm]);

  const stores = parts.flatMap((part) =>
    (part.stores ?? []).map(
      (each): Store => ({
        ofDie: false,
        ...each,
        at: places.of(each.at),
        by: each.by ?? "area",
      }),
    ),
  );
  const box = places.of(boxByDie);
  const stage = places.of(stageEnd);
  const way = pathPlaces(mount).map((name) => places.named(name));
  const shared = [box, places.of(boxByBolts), ...way, stage];
  const used = new Set([
    chip,
    ...paths.flatMap(({ from, to }) => [from, to].flatMap((end) => [...chipOf(dies, end), end])),
    ...dies.map((each) => each.chip),
  ]);
  // A group that a path ends on is laid out whether its thing lists it or not: no path can end beside it.
  const groups = new Set([
    ...parts.flatMap(({ contacts = [] }) => contacts),
    ...[...paths, ...warm].flatMap(({ from, to }) => [from.group ?? [], to.group ?? []].flat()),
  ]);
  return {
    die,
    dies,
    chip,
    box,
    stage,
    places: [...[...used].filter((each) => !shared.includes(each)), ...shared],
    groups: [...groups],
    paths,
    warm,
    powers: allSources(mount),
    heated: [
      ...dies.map(({ name, chip }) => ({ on: name, place: chip })),
      { on: "box", place: box },
      ...heatedPieces(mount).map(({ on, at }) => ({ on, place: places.of(at) })),
    ],
    stores: [...dies.flatMap((each) => dieStores(die, each, places.edge(each.name))), ...stores],
  };
}

/** The hottest point of a further die, before the first of its other places. */
function chipOf(dies: readonly DieInMount[], { die }: PlaceInMount): readonly PlaceInMount[] {
  return die === undefined ? [] : [dies.find(({ name }) => name === die)!.chip];
}

/** Each place once, by its name. */
class Places {
  readonly #known = new Map<string, PlaceInMount>();

  constructor(readonly die: DieModel) {}

  /** The hottest point of a die. */
  chip(name: string): PlaceInMount {
    const die = name === ownDie ? {} : { die: name };
    return this.named(`${name}${hottestPlace[this.die]}`, undefined, die);
  }

  /** Where everything touches a die of two nodes. */
  edge(name: string): PlaceInMount {
    return this.named(`${name} edge`, undefined, name === ownDie ? {} : { die: name });
  }

  of(end: End<PlainMount>): PlaceInMount {
    if ("shared" in end) return this.named(end.shared);
    if ("held" in end) return this.named(end.held);
    if ("alone" in end) return this.named(end.alone);
    if ("behind" in end) {
      return this.named(end.place, end.behind, end.inPieces && { inPieces: true });
    }
    const { name, die = ownDie } = end.on;
    if (isResolved(this.die)) {
      const more = end.on.die === undefined ? {} : { die };
      return this.named(`${die} at the ${name}`, end.on, { onDie: true, ...more });
    }
    return this.die === "one node" || end.in ? this.chip(die) : this.edge(die);
  }

  /** @throws Error for two places of one name, which two things would then heat together */
  named(
    name: string,
    group?: Contacts<PlainMount>,
    more: Pick<PlaceInMount, "onDie" | "inPieces" | "die"> = {},
  ): PlaceInMount {
    const known = this.#known.get(name);
    if (!known) {
      const made = { name, ...(group && { group }), ...more };
      this.#known.set(name, made);
      return made;
    }
    if (known.group === group) return known;
    throw new Error(`mount: two places are called "${name}".`);
  }
}

/** @throws FieldError */
function refuseTwins(paths: readonly { readonly name: string }[]): void {
  const names = new Set<string>();
  for (const { name } of paths) {
    if (names.has(name)) throw new FieldError("parts.name", "a name that no other part has", name);
    names.add(name);
  }
}

/**
 * What the die stores. In the two-node model the centre stores the share that makes the heat stored
 * by an evenly loaded die right: its mean rise above the edges over that of the hottest point.
 */
function dieStores(
  model: DieModel,
  { name: die, chip }: DieInMount,
  edge: PlaceInMount,
): readonly Store[] {
  const store = (name: string, at: PlaceInMount, share: (mount: PlainMount) => number): Store => ({
    name,
    at,
    by: "area",
    ofDie: true,
    field: fieldOn(die, "die.material"),
    store: (mount, catalogue) =>
      lawOfDie(mount, die, (seen) => dieStore(seen, catalogue, share(seen))),
  });
  if (model !== "two nodes") return [store(die, chip, () => 1)];
  return [
    store(`${die}, middle`, chip, meanOverHottest),
    store(`${die}, edges`, edge, (mount) => 1 - meanOverHottest(mount)),
  ];
}

/** What a solution says of the mount's loads: the power of each with its formula. */
export interface MountHeat {
  /** The source it comes from. */
  readonly source: PowerSource;
  /** The heat, with its formula and sources. */
  readonly load: HeatLoad;
  /** How its power follows the chip's temperature; constant when absent. */
  readonly law?: ReadoutLaw | undefined;
}

/** Temperature of the hottest point of each die, by its name [K]. */
export type Chips = ReadonlyMap<string, number>;

/**
 * The heat of loads.
 * @param chips - at which those are taken that depend on their die's; `coldest` where absent
 */
export function heatsOf(
  powers: readonly PowerSource[],
  mount: PlainMount,
  catalogue: Catalogue,
  coldest: number,
  chips: Chips = new Map(),
): readonly MountHeat[] {
  return powers.map((source) => {
    const law = source.law(mount, catalogue);
    const chip = chips.get(source.on) ?? coldest;
    return { source, load: law?.at(chip) ?? source.heat(mount, catalogue, chip), law };
  });
}

/** All loads on a die, the box or a piece: watts, or a law when one of them depends on the temperature there. */
export function heatOn(on: string, loads: readonly MountHeat[]): number | Load {
  const here = loads.filter(({ source }) => source.on === on);
  const fixed = here.reduce((sum, { load, law }) => (law ? sum : sum + load.power), 0);
  const laws = here.flatMap(({ law }) => law ?? []);
  return laws.length === 0 ? fixed : sumOf(fixed, laws);
}

/** A load of a given power and others by their laws. */
export function sumOf(fixed: number, laws: readonly Load[]): Load {
  return {
    power: (T) => laws.reduce((sum, law) => sum + law.power(T), fixed),
    slope: (T) => laws.reduce((sum, law) => sum + law.slope(T), 0),
  };
}
