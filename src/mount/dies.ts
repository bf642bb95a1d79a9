/**
 * Dies already diagonalised and condensed to their contacts, and the network compiled last, so that a loop
 * over one mount does each once.
 * @module
 */
import type { CondensedSheet } from "../chip/condensed-sheet.js";
import { withoutHole } from "../chip/contact.js";
import type { FlightOptions } from "../chip/flights/box.js";
import { Flights } from "../chip/flights/flights.js";
import { type FlightPaths, pathsOf } from "../chip/flights/shards.js";
import type { Rectangle } from "../chip/grid.js";
import { Sheet } from "../chip/sheet.js";
import type { NetworkDescription } from "../network/description.js";
import { SteadyNetwork } from "../network/steady.js";
import { FieldError } from "../units/errors.js";
import type { ContactGroup } from "./assemble.js";
import { contactNode, contactsOf, flightOptions, onFaces } from "./die-contacts.js";
import type { PlainMount } from "./mount.js";
import type { FaceShares } from "./things/finish.js";

/** Networks that are kept: a search goes to and fro between two numbers of contacts. */
const mostNetworks = 12;
/** Dies that are kept. */
const mostDies = 8;

/** What is kept from one solve to the next. */
export class Dies {
  readonly #sheets = new Map<string, Sheet>();
  readonly #condensed = new Map<string, CondensedSheet>();
  readonly #flights = new Map<string, Flights>();
  readonly #paths = new Map<string, FlightPaths>();
  #networks: readonly SteadyNetwork[] = [];

  constructor(
    /** Of how many phonons of a die of flights one is flown. */
    readonly oneRayOf = 1,
  ) {}

  /** A network ready to be solved; until the next one is asked for. */
  network(description: NetworkDescription): SteadyNetwork {
    const known = this.#networks.find((network) => network.updateValues(description));
    const network = known ?? new SteadyNetwork(description);
    const others = this.#networks.filter((other) => other !== network);
    this.#networks = [network, ...others].slice(0, mostNetworks);
    return network;
  }

  /**
   * The die of a mount, seen from its contacts.
   * @param cells - along the longer side; enough to tell the contacts apart when absent
   * @throws FieldError naming a contact that does not fit
   */
  condensed(
    { die }: PlainMount,
    groups: readonly ContactGroup[],
    cells = die.cells ?? enoughCells(die, groups),
  ): CondensedSheet {
    const { width, length } = die;
    const size = { width, length, cells };
    const contacts = contactsOf(groups);
    const sheet = kept(this.#sheets, JSON.stringify(size), () => new Sheet(size, "die"));
    return kept(this.#condensed, JSON.stringify([size, contacts]), () => {
      try {
        return sheet.condense(contacts, "die");
      } catch (error) {
        throw inWordsOfMount(error, groups);
      }
    });
  }

  /** How the phonons of a die are flown. */
  protected flown(mount: PlainMount, faces: FaceShares, cells: number): FlightOptions {
    return flightOptions(mount, faces, cells, this.oneRayOf);
  }

  /**
   * The die of a mount by flights of its phonons.
   * @param faces - what they reflect like a mirror
   * @param cells - along the longer side of the temperature map
   * @throws FieldError naming a contact that does not fit
   */
  flights(
    mount: PlainMount,
    groups: readonly ContactGroup[],
    faces: FaceShares,
    cells = mount.die.cells ?? 32,
  ): Flights {
    const options = this.flown(mount, faces, cells);
    try {
      const contacts = onFaces(mount, groups);
      const key = JSON.stringify([options, contacts]);
      return kept(
        this.#flights,
        key,
        () => {
          // Contacts that move with their number are met by the same phonons.
          const moving = groups.filter((group) => (group.bands?.length ?? 0) > 0);
          const bands = apart(moving.flatMap((group) => group.bands!));
          const nodes = new Set(
            moving.flatMap((group) => group.contacts.map((_, k) => contactNode(group, k))),
          );
          const others = contacts.filter(({ name }) => !nodes.has(name));
          const alike = JSON.stringify([options, bands, others]);
          const paths = kept(
            this.#paths,
            alike,
            () => pathsOf(options, bands, others),
            mostFlown.paths,
          );
          return new Flights(options, contacts, "die", paths);
        },
        mostFlown.flights,
      );
    } catch (error) {
      throw inWordsOfMount(error, groups);
    }
  }
}

/** Rectangles that hold what some hold, and do not overlap: phonons leave each place as often. */
function apart(some: readonly Rectangle[]): readonly Rectangle[] {
  const held: Rectangle[] = [];
  for (const each of some) held.push(...held.reduce<readonly Rectangle[]>(withoutHole, [each]));
  return held;
}

/** A contact that does not fit, by the field of the mount that places it. */
function inWordsOfMount(error: unknown, groups: readonly ContactGroup[]): unknown {
  if (!(error instanceof FieldError)) return error;
  for (const group of groups) {
    const k = group.contacts.findIndex((_, i) => contactNode(group, i) === error.field);
    if (k < 0) continue;
    return new FieldError(
      group.field(k),
      `${error.wanted} (${error.field})`,
      error.value,
      error.more,
    );
  }
  return error;
}

/**
 * Cells along the longer side: 128, or as many more as it takes for no two neighbouring contacts to lie
 * in one cell.
 */
function enoughCells(die: PlainMount["die"], groups: readonly ContactGroup[]): number {
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

/** Dies of flights that are kept, and paths: a hundred megabytes each where pads are few. */
const mostFlown = { flights: 3, paths: 2 };

/** Looks up, makes what is missing, and forgets the oldest of more than a few. */
function kept<T>(store: Map<string, T>, key: string, make: () => T, most = mostDies): T {
  const found = store.get(key) ?? make();
  store.delete(key);
  store.set(key, found);
  if (store.size > most) store.delete(store.keys().next().value!);
  return found;
}
