/**
 * Networks that store heat, for the tests, written short.
 * @module
 */
import type { HeatStore, Load } from "../../src/conductor.js";
import type { NetworkDescription } from "../../src/network/description.js";
import { network, type Row } from "./networks.js";

/** H = c·Tᵖ */
export function powerStore(coefficient: number, exponent: number): HeatStore {
  return {
    heatCapacity: (T) => coefficient * exponent * T ** (exponent - 1),
    enthalpy: (T) => coefficient * T ** exponent,
    powers: [{ coefficient, exponent }],
  };
}

/** The same, without saying that it is a power law, and with another constant. */
export function plainStore(coefficient: number, exponent: number): HeatStore {
  const { heatCapacity, enthalpy } = powerStore(coefficient, exponent);
  return { heatCapacity, enthalpy: (T) => enthalpy(T) - 3 * coefficient };
}

/**
 * A network of power laws whose nodes store heat.
 * @param stores - by node, [c, p] of H = c·Tᵖ
 */
export function storing(
  fixed: Record<string, number>,
  loads: Record<string, number>,
  stores: Record<string, readonly [coefficient: number, exponent: number] | HeatStore>,
  rows: readonly Row[],
): NetworkDescription {
  const bare = network(fixed, loads, rows);
  return {
    ...bare,
    nodes: bare.nodes.map((node) => {
      const store = stores[node.name];
      if (store === undefined) return node;
      return { ...node, store: "enthalpy" in store ? store : powerStore(...store) };
    }),
  };
}

/** A die that a particle hits, on pads and bonds in a box: ten orders of magnitude of time. */
export const hitDie = storing(
  { stage: 0.1 },
  { chip: 2e-9, "far chip": 1e-9, plating: 1e-9 },
  {
    hit: [2e-12, 4],
    chip: [2e-9, 4],
    "far chip": [5e-9, 4],
    "pad electrons": [3e-11, 2],
    bonds: [1e-10, 2],
    plating: [1e-8, 2],
    box: [2e-3, 2],
    plate: [2e-1, 2],
  },
  [
    ["hit", "chip", 3e-2, 4],
    ["chip", "far chip", 1e-2, 4],
    ["chip", "pad", 3e-4, 4],
    ["far chip", "pad", 1e-4, 4],
    ["pad", "pad electrons", 2e-2, 5],
    ["pad electrons", "bonds", 2e-6, 2],
    ["bonds", "plating", 2e-6, 2],
    ["plating", "box", 1e-4, 2],
    ["far chip", "box", 1e-5, 4],
    ["box", "plate", 1e-4, 3],
    ["plate", "stage", 1e-4, 2],
  ],
);

/** P + s·(T − T₀), a load that depends on temperature. */
export function linearLoad(power: number, slope: number, at: number): Load {
  return { power: (T) => power + slope * (T - at), slope: () => slope };
}
