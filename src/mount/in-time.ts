/**
 * A mount for a run in time: its network with heat stores, a 2-D die in cells, and where each load and a
 * hit enter.
 * @module
 */
import { checkContacts } from "../chip/contact.js";
import { Grid } from "../chip/grid.js";
import { cellPowers } from "../chip/power-map.js";
import { type HeatStore, scaledStore } from "../conductor.js";
import { storesTogether } from "../joints/heat-store.js";
import type { NetworkDescription } from "../network/description.js";
import type { PlacedLaw } from "../ranges.js";
import { FieldError } from "../units/errors.js";
import { formatGiven } from "../units/format.js";
import { inWords } from "./as-written.js";
import type { DieInMount, MountHeat, Store } from "./assemble.js";
import { type Assembly, groupsOn } from "./assembly.js";
import { contactNode, contactsOf } from "./die-contacts.js";
import {
  heldTemperatures,
  linksOfMount,
  memberNode,
  type NodalShare,
  nodesFor,
  type Resolved,
  shareOf,
  touched,
} from "./links.js";
import type { PlainMount } from "./mount.js";
import { ownDie } from "./on-die.js";
import { powerMap } from "./power-map.js";
import type { Point } from "./things/spots.js";
import type { InTime } from "./timed.js";

/** Cells of the die along its longer side in a run in time when nothing is said. */
const usualCells = 32;

/** A die as nodes of a network. */
interface DieNodes {
  readonly grid?: Grid;
  /** Its nodes at contact k of a group of it; absent where it has few. */
  readonly at?: Resolved["at"];
  /** Links inside it. */
  readonly links: NetworkDescription["links"];
  /** Its cells; the chip's node where there is but one. */
  readonly nodes: readonly string[];
  /** Where a load on the die falls. */
  load(heat: MountHeat): readonly NodalShare[];
  /** Where a hit at a place enters. */
  hit(at: Point | undefined): readonly NodalShare[];
}

/**
 * The network of a mount with its heat stores.
 * @param cells - of a 2-D die along its longer side
 * @throws FieldError, UnknownNameError
 */
export function inTime(model: Assembly, cells: number = usualCells): InTime {
  const { structure, numbers, mount } = model;
  const { stores, warnings } = storesOf(model);
  const byFlights = structure.die === "flights";
  const dies = new Map(
    structure.dies.map((die) => [
      die.name,
      byFlights
        ? dieOfFlights(model, die)
        : model.isResolved
          ? dieInCells(model, die, cells)
          : dieNodes(die, stores),
    ]),
  );
  const resolved: Resolved | undefined = model.isResolved
    ? { groups: model.groups, at: (group, k) => dies.get(group.die ?? ownDie)!.at!(group, k) }
    : undefined;
  const onChip = new Map(structure.dies.map(({ name, chip }) => [chip, dies.get(name)!]));
  const { links, leavingOf, nodesByLaw } = linksOfMount(structure, numbers, resolved);
  const all = [...[...dies.values()].flatMap((die) => die.links), ...links];
  const held = heldTemperatures(structure, numbers);
  const stored = new Map<string, HeatStore[]>();
  const storeLaws: PlacedLaw[] = [];
  for (const { name, at, by, store } of stores) {
    const group = at.group && resolved?.groups.get(at.group);
    const die = onChip.get(at);
    const shares = die?.grid
      ? die.nodes.map((node) => ({ node, share: 1 / die.nodes.length }))
      : group
        ? group.contacts.flatMap((_, k) => {
            const nodes = at.onDie
              ? resolved!.at(group, k)
              : [{ node: memberNode(at, k), share: 1 }];
            const part = shareOf(group, k, by);
            return nodes.map(({ node, share }) => ({ node, share: part * share }));
          })
        : [{ node: at.name, share: 1 }];
    const holding = shares.filter(({ share }) => share > 0);
    storeLaws.push({ name: `heat of ${name}`, law: store, nodes: holding.map(({ node }) => node) });
    for (const { node, share } of holding) {
      const part = share === 1 ? store : scaledStore(store, share);
      stored.set(node, [...(stored.get(node) ?? []), part]);
    }
  }
  const first = resolved
    ? [...dies.values()].flatMap(({ nodes }) => nodes)
    : [...structure.places.map(({ name }) => name), ...held.keys()];
  const places = structure.places.filter(({ onDie }) => !onDie);
  const own = dies.get(ownDie)!;
  const network: NetworkDescription = {
    nodes: nodesFor(touched(all, first), held, (name) => {
      const here = stored.get(name);
      return here ? { name, store: here.length > 1 ? storesTogether(here) : here[0]! } : { name };
    }),
    links: all,
  };
  return {
    mount,
    catalogue: model.catalogue,
    structure,
    cooling: numbers.stage,
    network,
    loads: model.heats().map((heat) => ({
      name: heat.source.name,
      nodes: dies.get(heat.source.on)?.load(heat) ?? [
        { node: structure.heated.find(({ on }) => on === heat.source.on)!.place.name, share: 1 },
      ],
      ...heat,
    })),
    laws: [
      ...[...model.laws].flatMap(([name, law]) => {
        const die = structure.dies.find(({ spreading }) => spreading === name);
        const nodes = die ? dies.get(die.name)!.nodes : [...(nodesByLaw.get(name) ?? [])];
        return nodes.length > 0 ? [{ name, law, nodes }] : [];
      }),
      ...storeLaws,
    ],
    nodes: new Map(
      places.map((place) => [
        place.name,
        onChip.get(place)?.nodes ?? leavingOf.get(place) ?? [place.name],
      ]),
    ),
    grid: own.grid,
    hit(at, field, die = ownDie) {
      if (at) refuseOffDie(structure.dies.find(({ name }) => name === die)!.of(mount), at, field);
      return dies.get(die)!.hit(at);
    },
    warnings,
  };
}

/**
 * Every heat store of a mount. Where the catalogue has no heat capacity of a material, its heat is left
 * out with a warning.
 * @throws FieldError when the die's heat capacity is not known
 */
export function storesOf({ structure, mount, catalogue }: Assembly) {
  const warnings: string[] = [];
  const stores: (Pick<Store, "name" | "at" | "by" | "ofDie"> & { readonly store: HeatStore })[] =
    [];
  for (const { name, at, by, ofDie, field, store } of structure.stores) {
    try {
      stores.push({ name, at, by, ofDie, store: store(mount, catalogue) });
    } catch (error) {
      if (ofDie || !(error instanceof FieldError)) throw inWords(error, mount);
      const why =
        error.value === undefined
          ? `${error.field} is not given, ${error.wanted}.`
          : `${error.message}.`;
      warnings.push(`${field}: ${why} Its heat is left out.`);
    }
  }
  return { stores, warnings: [...new Set(warnings)] };
}

/** A die with one node or two: a hit heats all of it, each node by what it stores. */
function dieNodes({ chip }: DieInMount, stores: ReturnType<typeof storesOf>["stores"]): DieNodes {
  const ofDie = stores.filter((store) => store.ofDie && store.at.die === chip.die);
  const whole = ofDie.reduce((sum, { store }) => sum + store.heatCapacity(0.1), 0);
  const { name } = chip;
  return {
    links: [],
    nodes: [name],
    load: () => [{ node: name, share: 1 }],
    hit: () =>
      ofDie.map(({ at, store }) => ({ node: at.name, share: store.heatCapacity(0.1) / whole })),
  };
}

/** A die in cells, and the cells under each contact. */
function dieInCells(
  { mount, groups, numbers }: Assembly,
  die: DieInMount,
  cells: number,
): DieNodes {
  const grid = gridOf(die.of(mount), cells);
  const cellName = (cell: number) => `${die.name} cell ${cell}`;
  const under = new Map(
    checkContacts(grid, contactsOf(groupsOn(die.name, groups))).map(({ name, pieces }) => [
      name,
      grid.cellsUnder(pieces),
    ]),
  );
  const square = numbers.dieSquare(die.name);
  const nodes = Array.from({ length: grid.cells }, (_, cell) => cellName(cell));
  return {
    grid,
    at: (group, k) =>
      under.get(contactNode(group, k))!.map(({ cell, share }) => ({ node: cellName(cell), share })),
    links: grid.links().map(({ from, to, squares }) => ({
      name: `${die.name} ${from} to ${to}`,
      from: cellName(from),
      to: cellName(to),
      conductor: square,
      count: 1 / squares,
    })),
    nodes,
    load({ source }) {
      const powers = cellPowers(grid, powerMap(source.map(mount), 1), `${source.field}.map`);
      return Array.from(powers, (share, cell) => ({ node: cellName(cell), share })).filter(
        ({ share }) => share > 0,
      );
    },
    hit: (at) =>
      at
        ? [{ node: cellName(grid.cellAt(at.x, at.y)), share: 1 }]
        : nodes.map((node) => ({ node, share: 1 / grid.cells })),
  };
}

/**
 * A die of flights: phonons fill it in microseconds, so it is one node with a way to each contact, by which
 * evenly spread heat leaves as the flights tell.
 */
function dieOfFlights(model: Assembly, die: DieInMount): DieNodes {
  const { name } = die.chip;
  const { ways, law } = model.waysOfFlight(die);
  return {
    at: (group, k) => [{ node: contactNode(group, k), share: 1 }],
    links: ways.map(({ contact, part }) => ({
      name: `flights to ${contact}`,
      from: name,
      to: contact,
      conductor: law,
      count: part,
    })),
    nodes: [name],
    load: () => [{ node: name, share: 1 }],
    hit: () => [{ node: name, share: 1 }],
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

/** @throws FieldError for a place off a die */
export function refuseOffDie({ die }: Pick<PlainMount, "die">, at: Point, field: string): void {
  for (const [side, most] of [
    ["x", die.width],
    ["y", die.length],
  ] as const) {
    if (at[side] >= 0 && at[side] <= most) continue;
    const wanted = `a place on the die, 0 to ${formatGiven(most, "m")}`;
    throw new FieldError(`${field}.${side}`, wanted, formatGiven(at[side], "m"));
  }
}
