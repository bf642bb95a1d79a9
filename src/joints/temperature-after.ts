/**
 * Temperature of a heat store after it absorbed energy.
 * @module
 */
import type { HeatStore } from "../conductor.js";
import { enthalpyLaw } from "../numerics/temperature-law.js";
import { formatNumber } from "../units/format.js";

/** No store is solid from here on [K]. */
const hottest = 1e5;
/** A store counts as empty here [K]. */
const coldest = 1e-9;

/**
 * The temperature T of a heat store after an energy E went in at once: H(T) = H(start) + E.
 *
 * Not E/C: where C rises as T³, a pulse that warms a die by half does so with a third of what E/C gives.
 * In closed form where H is one power; else by Newton's method, to the last digits.
 * @param start - [K]
 * @param energy - [J]; negative when energy is taken out
 * @throws RangeError when start or energy is no number, or more is taken out than there is
 * @example temperatureAfter(givenHeatStore({ heatCapacity: 1e-9, at: 0.1, exponent: 1 }), 0.1, 1.5e-10)
 *   // 0.2
 */
export function temperatureAfter(store: HeatStore, start: number, energy: number): number {
  if (!(start > 0 && Number.isFinite(start))) {
    throw new RangeError(`temperatureAfter: expected a start in kelvin above 0, got ${start}`);
  }
  if (!Number.isFinite(energy)) {
    throw new RangeError(`temperatureAfter: expected an energy in joules, got ${energy}`);
  }
  if (energy === 0) return start;
  const law = enthalpyLaw(store);
  const after = law.temperature(law.value(start) + energy, start);
  if (after > coldest && after < hottest) return after;
  if (energy > 0) {
    throw new RangeError(
      `temperatureAfter: ${formatNumber(energy, 3)} J would heat the store above ${hottest} K`,
    );
  }
  const there = store.enthalpy(start) - store.enthalpy(coldest);
  throw new RangeError(
    `temperatureAfter: ${formatNumber(-energy, 3)} J were taken out of a store that holds ` +
      `${formatNumber(there, 3)} J at ${formatNumber(start, 4)} K`,
  );
}
