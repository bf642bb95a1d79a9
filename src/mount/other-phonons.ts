/**
 * A mount with the other choice of phonons in its films, where the one that was made is in doubt.
 * @module
 */
import { SolveError } from "../network/solution.js";
import type { Dies } from "./dies.js";
import { MountModel, type OperatingPoint } from "./model.js";
import type { PlainMount } from "./mount.js";
import { nameOn, ownDie, ownKeys } from "./on-die.js";
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
  const other = withDies(mount, new Map(others));
  try {
    const { chip, stage } = new MountModel(other, catalogue, { die: structure.die, dies }).point();
    return chip - stage;
  } catch (error) {
    // A die that has a steady state with the one choice need not have one with the other.
    if (error instanceof SolveError) return "not solved";
    throw error;
  }
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
