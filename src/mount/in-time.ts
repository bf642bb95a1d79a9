/**
 * A mount for a run in time: its network with heat stores, the die in cells when it is a sheet, and
 * where each load and a hit enter.
 * @module
 */
import { type CheckedContact, checkContacts } from "../chip/contact.js";
import { Grid } from "../chip/grid.js";
import { cellAt, cellLinks, cellsUnder } from "../chip/lattice.js";
import { cellPowers } from "../chip/power-map.js";
import { type HeatStore, scaledStore } from "../conductor.js";
import type { Catalogue } from "../materials/types.js";
import type { LinkDescription, NetworkDescription } from "../network/description.js";
import { FieldError } from "../units/errors.js";
import { formatGiven } from "../units/format.js";
import { spreading } from "./die-parts.js";
import { type ContactGroup, contactGroups } from "./layout.js";
import { chipPlace, dieAt, isSheet, type Part, place } from "./part.js";
import type { PlainMount } from "./read.js";
import { chains, member, nodeOf, powerMap, shareOf, sheetConductors } from "./sheet-model.js";
import { coolingLink } from "./stage.js";
import { type PlacedStore, storeOn, storesOf } from "./stores.js";
import {
  heldTemperatures,
  type MountHeat,
  type Structure,
  structureOf,
  translate,
} from "./translate.js";

/** A part of what falls on a place, by node. */
export interface Fall {
  readonly node: string;
  /** Of the whole; all parts sum to 1. */
  readonly share: number;
}

/** A load of the mount in time, by the nodes it falls on. */
export interface LoadInTime extends MountHeat {
  readonly name: string;
  readonly falls: readonly Fall[];
}

/** A mount translated for a run in time. */
export interface InTime {
  readonly structure: Structure;
  /** Its nodes store heat and bear no load: loads come with the run. */
  readonly network: NetworkDescription;
  readonly loads: readonly LoadInTime[];
  /** Nodes of each place, in the order of the heat; the die's cells for the die. */
  readonly nodes: ReadonlyMap<string, readonly string[]>;
  /** The cells of the die, when it is a sheet. */
  readonly grid?: Grid;
  /** Where the heat of a hit enters. @throws FieldError for a place off the die */
  hit(at: { readonly x: number; readonly y: number } | undefined, field: string): readonly Fall[];
  readonly warnings: readonly string[];
}

/** Cells of the die along its longer side in a run in time when nothing is said. */
const usualCells = 32;

/**
 * The network of a mount with its heat stores.
 * @param cells - of the die along its longer side, when it is a sheet
 * @throws FieldError, UnknownNameError
 */
export function translateInTime(
  mount: PlainMount,
  catalogue: Catalogue,
  cells: number = usualCells,
): InTime {
  return isSheet(mount) ? cellsInTime(mount, catalogue, cells) : lumpedInTime(mount, catalogue);
}

/** One node a place. */
function lumpedInTime(mount: PlainMount, catalogue: Catalogue): InTime {
  const { structure, network, loads } = translate(mount, catalogue);
  const { stores, warnings } = storesOf(mount, catalogue);
  const names = structure.powers.map(({ name }) => name);
  const chip = chipPlace(mount);
  return {
    structure,
    network: {
      ...network,
      nodes: network.nodes.map(({ name, temperature }) => {
        if (temperature !== undefined) return { name, temperature };
        const here = stores.filter(({ on }) => on === name).map(({ store }) => store);
        return withStore(name, storeOn(here));
      }),
    },
    loads: loads.map((heat, i) => ({
      ...heat,
      name: names[i]!,
      falls: [{ node: heat.on, share: 1 }],
    })),
    nodes: new Map(structure.places.map((name) => [name, [name]])),
    hit: (at, field) => {
      onDie(mount, at, field);
      return hitShares(stores, chip);
    },
    warnings,
  };
}

/** A hit heats the whole die evenly: each node of it by what it stores. */
function hitShares(stores: readonly PlacedStore[], chip: string): readonly Fall[] {
  const ofDie = stores.filter(({ name }) => name === "die" || name.startsWith("die, "));
  const capacity = ({ store }: PlacedStore) => store.heatCapacity(0.1);
  const whole = ofDie.reduce((sum, store) => sum + capacity(store), 0);
  if (ofDie.length === 0) return [{ node: chip, share: 1 }];
  return ofDie.map((store) => ({ node: store.on, share: capacity(store) / whole }));
}

function onDie(
  { die }: PlainMount,
  at: { readonly x: number; readonly y: number } | undefined,
  field: string,
): void {
  for (const [side, most] of [
    ["x", die.width],
    ["y", die.length],
  ] as const) {
    if (at && !(at[side] >= 0 && at[side] <= most)) {
      throw new FieldError(
        `${field}.${side}`,
        `a place on the die, 0 to ${formatGiven(most, "m")}`,
        formatGiven(at[side], "m"),
      );
    }
  }
}

/** The die in cells, and each contact's chain from the cells under it. */
function cellsInTime(mount: PlainMount, catalogue: Catalogue, cells: number): InTime {
  const structure = structureOf(mount, catalogue);
  const { stage } = structure;
  const coldest = "cooling" in stage ? stage.cooling.base : stage.temperature;
  const conductors = new Map(sheetConductors(mount, catalogue));
  for (const part of [...structure.parts, ...structure.warm]) {
    conductors.set(part.name, part.conductor(mount));
  }
  if ("cooling" in stage) conductors.set(coolingLink, stage.cooling.conductor);
  const groups = new Map(contactGroups(mount).map((group) => [group.name, group]));
  const grid = gridOf(mount, cells);
  const square = conductors.get(spreading)!;
  const { links } = chains(mount, structure, conductors, groups);
  const inDie = cellLinks(grid).map(({ from, to, squares }) => ({
    name: `die ${from} to ${to}`,
    from: cellName(from),
    to: cellName(to),
    conductor: square,
    count: 1 / squares,
  }));
  const all = [...inDie, ...fromCells(mount, grid, groups, links)];

  const { stores, warnings } = storesOf(mount, catalogue);
  const stored = new Map<string, HeatStore[]>();
  for (const placed of stores) {
    for (const { node, share } of nodesOfStore(placed, grid, groups)) {
      stored.set(node, [...(stored.get(node) ?? []), scaledStore(placed.store, share)]);
    }
  }
  const held = heldTemperatures(mount, structure);
  const names = new Set(all.flatMap(({ from, to }) => [from, to]));
  const dieNodes = Array.from({ length: grid.cells }, (_, cell) => cellName(cell));
  const loads = structure.powers.map((source): LoadInTime => {
    const heat = source.load(mount, coldest);
    const law = source.law?.(mount);
    const falls =
      source.on === place.hottest
        ? fallsOn(cellPowers(grid, powerMap(source.of(mount), 1), `${source.field}.map`))
        : [{ node: source.on, share: 1 }];
    return { name: source.name, on: source.on, load: heat, ...(law && { law }), falls };
  });
  return {
    structure,
    network: {
      nodes: [...names].map((name) => {
        const temperature = held.get(name);
        if (temperature !== undefined) return { name, temperature };
        return withStore(name, storeOn(stored.get(name) ?? []));
      }),
      links: all,
    },
    loads,
    nodes: placesOf(structure, groups, dieNodes),
    grid,
    hit: (at, field) => {
      onDie(mount, at, field);
      if (!at) return dieNodes.map((node) => ({ node, share: 1 / grid.cells }));
      return [{ node: cellName(cellAt(grid, at.x, at.y)), share: 1 }];
    },
    warnings,
  };
}

function gridOf({ die: { width, length } }: PlainMount, cells: number): Grid {
  if (!(Number.isInteger(cells) && cells >= 4 && cells <= 128)) {
    throw new FieldError("cells", "a whole number from 4 to 128", cells);
  }
  const longer = Math.max(width, length);
  const along = (side: number) => Math.max(1, Math.round((cells * side) / longer));
  return new Grid(width, length, along(width), along(length), "die");
}

/** Name of a cell's node. */
export function cellName(cell: number): string {
  return `die cell ${cell}`;
}

/** Links at a contact of the die, dealt out to the cells under it by the area it has on each. */
function fromCells(
  mount: PlainMount,
  grid: Grid,
  groups: ReadonlyMap<string, ContactGroup>,
  links: readonly LinkDescription[],
): readonly LinkDescription[] {
  const under = new Map<string, ReturnType<typeof cellsUnder>>();
  for (const group of groups.values()) {
    const contacts = group.contacts.map(({ area }, k) => ({
      name: member(dieAt(mount, group.name), k),
      area,
      layer: group.layer,
    }));
    for (const contact of checkContacts(grid, contacts) as readonly CheckedContact[]) {
      under.set(contact.name, cellsUnder(grid, contact));
    }
  }
  return links.flatMap((link) => {
    const cells = under.get(link.from) ?? under.get(link.to);
    if (!cells) return [link];
    const end = under.has(link.from) ? "from" : "to";
    return cells.map(({ cell, share }, i) => ({
      ...link,
      name: cells.length > 1 ? `${link.name}, cell ${i + 1}` : link.name,
      [end]: cellName(cell),
      count: (link.count ?? 1) * share,
    }));
  });
}

/** The nodes that a store is shared among. */
function nodesOfStore(
  { on, group: groupName, byBonds }: PlacedStore,
  grid: Grid,
  groups: ReadonlyMap<string, ContactGroup>,
): readonly Fall[] {
  if (on === place.hottest) {
    return Array.from({ length: grid.cells }, (_, cell) => ({
      node: cellName(cell),
      share: 1 / grid.cells,
    }));
  }
  const group = groupName === undefined ? undefined : groups.get(groupName)!;
  if (!group) return [{ node: on, share: 1 }];
  return group.contacts
    .map((_, k) => ({ node: nodeOf(on, k), share: shareOf(group, k, byBonds) }))
    .filter(({ share }) => share > 0);
}

/** Powers of the cells as parts of the whole, where there are any. */
function fallsOn(powers: Float64Array): readonly Fall[] {
  return Array.from(powers, (share, cell) => ({ node: cellName(cell), share })).filter(
    ({ share }) => share > 0,
  );
}

/** The nodes of each place of the mount. */
function placesOf(
  { places, parts }: Structure,
  groups: ReadonlyMap<string, ContactGroup>,
  dieNodes: readonly string[],
): ReadonlyMap<string, readonly string[]> {
  const groupAt = new Map<string, Part>();
  for (const part of parts) {
    if (part.group === undefined) continue;
    for (const end of [part.from, part.to]) groupAt.set(end, part);
  }
  const nodes = new Map<string, readonly string[]>();
  for (const name of places) {
    const part = groupAt.get(name);
    if (name === place.hottest) nodes.set(name, dieNodes);
    else if (name.startsWith("die at the ")) continue;
    else if (!part || nodeOf(name, 0) === name) nodes.set(name, [name]);
    else {
      const group = groups.get(part.group!)!;
      const own = group.contacts.flatMap((_, k) =>
        shareOf(group, k, part.byBonds) > 0 ? [nodeOf(name, k)] : [],
      );
      nodes.set(name, own);
    }
  }
  return nodes;
}

function withStore(name: string, store: HeatStore | undefined) {
  return store ? { name, store } : { name };
}
