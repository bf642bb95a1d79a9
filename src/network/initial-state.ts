/**
 * Heat stores of a network, and the temperatures from which it goes on in time: the steady state, or
 * those given for the nodes that store heat, with all others in balance with them.
 * @module
 */
import type { HeatStore } from "../conductor.js";
import { enthalpyLaw, TemperatureLaw } from "../numerics/temperature-law.js";
import { anObject } from "../units/checks.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import { checkPowers, type NetworkDescription, positive } from "./description.js";
import type { SteadyNetwork } from "./steady.js";

/**
 * Of the largest heat capacity in the network at its coldest. A node that has less is given so much: the
 * electrons of a superconductor far below its critical temperature have none at all, and no temperature
 * belongs to their heat. With this they follow what is beside them.
 */
const negligible = 1e-20;

/** H(T) [J] by free node; undefined for one that stores nothing. */
export type Stores = readonly (TemperatureLaw | undefined)[];

/** @throws FieldError unless the power laws of the store make one whose C is positive */
export function storedHeat(node: string, store: HeatStore): TemperatureLaw {
  const field = `${node}.store`;
  const { powers = [], powersUpTo } = anObject(field, store);
  checkPowers(() => field, powers, powersUpTo);
  return enthalpyLaw(store);
}

/**
 * The stores of the free nodes, in the order of their names.
 * @throws FieldError for a wrong store, or when no free node has one
 */
export function storesOf({ nodes }: NetworkDescription, names: readonly string[]) {
  const given = new Map(nodes.map(({ name, store }) => [name, store]));
  const laws = names.map((name) => {
    const store = given.get(name);
    return store && storedHeat(name, store);
  });
  const stores = notWithout(
    laws,
    Math.min(...nodes.flatMap(({ temperature = [] }) => temperature)),
  );
  if (stores.every((store) => store === undefined)) {
    throw new FieldError("nodes.store", "a free node that stores heat", "none");
  }
  return stores;
}

/**
 * The laws, with the least heat capacity at those that have next to none.
 * @param coldest - the lowest fixed temperature [K]
 */
export function notWithout(laws: Stores, coldest: number): (TemperatureLaw | undefined)[] {
  const capacities = laws.map((law) => law?.slope(coldest) ?? 0);
  const least = negligible * Math.max(...capacities);
  return laws.map((law, i) =>
    law && capacities[i]! < least
      ? new TemperatureLaw(
          (T) => law.value(T) + least * T,
          (T) => law.slope(T) + least,
        )
      : law,
  );
}

/**
 * Sets the temperatures of the nodes that store heat, and start values of the others.
 * @returns false where there is no steady state to start from
 * @throws FieldError, UnknownNameError for a wrong start
 */
export function setStart(
  network: SteadyNetwork,
  stores: Stores,
  start: "steady" | ReadonlyMap<string, number>,
): boolean {
  if (start === "steady") return network.trySolve();
  if (!(start instanceof Map)) {
    throw new FieldError("start", '"steady", or a Map of temperatures in K by node', start);
  }
  const { nodeNames, temperatures, balance } = network;
  for (const name of start.keys()) {
    if (!nodeNames.includes(name)) throw new UnknownNameError("start", "node", name, nodeNames);
  }
  stores.forEach((store, i) => {
    const name = nodeNames[i]!;
    const T = start.get(name);
    const needed = T !== undefined || store !== undefined;
    temperatures[i] = needed ? positive(`start.${name}`, T!, "K") : balance.coldestFixed;
  });
  return true;
}

/**
 * Balances the nodes that store nothing with the others, whose temperatures are held.
 * @returns whether there is a balance
 */
export function balanceOthers(network: SteadyNetwork, stores: Stores): boolean {
  if (!stores.includes(undefined)) return true;
  const { balance } = network;
  stores.forEach((store, i) => {
    balance.isHeld[i] = store === undefined ? 0 : 1;
  });
  balance.holding = true;
  try {
    return network.trySolve(undefined, "present");
  } finally {
    balance.holding = false;
  }
}
