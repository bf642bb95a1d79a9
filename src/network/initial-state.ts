/**
 * Temperatures from which a network goes on in time: the steady state, or those given for the nodes that
 * store heat, with all others in balance with them.
 * @module
 */
import { FieldError, UnknownNameError } from "../units/errors.js";
import { positive } from "./checks.js";
import type { SteadyNetwork } from "./steady.js";
import type { StoredHeat } from "./stored-heat.js";

/** By free node; undefined for one that stores nothing. */
export type Stores = readonly (StoredHeat | undefined)[];
/** The steady state, or temperatures by node [K]. */
export type Start = "steady" | ReadonlyMap<string, number>;

/**
 * Sets the temperatures of the nodes that store heat, and start values of the others.
 * @returns false where there is no steady state to start from
 * @throws FieldError, UnknownNameError for a wrong start
 */
export function setStart(network: SteadyNetwork, stores: Stores, start: Start): boolean {
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
