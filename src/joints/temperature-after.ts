/**
 * Temperature of a heat store after it absorbed energy.
 * @module
 */
import type { HeatStore } from "../conductor.js";
import { root } from "../numerics/root.js";
import { formatNumber } from "../units/format.js";

/** Highest temperature that is searched [K]; no store is solid there. */
const hottest = 1e5;
/** Lowest temperature that is searched [K]; a store counts as empty there. */
const coldest = 1e-9;

/**
 * The temperature T of a heat store after an energy E went in at once: H(T) = H(start) + E.
 *
 * Not E/C: where C rises as T³, a pulse that warms a die by half does so with a third of what E/C gives.
 * In closed form where H is one power, or γT²/2 + βT⁴/4; else by bisection, to the last digit.
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
  return fromPowers(store, start, energy) ?? search(store, start, energy);
}

/** The answer in closed form, where the store's powers have one and hold at it. */
function fromPowers(store: HeatStore, start: number, energy: number): number | undefined {
  const { powers, powersUpTo = Number.POSITIVE_INFINITY } = store;
  if (!powers || start > powersUpTo) return undefined;
  let after: number | undefined;
  if (powers.length === 1) {
    const { coefficient, exponent } = powers[0]!;
    after = (start ** exponent + energy / coefficient) ** (1 / exponent);
  } else if (powers.length === 2) {
    const square = powers.find((p) => p.exponent === 2)?.coefficient;
    const fourth = powers.find((p) => p.exponent === 4)?.coefficient;
    if (square === undefined || fourth === undefined) return undefined;
    const target = (square + fourth * start ** 2) * start ** 2 + energy;
    after = Math.sqrt((2 * target) / (square + Math.sqrt(square ** 2 + 4 * fourth * target)));
  }
  // Not a number when more was taken out than there is: `search` throws the error.
  return after !== undefined && after > 0 && after <= powersUpTo ? after : undefined;
}

function search(store: HeatStore, start: number, energy: number): number {
  const target = store.enthalpy(start) + energy;
  const excess = (T: number) => store.enthalpy(T) - target;
  const factor = energy > 0 ? 2 : 0.5;
  for (let T = start; T > coldest && T < hottest; T *= factor) {
    if (energy * excess(factor * T) >= 0) return root(excess, T, factor * T);
  }
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
