/**
 * A heat load: watts, and what they were made of.
 * @module
 */
import type { Provenance } from "../provenance.js";

/** Heat that enters a node. */
export interface HeatLoad {
  /** As it stands in the budget. */
  readonly name: string;
  /** [W] */
  readonly power: number;
  /** The numbers it was made of. */
  readonly provenance: readonly Provenance[];
  /** Figures on the way, by name with unit: `fraction dissipated`, `rate [1/s]`. */
  readonly details: Readonly<Record<string, number>>;
}

/** Sum of loads [W]. */
export function totalPower(loads: readonly HeatLoad[]): number {
  return loads.reduce((sum, { power }) => sum + power, 0);
}
