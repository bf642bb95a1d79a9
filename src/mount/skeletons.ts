/**
 * What of the network of a resolved mount its loads do not change, kept for each way in which its contacts
 * are cut: a solve begins with whole contacts and cuts them in a few rounds, the same ones when only loads
 * have changed.
 * @module
 */
import type { CondensedDie } from "../chip/condensed-die.js";
import type { ContactGroup } from "./assemble.js";
import { contactNode } from "./die-contacts.js";
import { type Links, memberNode } from "./links.js";
import type { PlainMount } from "./mount.js";
import type { Contacts } from "./thing.js";

/** Groups of contacts as they are taken, in pieces where some are cut. */
export type Groups = ReadonlyMap<Contacts<PlainMount>, ContactGroup>;

/** A network without its loads and held temperatures. */
export interface Skeleton {
  readonly groups: Groups;
  /** Resolved dies by their names, condensed to their contacts. */
  readonly condensed: ReadonlyMap<string, CondensedDie>;
  readonly links: Links;
  /** Every node. */
  readonly nodes: ReadonlySet<string>;
}

/** Ways of cutting that are kept: a solve goes through three or four. */
const mostKept = 12;

/** Skeletons of one mount. */
export class Skeletons {
  #madeOf: readonly unknown[] = [];
  readonly #known = new Map<string, Skeleton>();

  /**
   * @param cuts - how contacts are cut
   * @param madeOf - all else that it is made of
   */
  of(cuts: string, madeOf: readonly unknown[], make: () => Skeleton): Skeleton {
    const before = this.#madeOf;
    if (madeOf.length !== before.length || madeOf.some((each, i) => each !== before[i])) {
      this.#known.clear();
      this.#madeOf = madeOf;
    }
    const found = this.#known.get(cuts) ?? make();
    this.#known.delete(cuts);
    this.#known.set(cuts, found);
    if (this.#known.size > mostKept) this.#known.delete(this.#known.keys().next().value!);
    return found;
  }
}

/**
 * Temperatures to start from, by those of a network whose contacts were cut less: each piece has that of
 * the first piece of its contact.
 * @param temperatures - of the nodes before
 */
export function startOfPieces(
  temperatures: ReadonlyMap<string, number>,
  before: Groups,
  after: Pick<Skeleton, "groups" | "links">,
): ReadonlyMap<string, number> {
  const start = new Map(temperatures);
  for (const [node, from] of startNodes(before, after)) start.set(node, temperatures.get(from)!);
  return start;
}

/** What was found last, by the groups of a skeleton. */
const known = new WeakMap<Groups, { readonly before: Groups; readonly nodes: NodePairs }>();

/** Nodes, and those of a network before at whose temperatures they start. */
type NodePairs = readonly (readonly [node: string, from: string])[];

function startNodes(before: Groups, { groups, links }: Pick<Skeleton, "groups" | "links">) {
  const last = known.get(groups);
  if (last?.before === before) return last.nodes;
  const nodes: (readonly [string, string])[] = [];
  const behind = [...links.nodesOf.keys()].filter(({ inPieces }) => inPieces);
  for (const [key, group] of groups) {
    const first = new Map<number, number>();
    before.get(key)!.contacts.forEach(({ of }, k) => {
      const whole = of ?? k;
      if (!first.has(whole)) first.set(whole, k);
    });
    const places = behind.filter((place) => place.group === key);
    group.contacts.forEach(({ of }, k) => {
      const from = first.get(of ?? k)!;
      nodes.push([contactNode(group, k), contactNode(group, from)]);
      for (const place of places) nodes.push([memberNode(place, k), memberNode(place, from)]);
    });
  }
  known.set(groups, { before, nodes });
  return nodes;
}
