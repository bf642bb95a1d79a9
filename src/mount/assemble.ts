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
import { warmWires } from "./things/conduction.js";
import {
  centreToEdge,
  type DieModel,
  dieStore,
  isResolved,
  meanOverHottest,
  spreading,
} from "./things/die.js";
import { type PowerSource, powerSources, sourceNames } from "./things/load.js";
import { pathPlaces } from "./things/path.js";

export { spreading };

/** A group of contacts of the die, laid out for one mount. */
export interface ContactGroup {
  /** `pads`, `ring`, `back`, `glue`, `clamps 2`; of a warm wire the field of its load. */
  readonly name: string;
  /** Field of the mount that says where contact k is, for errors. */
  field(k: number): string;
  /** Contacts of one layer may not overlap. */
  readonly layer: "face" | "back" | "clamps";
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
  /** Whether it is on the die itself. */
  readonly onDie?: true;
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

/** What a mount is made of, for one model of the die. */
export interface Structure {
  readonly die: DieModel;
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
  readonly stores: readonly Store[];
}

/** Names of places of the die. */
const onDie = {
  sheet: "die, hottest point",
  flights: "die, hottest point",
  "two nodes": "die centre",
  "one node": "die",
};
/** Of the two-node model of a die, where everything touches it. */
const dieEdge = "die edge";

/** Which model of the die a mount is solved with: the 2-D one when nothing is said. */
export function dieModel({ die }: PlainMount): DieModel {
  return die.model ?? "sheet";
}

/** The groups of contacts of a mount, laid out. @throws FieldError naming what does not fit */
export function contactGroups(mount: PlainMount): readonly ContactGroup[] {
  return assemble(mount).groups.map((group) => laidOut(group, mount));
}

/** A group laid out for a mount. */
export function laidOut(group: Contacts<PlainMount>, mount: PlainMount): ContactGroup {
  const { name, layer } = group;
  const { patches: contacts, links = [] } = group.lay(mount);
  const bands = group.bands?.(mount);
  return { name, layer, field: (k) => group.field(k), contacts, links, ...(bands && { bands }) };
}

/**
 * The structure of a mount: its places, and what joins them.
 * @param die - another model of the die than the mount's own
 * @throws FieldError for two paths of one name
 */
export function assemble(mount: PlainMount, die: DieModel = dieModel(mount)): Structure {
  const parts = allThings.map(([, thing]) => thing.parts?.(mount) ?? {});
  const wires = warmWires(mount, sourceNames(mount.loads));
  const places = new Places(die);
  const chip = places.named(onDie[die]);

  const placed = (path: HeatPath<PlainMount>): PlacedPath => ({
    name: path.name,
    from: places.of(path.from),
    to: places.of(path.to),
    by: path.by ?? "area",
    conductor: path.conductor,
    ...(path.count && { count: path.count }),
  });
  const across: PlacedPath = {
    name: spreading,
    from: chip,
    to: places.edge,
    by: "area",
    conductor: centreToEdge,
  };
  const paths = parts.flatMap((part) => (part.paths ?? []).map(placed));
  if (die === "two nodes") paths.unshift(across);
  const warm = wires.map((wire) => ({ temperature: wire.from.temperature, ...placed(wire) }));
  // The step inside a 2-D die is no path, but the budget names it.
  const within = [...(isResolved(die) ? [across] : []), { name: coolingLink }];
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
  const used = new Set([chip, ...paths.flatMap(({ from, to }) => [from, to])]);
  // A group that a path ends on is laid out whether its thing lists it or not: no path can end beside it.
  const groups = new Set([
    ...parts.flatMap(({ contacts = [] }) => contacts),
    ...[...paths, ...warm].flatMap(({ from, to }) => [from.group ?? [], to.group ?? []].flat()),
  ]);
  return {
    die,
    chip,
    box,
    stage,
    places: [...[...used].filter((each) => !shared.includes(each)), ...shared],
    groups: [...groups],
    paths,
    warm,
    powers: powerSources(mount),
    stores: [...dieStores(die, chip, places.edge), ...stores],
  };
}

/** Each place once, by its name. */
class Places {
  readonly #known = new Map<string, PlaceInMount>();

  constructor(readonly die: DieModel) {}

  get edge(): PlaceInMount {
    return this.named(dieEdge);
  }

  of(end: End<PlainMount>): PlaceInMount {
    if ("shared" in end) return this.named(end.shared);
    if ("held" in end) return this.named(end.held);
    if ("alone" in end) return this.named(end.alone);
    if ("behind" in end) {
      return this.named(end.place, end.behind, end.inPieces && { inPieces: true });
    }
    if (isResolved(this.die))
      return this.named(`die at the ${end.on.name}`, end.on, { onDie: true });
    return this.die === "one node" ? this.named(onDie["one node"]) : this.edge;
  }

  /** @throws Error for two places of one name, which two things would then heat together */
  named(
    name: string,
    group?: Contacts<PlainMount>,
    more: Pick<PlaceInMount, "onDie" | "inPieces"> = {},
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
function dieStores(die: DieModel, chip: PlaceInMount, edge: PlaceInMount): readonly Store[] {
  const store = (name: string, at: PlaceInMount, share: (mount: PlainMount) => number): Store => ({
    name,
    at,
    by: "area",
    ofDie: true,
    field: "die.material",
    store: (mount, catalogue) => dieStore(mount, catalogue, share(mount)),
  });
  if (die !== "two nodes") return [store("die", chip, () => 1)];
  return [
    store("die, middle", chip, meanOverHottest),
    store("die, edges", edge, (mount) => 1 - meanOverHottest(mount)),
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

/** The heat of loads, those that depend on the chip's temperature taken at one [K]. */
export function heatsOf(
  powers: readonly PowerSource[],
  mount: PlainMount,
  catalogue: Catalogue,
  chip: number,
): readonly MountHeat[] {
  return powers.map((source) => {
    const law = source.law(mount, catalogue);
    return { source, load: law?.at(chip) ?? source.heat(mount, catalogue, chip), law };
  });
}

/** All loads on die or box: watts, or a law when one of them depends on the temperature there. */
export function heatOn(on: "die" | "box", loads: readonly MountHeat[]): number | Load {
  const here = loads.filter(({ source }) => source.on === on);
  const fixed = here.reduce((sum, { load, law }) => (law ? sum : sum + load.power), 0);
  const laws = here.flatMap(({ law }) => law ?? []);
  if (laws.length === 0) return fixed;
  return {
    power: (T) => laws.reduce((sum, law) => sum + law.power(T), fixed),
    slope: (T) => laws.reduce((sum, law) => sum + law.slope(T), 0),
  };
}
