/**
 * A mount whose die is a sheet: each contact of the die with its own chain of parts behind it.
 *
 * The die is one body of the network, condensed to its contacts; a part behind a group of contacts
 * becomes a link for each of them, with its share of the area or of the bonds.
 * @module
 */
import type { CondensedSheet } from "../chip/condensed-sheet.js";
import type { PowerMap } from "../chip/power-map.js";
import { Sheet } from "../chip/sheet.js";
import { type Conductor, scaled } from "../conductor.js";
import type { Catalogue } from "../materials/types.js";
import type { LinkDescription, NetworkDescription } from "../network/description.js";
import { SteadyNetwork } from "../network/steady.js";
import { FieldError } from "../units/errors.js";
import { dieSquare, spreading } from "./die-parts.js";
import { filmSquare } from "./film-parts.js";
import { type ContactGroup, contactGroups } from "./layout.js";
import { dieAt, place, sharedPlaces } from "./part.js";
import type { PlainLoad, PlainMount } from "./read.js";
import {
  coolingLinks,
  heatOn,
  heldTemperatures,
  type Reading,
  type Translation,
} from "./translate.js";

/** Name of the die among the network's bodies. */
const dieBody = "die";

/**
 * Keeps dies already diagonalised and condensed, and the last network compiled, so that a loop over one
 * mount does each once.
 */
export class SheetStore {
  readonly #sheets = new Map<string, Sheet>();
  readonly #condensed = new Map<string, CondensedSheet>();
  #network: SteadyNetwork | undefined;

  /** A network ready to be solved; until the next one is asked for. */
  network(description: NetworkDescription): SteadyNetwork {
    if (!this.#network?.updateValues(description)) this.#network = new SteadyNetwork(description);
    return this.#network;
  }

  /** The die of a mount, condensed to its contacts. @throws FieldError naming a contact that does not fit */
  condensed(mount: PlainMount, groups: readonly ContactGroup[]): CondensedSheet {
    const { width, length, cells = enoughCells(mount, groups) } = mount.die;
    const across = width >= length ? cells : powerOfTwo((cells * width) / length);
    const along = length >= width ? cells : powerOfTwo((cells * length) / width);
    const size = { width, length, cellsX: across, cellsY: along };
    const sheet = kept(this.#sheets, JSON.stringify(size), () => new Sheet(size, "die"));
    const contacts = groups.flatMap((group) =>
      group.contacts.map(({ area }, k) => ({
        name: member(dieAt(mount, group.name), k),
        area,
        layer: group.layer,
      })),
    );
    const key = JSON.stringify([size, contacts]);
    return kept(this.#condensed, key, () => {
      try {
        return sheet.condense(contacts, "die");
      } catch (error) {
        throw inWordsOfMount(error, mount, groups);
      }
    });
  }
}

/** A contact that does not fit, by the field of the mount that places it. */
function inWordsOfMount(
  error: unknown,
  mount: PlainMount,
  groups: readonly ContactGroup[],
): unknown {
  if (!(error instanceof FieldError)) return error;
  for (const group of groups) {
    const k = group.contacts.findIndex(
      (_, i) => member(dieAt(mount, group.name), i) === error.field,
    );
    if (k < 0) continue;
    return new FieldError(`${group.field(k)} (${error.field})`, error.wanted, error.value);
  }
  return error;
}

/**
 * Cells along the longer side: 128, or as many more as it takes for no two neighbouring contacts to lie
 * in one cell.
 */
function enoughCells({ die }: PlainMount, groups: readonly ContactGroup[]): number {
  let nearest = Number.POSITIVE_INFINITY;
  for (const { contacts } of groups) {
    for (let k = 1; k < contacts.length; k++) {
      const [a, b] = [middle(contacts[k - 1]!.area), middle(contacts[k]!.area)];
      nearest = Math.min(nearest, Math.max(Math.abs(a.x - b.x), Math.abs(a.y - b.y)));
    }
  }
  let cells = 128;
  while (cells < 512 && Math.max(die.width, die.length) / cells > nearest) cells *= 2;
  return cells;
}

function middle(area: ContactGroup["contacts"][number]["area"]) {
  const { left, right, bottom, top } = "left" in area ? area : area[0]!;
  return { x: (left + right) / 2, y: (bottom + top) / 2 };
}

/** Looks up, makes what is missing, and forgets the oldest of more than a few. */
function kept<T>(store: Map<string, T>, key: string, make: () => T): T {
  const found = store.get(key) ?? make();
  store.delete(key);
  store.set(key, found);
  if (store.size > 8) store.delete(store.keys().next().value!);
  return found;
}

function powerOfTwo(cells: number): number {
  return 2 ** Math.max(3, Math.round(Math.log2(cells)));
}

/** The dies and films whose own laws enter the network beside the parts. */
export function sheetConductors(mount: PlainMount, catalogue: Catalogue): [string, Conductor][] {
  const laws: [string, Conductor][] = [[spreading, dieSquare(mount, catalogue)]];
  for (const film of ["ring", "back"] as const) {
    if (mount[film]) laws.push([alongName(film), filmSquare(mount, film, catalogue)]);
  }
  return laws;
}

function alongName(film: string): string {
  return `along the ${film}`;
}

/** Name of one of many alike. */
export function member(name: string, k: number): string {
  return `${name} ${k + 1}`;
}

/** The network, and how to read its solution. */
export function sheetNetwork(
  mount: PlainMount,
  { structure, conductors, loads }: Omit<Translation, "network" | "read">,
  sheets: SheetStore,
): Pick<Translation, "network" | "read"> {
  const groups = new Map(contactGroups(mount).map((group) => [group.name, group]));
  const condensed = sheets.condensed(mount, [...groups.values()]);
  const heated = loads.flatMap(({ on, load }, i) => {
    if (on !== place.hottest) return [];
    const source = structure.powers[i]!;
    const map = powerMap(source.of(mount), 1);
    return { map, times: load.power, field: `${source.field}.map` };
  });
  const body = condensed.body(conductors.get(spreading)!, heated);

  const { links, linksOf } = chains(mount, structure, conductors, groups);
  const network = describe(mount, structure, links, loads, condensed.terminals);
  return {
    network: { ...network, bodies: [{ name: dieBody, terminals: condensed.terminals, body }] },
    read: (solution) => {
      const powers = new Map(solution.flows.map(({ link, power }) => [link, power]));
      const field = condensed.fieldOf(body, solution, dieBody);
      const nodes = membersOf(structure, links);
      const leaving = new Map<string, number>();
      for (const { from, name } of links) {
        leaving.set(from, (leaving.get(from) ?? 0) + Math.abs(powers.get(name)!));
      }
      const temperatures = new Map<string, number>();
      const extents = new Map<string, readonly [number, number]>();
      for (const [name, members] of nodes) {
        const each = members.map((node) => solution.temperatures.get(node)!);
        temperatures.set(
          name,
          mean(
            each,
            members.map((node) => leaving.get(node) ?? 0),
          ),
        );
        extents.set(name, [Math.min(...each), Math.max(...each)]);
      }
      temperatures.set(place.hottest, field.hottest.temperature);
      extents.set(place.hottest, [field.coldest.temperature, field.hottest.temperature]);
      const flows = new Map<string, number>();
      for (const [part, own] of linksOf) {
        flows.set(
          part,
          own.reduce((sum, link) => sum + powers.get(link)!, 0),
        );
      }
      return { temperatures, extents, flows, field } satisfies Reading;
    },
  };
}

/** The links of a mount whose die has a node at each contact, and which of them make up each part. */
interface Chains {
  readonly links: LinkDescription[];
  /** By part and warm wire. */
  readonly linksOf: ReadonlyMap<string, readonly string[]>;
}

/**
 * From each contact of the die to the stage: a part behind a group of contacts becomes a link for each
 * of them, with its share of the area or of the bonds.
 */
export function chains(
  mount: PlainMount,
  structure: Translation["structure"],
  conductors: ReadonlyMap<string, Conductor>,
  groups: ReadonlyMap<string, ContactGroup>,
): Chains {
  const links: LinkDescription[] = [];
  const linksOf = new Map<string, string[]>();
  const add = (part: string, link: LinkDescription) => {
    links.push(link);
    const own = linksOf.get(part);
    if (own) own.push(link.name);
    else linksOf.set(part, [link.name]);
  };
  for (const part of structure.parts) {
    const conductor = conductors.get(part.name)!;
    const count = part.count?.(mount) ?? 1;
    const group = part.group === undefined ? undefined : groups.get(part.group)!;
    if (!group) {
      add(part.name, { name: part.name, from: part.from, to: part.to, conductor, count });
      continue;
    }
    group.contacts.forEach((_, k) => {
      const share = shareOf(group, k, part.byBonds);
      if (!(share > 0)) return;
      const name = member(part.name, k);
      const [from, to] = [nodeOf(part.from, k), nodeOf(part.to, k)];
      add(part.name, { name, from, to, conductor, count: count * share });
    });
  }
  for (const group of groups.values()) {
    if (group.links.length === 0) continue;
    const square = conductors.get(alongName(group.name))!;
    const electrons = `${group.name} electrons`;
    group.links.forEach(({ from, to, squares }, k) => {
      links.push({
        name: member(alongName(group.name), k),
        from: member(electrons, from),
        to: member(electrons, to),
        conductor: scaled(square, 1 / squares),
      });
    });
  }
  for (const wire of structure.warm) {
    const { name, warmEnd: from } = wire;
    const to = wire.on === place.hottest ? member(dieAt(mount, wire.group), 0) : wire.on;
    add(name, { name, from, to, conductor: conductors.get(name)!, count: wire.count(mount) });
  }
  links.push(...coolingLinks(structure, conductors));
  return { links, linksOf };
}

/** What contact k has of what stands behind its group: by its area, or by its bonds. */
export function shareOf(group: ContactGroup, k: number, byBonds = false): number {
  const contact = group.contacts[k]!;
  if (!byBonds) return contact.share;
  return contact.bonds / group.contacts.reduce((sum, { bonds }) => sum + bonds, 0);
}

/** The node of a place behind contact k; places that all paths share have one node. */
export function nodeOf(name: string, k: number): string {
  return sharedPlaces.includes(name) ? name : member(name, k);
}

/** Every node that a link touches; loads that fall on the box; fixed ends. */
function describe(
  mount: PlainMount,
  structure: Translation["structure"],
  links: readonly LinkDescription[],
  loads: Translation["loads"],
  terminals: readonly string[],
): NetworkDescription {
  const names = new Set([...terminals, ...nodesOf(links)]);
  const held = heldTemperatures(mount, structure);
  return {
    nodes: [...names].map((name) => {
      const temperature = held.get(name);
      return temperature === undefined
        ? { name, load: heatOn(name, loads) }
        : { name, temperature };
    }),
    links,
  };
}

function nodesOf(links: readonly LinkDescription[]): Set<string> {
  const nodes = new Set<string>();
  for (const { from, to } of links) nodes.add(from).add(to);
  return nodes;
}

/** The nodes of each place of the mount. */
function membersOf(
  { places, parts }: Translation["structure"],
  links: readonly LinkDescription[],
): ReadonlyMap<string, readonly string[]> {
  const grouped = new Set(
    parts.flatMap((part) => (part.group === undefined ? [] : [part.from, part.to])),
  );
  const numbered = new Map<string, string[]>();
  for (const node of nodesOf(links)) {
    const name = node.replace(/ \d+$/, "");
    const own = numbered.get(name);
    if (own) own.push(node);
    else numbered.set(name, [node]);
  }
  const members = new Map<string, readonly string[]>();
  for (const name of places) {
    if (name === place.hottest) continue;
    const many = grouped.has(name) && !sharedPlaces.includes(name);
    members.set(name, many ? (numbered.get(name) ?? []) : [name]);
  }
  return members;
}

/** Weighted mean; the plain mean when nothing has weight. */
function mean(values: readonly number[], weights: readonly number[]): number {
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return total > 0
    ? values.reduce((sum, value, i) => sum + value * (weights[i]! / total), 0)
    : values.reduce((sum, value) => sum + value / values.length, 0);
}

/** A map of a load, read. */
type LoadMapInSI = NonNullable<Extract<PlainLoad, { readonly kind: "given" }>["map"]>;

/** Where a load falls, with its power. */
export function powerMap(load: PlainLoad, power: number): PowerMap {
  const map = "map" in load ? (load.map as LoadMapInSI | undefined) : undefined;
  switch (map?.kind) {
    case undefined:
    case "uniform":
      return { kind: "uniform", power };
    case "rectangle": {
      const { left, right, bottom, top } = map;
      return { kind: "rectangle", power, over: { left, right, bottom, top } };
    }
    case "spot":
      return { ...map, power };
    case "pixels": {
      const sum = map.rows.flat().reduce((total, weight) => total + weight, 0);
      const rows = map.rows.map((row) => row.map((weight) => (power * weight) / sum));
      return { kind: "pixels", rows };
    }
  }
}
