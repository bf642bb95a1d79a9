/**
 * From the structure of a mount and its numbers to nodes and links, for every model of the die. Where
 * contacts are told apart, a path behind a group becomes a link for each contact, with its share of the
 * area or of the bonds.
 * @module
 */
import { type Conductor, scaled } from "../conductor.js";
import type { LinkDescription, NodeDescription } from "../network/description.js";
import type { ContactGroup, PlacedPath, PlaceInMount, Structure, WarmPath } from "./assemble.js";
import type { PlainMount } from "./mount.js";
import { type Contacts, coolingLink } from "./thing.js";
import type { StageModel } from "./things/stage.js";

/** A node and what it has of something that several share. */
export interface NodalShare {
  readonly node: string;
  /** Of the whole; all parts sum to 1. */
  readonly share: number;
}

/** What a network of a mount is made of, each made when it is asked for. */
export interface Numbers {
  readonly stage: StageModel;
  /** Of the warm end of a wire [K]. */
  temperature(wire: WarmPath): number;
  /** One of what stands side by side. */
  conductor(path: PlacedPath): Conductor;
  /** How many of it stand side by side. */
  count(path: PlacedPath): number;
  /** One square of a film that joins contacts along the die. */
  filmSquare(group: Contacts<PlainMount>): Conductor;
  /** One square of a die, of the mount's own when none is named. */
  dieSquare(die?: string): Conductor;
}

/** How the contacts of the die are told apart. */
export interface Resolved {
  /** The groups as they are laid out. */
  readonly groups: ReadonlyMap<Contacts<PlainMount>, ContactGroup>;
  /** Nodes of the die at contact k of a group. */
  at(group: ContactGroup, k: number): readonly NodalShare[];
}

/** Links of a mount, and which of them make up each path and each place. */
export interface Links {
  readonly links: readonly LinkDescription[];
  /** By the name of a path or a warm wire. */
  readonly linksOf: ReadonlyMap<string, readonly string[]>;
  /** The nodes that meet the law of a path, a wire, a film or the cooling, by its name in `Assembly.laws`. */
  readonly nodesByLaw: ReadonlyMap<string, ReadonlySet<string>>;
  /** Every node of a place that a path touches. */
  readonly nodesOf: ReadonlyMap<PlaceInMount, readonly string[]>;
  /** The nodes of a place from which heat goes on. */
  readonly leavingOf: ReadonlyMap<PlaceInMount, readonly string[]>;
}

export { coolingLink };
/** Name of the fixed node at its other end: the temperature at which it takes no heat. */
export const coolingBase = "stage without load";

/** Node k of a place behind a group of contacts. */
export function memberNode({ name }: PlaceInMount, k: number): string {
  return `${name} ${k + 1}`;
}

/** What contact k has of what stands behind its group: by its area, or by its bonds. */
export function shareOf(group: ContactGroup, k: number, by: "area" | "bonds"): number {
  const contact = group.contacts[k]!;
  if (by === "area") return contact.share;
  return contact.bonds / group.contacts.reduce((sum, { bonds }) => sum + bonds, 0);
}

/**
 * Every link of a mount.
 * @param resolved - absent where everything touches the die at one node
 */
export function linksOfMount(structure: Structure, numbers: Numbers, resolved?: Resolved): Links {
  const links: LinkDescription[] = [];
  const linksOf = new Map<string, string[]>();
  const nodesOf = new Map<PlaceInMount, Set<string>>();
  const leavingOf = new Map<PlaceInMount, readonly string[]>();
  const nodesByLaw = new Map<string, Set<string>>();
  const meet = (law: string, ...nodes: readonly string[]) => {
    const known = nodesByLaw.get(law) ?? new Set();
    for (const node of nodes) known.add(node);
    nodesByLaw.set(law, known);
  };
  const note = (place: PlaceInMount, nodes: readonly NodalShare[]) => {
    const known = nodesOf.get(place) ?? new Set();
    for (const { node } of nodes) known.add(node);
    nodesOf.set(place, known);
    return nodes;
  };
  /** The nodes of an end at contact k of its path's group. */
  const endNodes = (place: PlaceInMount, k: number): readonly NodalShare[] => {
    const group = place.group && resolved?.groups.get(place.group);
    if (!group) return note(place, [{ node: place.name, share: 1 }]);
    const member = place.inPieces ? k : (group.contacts[k]!.of ?? k);
    return note(
      place,
      place.onDie ? resolved!.at(group, k) : [{ node: memberNode(place, member), share: 1 }],
    );
  };
  for (const path of [...structure.paths, ...structure.warm]) {
    const conductor = numbers.conductor(path);
    const count = numbers.count(path);
    const own: string[] = [];
    const leaving: string[] = [];
    const contacts = path.from.group ?? path.to.group;
    const group = contacts && resolved?.groups.get(contacts);
    if (contacts && resolved && !group) {
      throw new Error(`mount: the contacts "${contacts.name}" of "${path.name}" are not laid out.`);
    }
    const isWire = "temperature" in path;
    for (let k = 0; k < (group?.contacts.length ?? 1); k++) {
      const share = group ? shareOf(group, k, path.by) : 1;
      if (!(share > 0)) continue;
      const name = group && !isWire ? `${path.name} ${k + 1}` : path.name;
      const [from, to] = [endNodes(path.from, k), endNodes(path.to, k)];
      leaving.push(...from.map(({ node }) => node));
      const several = from.length * to.length > 1;
      from.forEach((a, i) => {
        to.forEach((b, j) => {
          const link = several ? `${name}, cell ${i * to.length + j + 1}` : name;
          own.push(link);
          meet(path.name, a.node, b.node);
          const part = share * a.share * b.share;
          links.push({ name: link, from: a.node, to: b.node, conductor, count: count * part });
        });
      });
    }
    linksOf.set(path.name, own);
    leavingOf.set(path.from, leaving);
  }
  for (const [contacts, group] of resolved?.groups ?? []) {
    const { film } = contacts;
    if (!film || group.links.length === 0) continue;
    const square = numbers.filmSquare(contacts);
    const place = { name: film.place };
    group.links.forEach(({ from, to, squares }, k) => {
      const [a, b] = [memberNode(place, from), memberNode(place, to)];
      meet(film.name, a, b);
      links.push({
        name: `${film.name} ${k + 1}`,
        from: a,
        to: b,
        conductor: scaled(square, 1 / squares),
      });
    });
  }
  if ("cooling" in numbers.stage) {
    const { conductor } = numbers.stage.cooling;
    links.push({ name: coolingLink, from: structure.stage.name, to: coolingBase, conductor });
    meet(coolingLink, structure.stage.name, coolingBase);
  }
  return {
    links,
    linksOf,
    nodesByLaw,
    nodesOf: new Map([...nodesOf].map(([place, nodes]) => [place, [...nodes]])),
    leavingOf,
  };
}

/** Temperatures of nodes that are held: the stage or what cools it, and warm ends [K]. */
export function heldTemperatures(
  structure: Structure,
  numbers: Pick<Numbers, "stage" | "temperature">,
): ReadonlyMap<string, number> {
  const { stage } = numbers;
  const held = new Map<string, number>(
    "cooling" in stage
      ? [[coolingBase, stage.cooling.base]]
      : [[structure.stage.name, stage.temperature]],
  );
  for (const wire of structure.warm) held.set(wire.from.name, numbers.temperature(wire));
  return held;
}

/** Nodes by name, held or free. */
export function nodesFor(
  names: Iterable<string>,
  held: ReadonlyMap<string, number>,
  free: (name: string) => NodeDescription,
): readonly NodeDescription[] {
  return [...names].map((name) => {
    const temperature = held.get(name);
    return temperature === undefined ? free(name) : { name, temperature };
  });
}

/** Every node that a link touches, after some that come first. */
export function touched(links: readonly LinkDescription[], first: readonly string[]): Set<string> {
  const nodes = new Set(first);
  for (const { from, to } of links) nodes.add(from).add(to);
  return nodes;
}
