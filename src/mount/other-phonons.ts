/**
 * A mount with the other choice of phonons in its films, where the one that was made is in doubt.
 * @module
 */
import type { NetworkDescription } from "../network/description.js";
import { SolveError } from "../network/solution.js";
import { SteadyNetwork } from "../network/steady.js";
import type { Dies } from "./dies.js";
import { MountModel } from "./model.js";
import type { PlainMount } from "./mount.js";
import { nameOn, ownDie, ownKeys } from "./on-die.js";
import type { OperatingPoint } from "./operating-point.js";
import { isResolved } from "./things/die.js";
import { otherPhonons } from "./things/film.js";

/** Rise of the chip with the other choice of phonons in the films where the mount's own is in doubt. */
export function riseWithOtherPhonons(
  at: OperatingPoint,
  dies: Dies,
): number | "not solved" | undefined {
  const { mount, catalogue, structure, reading } = at;
  const others = structure.dies.map(({ name: die, chip, of }) => {
    const onDie = reading.temperatures.get(chip.name)!;
    const shared = (film: string) =>
      reading.extents.get(`${nameOn(die, film)} phonons`)?.[0] ?? onDie;
    return [die, otherPhonons(of(mount), catalogue, shared)] as const;
  });
  if (others.every(([, changed]) => !changed)) return undefined;
  const places = others.flatMap(([die, changed]) =>
    (changed?.films ?? []).map((film) => `${nameOn(die, film)} phonons`),
  );
  try {
    const shared = isResolved(structure.die) ? undefined : withoutPlaces(at, places);
    if (shared) {
      const { temperatures } = new SteadyNetwork(shared).solve();
      return temperatures.get(structure.chip.name)! - temperatures.get(structure.stage.name)!;
    }
    const other = withDies(mount, new Map(others.map(([die, of]) => [die, of?.mount])));
    const { chip, stage } = new MountModel(other, catalogue, { die: structure.die, dies }).point();
    return chip - stage;
  } catch (error) {
    // A die that has a steady state with the one choice need not have one with the other.
    if (error instanceof SolveError) return "not solved";
    throw error;
  }
}

/**
 * The network that was solved with some places of phonons joined to the die, whose phonons are then shared;
 * undefined where one of them is none of its places. To make it of the mount takes as long as the budget.
 */
function withoutPlaces(
  { network, structure }: OperatingPoint,
  places: readonly string[],
): NetworkDescription | undefined {
  const into = new Map(
    structure.paths
      .filter(({ to }) => places.includes(to.name))
      .map(({ from, to }) => [to.name, from.name]),
  );
  if (places.some((place) => !into.has(place))) return undefined;
  const nodeOf = (name: string) => into.get(name) ?? name;
  return {
    nodes: network.nodes.filter(({ name }) => !into.has(name)),
    links: network.links
      .map((link) => ({ ...link, from: nodeOf(link.from), to: nodeOf(link.to) }))
      .filter(({ from, to }) => from !== to),
  };
}

/** A mount with what belongs to some of its dies taken from others. */
function withDies(
  mount: PlainMount,
  others: ReadonlyMap<string, PlainMount | undefined>,
): PlainMount {
  const dies = Object.entries(mount.dies ?? {}).map(([name, own]) => {
    const { die: _, ...changed } = ownKeys(others.get(name));
    return [name, { ...own, ...changed }];
  });
  return {
    ...(others.get(ownDie) ?? mount),
    ...(mount.dies && { dies: Object.fromEntries(dies) }),
  };
}
